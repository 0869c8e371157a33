//! How much of a piece is as first made: by count of parts, and by mass where that is known of nearly all of it.

use std::collections::BTreeMap;

use super::standing::standing_of;
use crate::derive::load::covered::{COVERAGE, covered};
use crate::derive::load::part::PartFacts;
use crate::record::{Record, Rest, Standing};
use crate::trade::Trade;
use crate::unit::MassSpan;

/// The parts of one standing.
#[derive(Debug, Clone, PartialEq)]
pub struct StandingShare {
    /// The standing; not known counts as not known.
    pub standing: Standing,
    /// How many parts; a set counts once.
    pub count: u32,
    /// Whole percent of all recorded parts there are, where the record says that the others are as first made.
    pub count_percent: Option<u32>,
    /// What those of them weigh whose mass is known.
    pub mass: MassSpan,
    /// Whole percent of all mass that is known, where that is nearly all of the piece.
    pub mass_percent: Option<u32>,
}

/// How much of a piece is as first made.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Originality {
    /// The standings of the parts the piece has today, in the order of their meaning.
    pub shares: Vec<StandingShare>,
    /// How many parts it has; a set counts once.
    pub parts: u32,
    /// How many of them have no mass here, as their size or material is not known.
    pub unweighed: u32,
    /// How much of the piece the parts with a mass make up at least, from 0 to 1; `None` where nobody can tell.
    pub covered: Option<f64>,
}

impl Originality {
    /// Whether shares by mass stand for the piece.
    pub fn is_weighed(&self) -> bool {
        self.covered.is_some_and(|covered| covered >= COVERAGE)
    }
}

/// An amount in whole percent of a whole. Equal amounts have equal percentages, and only the whole has a hundred; 0 is
/// less than one in a hundred.
///
/// `None` where there is no whole.
pub fn percent(amount: f64, whole: f64) -> Option<u32> {
    let exact = amount.max(0.0) / whole * 100.0;
    if !(whole > 0.0 && exact.is_finite()) {
        return None;
    }
    let most = if amount < whole { 99.0 } else { 100.0 };
    Some(if exact < 1.0 { 0 } else { exact.round().min(most) as u32 })
}

/// Shares out the parts that the piece has today.
pub(in crate::derive) fn originality(record: &Record, parts: &[PartFacts], trade: &Trade) -> Originality {
    let mut rows: BTreeMap<Standing, (u32, MassSpan)> = BTreeMap::new();
    let mut unweighed = 0;
    for PartFacts { part, mass, .. } in parts.iter().filter(|facts| facts.part.present()) {
        let row = rows.entry(standing_of(part)).or_default();
        row.0 += 1;
        match mass {
            Ok(mass) => row.1 = row.1 + mass.all,
            Err(_) => unweighed += 1,
        }
    }
    let recorded = covered(parts, trade).is_ok();
    let parts = rows.values().map(|(count, _)| count).sum();
    let known: MassSpan = rows.values().map(|(_, mass)| *mass).sum();
    let rest_is_original = record.rest.as_ref().is_some_and(|rest| rest.value == Rest::Original);
    let mut found = Originality { shares: Vec::new(), parts, unweighed, covered: None };
    found.covered = match &record.weighs {
        // Parts that weigh more than the piece cannot be shares of it.
        Some(scale) if known.low > scale.value => None,
        Some(scale) => Some((known.middle().kg() / scale.value.kg()).min(1.0)),
        None if !(rest_is_original && recorded) => None,
        None => Some(if unweighed == 0 { 1.0 } else { COVERAGE }),
    };
    let by_mass = found.is_weighed();
    let of_mass = |mass: MassSpan| percent(mass.middle().kg(), known.middle().kg());
    let share = |(standing, (count, mass)): (Standing, (u32, MassSpan))| StandingShare {
        standing,
        count,
        count_percent: percent(f64::from(count), f64::from(parts)).filter(|_| rest_is_original),
        mass,
        mass_percent: of_mass(mass).filter(|_| by_mass),
    };
    found.shares = rows.into_iter().map(share).collect();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;
    use proptest::prelude::*;

    #[test]
    fn only_the_whole_is_a_hundred() {
        assert_eq!(percent(1.0, 3.0), Some(33));
        assert_eq!(percent(996.0, 1000.0), Some(99));
        assert_eq!(percent(1000.0, 1000.0), Some(100));
        assert_eq!(percent(4.0, 1000.0), Some(0));
        assert_eq!((percent(1.0, 0.0), percent(f64::NAN, 0.0), percent(1.0, f64::NAN)), (None, None, None));
    }

    fn part(id: &str, standing: &str, keys: &str) -> String {
        format!("[[part]]\nid = \"{id}\"\nname = \"{id}\"\nstanding = \"{standing}\"\n{keys}\n")
    }

    fn board(length: u32) -> String {
        format!("timber = \"european-oak\"\nsize = {{ length = {length}, width = 100, thick = 20 }}")
    }

    type Row = (Standing, u32, Option<u32>, Option<u32>);

    fn rows(record: &str) -> Vec<Row> {
        let found = facts(record, "name = \"Bench\"").originality;
        let row = |row: &StandingShare| (row.standing, row.count, row.count_percent, row.mass_percent);
        found.shares.iter().map(row).collect()
    }

    #[test]
    fn a_set_counts_once_and_weighs_as_many() {
        let parts = part("a", "original", &(board(300) + "\ncount = 2"))
            + &part("b", "new", &board(200))
            + &part("c", "unknown", &board(200))
            + &part("e", "missing", &board(900))
            + &part("f", "removed", "");
        assert_eq!(
            rows(&format!("rest = \"original\"\n{parts}")),
            [
                (Standing::Original, 1, Some(33), Some(60)),
                (Standing::New, 1, Some(33), Some(20)),
                (Standing::Unknown, 1, Some(33), Some(20)),
            ]
        );
    }

    #[test]
    fn one_part_of_twenty_makes_no_share_of_the_piece() {
        let one = part("a", "original", &board(300));
        for rest in ["", "rest = \"not-looked-at\"\n", "rest = \"unknown\"\n"] {
            assert_eq!(rows(&format!("{rest}{one}")), [(Standing::Original, 1, None, None)], "{rest}");
        }
        let twenty: String = (0..22).map(|n| part(&format!("p{n}"), "original", "")).collect();
        let found = rows(&format!("rest = \"original\"\n{one}{twenty}"));
        assert_eq!(found, [(Standing::Original, 23, Some(100), None)]);
    }

    #[test]
    fn a_scale_tells_how_much_is_covered() {
        // 0.0006 m³ of oak: 0.36 to 0.42 kg.
        let one = part("a", "new", &board(300));
        let by_mass = |weighs: f64| rows(&format!("weighs = {weighs}\n{one}"))[0].3;
        assert_eq!((by_mass(0.4), by_mass(4.0), by_mass(0.2)), (Some(100), None, None));
    }

    #[test]
    fn without_any_part_there_is_nothing() {
        assert_eq!(facts("", "name = \"Bench\"").originality, Originality::default());
    }

    proptest! {
        #[test]
        fn percentages_stray_by_less_than_one_and_keep_their_order(amount in 0.0..1000.0_f64, more in 0.0..1000.0_f64) {
            let whole = amount + more;
            prop_assume!(whole > 0.0);
            let found = percent(amount, whole).expect("there is a whole");
            prop_assert!((amount / whole * 100.0 - f64::from(found)).abs() < 1.0 + 1e-9);
            prop_assert!(percent(whole, whole) == Some(100) && (found < 100 || more == 0.0));
        }
    }
}
