//! Parts counted by standing: a row of several alike is a set and counts once, so that sixteen pins do not outweigh a top.

use std::collections::BTreeMap;

use crate::fields::{Row, Said};
use crate::record::{Fixing, Part, PartId, Patch, Record, Standing};

/// What a part is to the piece: not known where its row contradicts itself, so that nobody reads too much from it.
pub fn standing_of(part: &Part) -> Standing {
    let standing = part.standing.value;
    let later = part.instead_of.is_some() || part.since.is_some();
    let ours = part.from_stock.is_some();
    match standing {
        Standing::Original if later || ours => Standing::Unknown,
        Standing::OldRepair | Standing::Later if ours => Standing::Unknown,
        standing => standing,
    }
}

/// The same of fixings.
pub fn standing_of_fixing(fixing: &Fixing) -> Standing {
    unless_replacing(fixing.standing.value, fixing.instead_of.is_some())
}

/// The same of a patch.
pub fn standing_of_patch(patch: &Patch) -> Standing {
    unless_replacing(patch.standing.value, patch.instead_of.is_some())
}

fn unless_replacing(standing: Standing, replaces: bool) -> Standing {
    if standing == Standing::Original && replaces { Standing::Unknown } else { standing }
}

/// Whether everything that is told of these parts is history, as each of them was taken away.
pub fn taken_away(record: &Record, parts: &[Said<PartId>]) -> bool {
    let gone = |id: &Said<PartId>| {
        let mut named = record.parts.iter().filter(|part| part.id.value == id.value);
        named.any(|part| part.standing.value == Standing::Removed)
    };
    !parts.is_empty() && parts.iter().all(gone)
}

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
        *found.counts.entry(standing_of(part)).or_insert(0) += 1;
        found.sets += u32::from(part.present() && part.how_many() > 1);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::{facts, folder};

    #[test]
    fn an_original_part_in_place_of_another_is_not_known() {
        let of = |keys: &str| {
            let record = format!("part = [{{ id = \"a\", name = \"Top\", {keys} }}]");
            let folder = folder(&record, "");
            standing_of(&folder.pieces[0].record.as_ref().expect("it was read").parts[0])
        };
        assert_eq!(of("standing = \"original\""), Standing::Original);
        assert_eq!(of("standing = \"original\", instead-of = \"a lost top\""), Standing::Unknown);
        assert_eq!(of("standing = \"original\", since = \"1950\""), Standing::Unknown);
        assert_eq!(of("standing = \"later\", from-stock = \"oak\""), Standing::Unknown);
        assert_eq!(of("standing = \"new\", from-stock = \"oak\""), Standing::New);
    }

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
