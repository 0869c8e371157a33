//! Parts counted by standing.

use std::collections::BTreeMap;

use crate::fields::Row;
use crate::record::{Part, Standing};

/// How many parts have each standing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Standings {
    counts: BTreeMap<Standing, u32>,
}

impl Standings {
    /// The parts of one standing; each row of several alike counts as many as it says.
    pub fn of(&self, standing: Standing) -> u32 {
        self.counts.get(&standing).copied().unwrap_or(0)
    }

    /// The parts that the piece has today: neither removed nor missing.
    pub fn present(&self) -> u32 {
        let absent = [Standing::Removed, Standing::Missing];
        self.counts.iter().filter(|(standing, _)| !absent.contains(standing)).map(|(_, count)| count).sum()
    }

    /// Standings that occur, in the order of their meaning, with their counts.
    pub fn iter(&self) -> impl Iterator<Item = (Standing, u32)> + '_ {
        self.counts.iter().map(|(standing, count)| (*standing, *count))
    }
}

/// Counts parts by standing; not known counts as not known, never as original.
pub(in crate::derive) fn standings(parts: &[Row<Part>]) -> Standings {
    let mut counts = BTreeMap::new();
    for part in parts {
        *counts.entry(part.standing.value).or_insert(0) += part.how_many();
    }
    Standings { counts }
}
