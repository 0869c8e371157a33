//! Parts counted by standing: a row of several alike is a set and counts once, so that sixteen pins do not outweigh a top.

use std::collections::BTreeMap;

use crate::fields::Row;
use crate::record::{Part, Standing};

/// How many parts have each standing; a set counts once.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Standings {
    counts: BTreeMap<Standing, u32>,
    sets: u32,
}

impl Standings {
    /// The parts of one standing.
    pub fn of(&self, standing: Standing) -> u32 {
        self.counts.get(&standing).copied().unwrap_or(0)
    }

    /// The parts that the piece has today: neither removed nor missing.
    pub fn present(&self) -> u32 {
        let absent = [Standing::Removed, Standing::Missing];
        self.counts.iter().filter(|(standing, _)| !absent.contains(standing)).map(|(_, count)| count).sum()
    }

    /// How many of the parts that the piece has today are sets.
    pub fn sets(&self) -> u32 {
        self.sets
    }

    /// Standings that occur, in the order of their meaning, with their counts.
    pub fn iter(&self) -> impl Iterator<Item = (Standing, u32)> + '_ {
        self.counts.iter().map(|(standing, count)| (*standing, *count))
    }
}

/// Counts parts by standing; not known counts as not known, never as original.
pub(in crate::derive) fn standings(parts: &[Row<Part>]) -> Standings {
    let mut found = Standings::default();
    for part in parts {
        *found.counts.entry(part.standing.value).or_insert(0) += 1;
        found.sets += u32::from(part.present() && part.how_many() > 1);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;

    #[test]
    fn a_set_counts_once_and_what_is_gone_is_not_present() {
        let found = facts(
            "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }, \
             { id = \"b\", name = \"Pins\", standing = \"new\", count = 16 }, \
             { id = \"c\", name = \"Knobs\", standing = \"missing\", count = 2 }]",
            "name = \"Bench\"",
        )
        .standings;
        assert_eq!((found.of(Standing::Original), found.of(Standing::New)), (1, 1));
        assert_eq!((found.present(), found.sets()), (2, 1));
    }
}
