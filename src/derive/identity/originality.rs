//! How much of a piece is as first made: by count of parts, and by mass where that is known.

use std::collections::BTreeMap;

use crate::derive::load::covered::covered;
use crate::derive::load::part::PartFacts;
use crate::record::Standing;
use crate::trade::Trade;
use crate::unit::MassSpan;

/// The parts of one standing.
#[derive(Debug, Clone, PartialEq)]
pub struct StandingShare {
    /// The standing; not known counts as not known.
    pub standing: Standing,
    /// How many parts; parts alike count once.
    pub count: u32,
    /// Whole percent of all parts there are; all rows together make 100.
    pub count_percent: u32,
    /// What those of them weigh whose mass is known.
    pub mass: MassSpan,
    /// Whole percent of all mass that is known; all rows together make 100. `None` where too little mass is known to
    /// speak of the whole.
    pub mass_percent: Option<u32>,
}

/// How much of a piece is as first made.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Originality {
    /// The standings of the parts the piece has today, in the order of their meaning.
    pub shares: Vec<StandingShare>,
    /// How many parts it has; parts alike count once.
    pub parts: u32,
    /// How many of them have no mass here, as their size or material is not known.
    pub unweighed: u32,
}

/// Whole percentages of amounts that add up to exactly 100: the largest remainders are rounded up.
///
/// Amounts below zero or that are no number count as nothing. Where remainders are equal the earlier amount is rounded
/// up. `None` where the amounts come to nothing.
///
/// # Source
/// The method of largest remainders (Hare quota), as used for sharing out seats.
pub fn percentages(amounts: &[f64]) -> Option<Vec<u32>> {
    let amounts: Vec<f64> =
        amounts.iter().map(|amount| if amount.is_finite() { amount.max(0.0) } else { 0.0 }).collect();
    let whole: f64 = amounts.iter().sum();
    if !(whole > 0.0 && whole.is_finite()) {
        return None;
    }
    let exact: Vec<f64> = amounts.iter().map(|amount| amount / whole * 100.0).collect();
    let mut percent: Vec<u32> = exact.iter().map(|exact| exact.floor() as u32).collect();
    let left = 100_u32.saturating_sub(percent.iter().sum());
    let mut order: Vec<usize> = (0..exact.len()).collect();
    order.sort_by(|a, b| exact[*b].fract().total_cmp(&exact[*a].fract()));
    for place in order.into_iter().take(left as usize) {
        percent[place] += 1;
    }
    Some(percent)
}

/// Shares out the parts that the piece has today.
pub(in crate::derive) fn originality(parts: &[PartFacts], trade: &Trade) -> Originality {
    let mut rows: BTreeMap<Standing, (u32, MassSpan)> = BTreeMap::new();
    let mut unweighed = 0;
    for PartFacts { part, mass, .. } in parts.iter().filter(|facts| facts.part.present()) {
        let row = rows.entry(part.standing.value).or_default();
        row.0 += 1;
        match mass {
            Ok(mass) => row.1 = row.1 + mass.all,
            Err(_) => unweighed += 1,
        }
    }
    let counts: Vec<f64> = rows.values().map(|(count, _)| f64::from(*count)).collect();
    let weights: Vec<f64> = rows.values().map(|(_, mass)| mass.middle().kg()).collect();
    let count_percent = percentages(&counts).unwrap_or_default();
    let mass_percent = covered(parts, trade).ok().and_then(|()| percentages(&weights));
    let share = |(place, (standing, (count, mass))): (usize, (&Standing, &(u32, MassSpan)))| StandingShare {
        standing: *standing,
        count: *count,
        count_percent: count_percent[place],
        mass: *mass,
        mass_percent: mass_percent.as_ref().map(|percent| percent[place]),
    };
    Originality {
        shares: rows.iter().enumerate().map(share).collect(),
        parts: rows.values().map(|(count, _)| count).sum(),
        unweighed,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;
    use proptest::prelude::*;

    #[test]
    fn the_largest_remainder_is_rounded_up() {
        assert_eq!(percentages(&[1.0, 1.0, 1.0]), Some(vec![34, 33, 33]));
        assert_eq!(percentages(&[2.0, 1.0]), Some(vec![67, 33]));
        assert_eq!(percentages(&[996.0, 4.0]), Some(vec![100, 0]));
        assert_eq!(percentages(&[0.0, f64::NAN, -3.0]), None);
        assert_eq!(percentages(&[]), None);
    }

    #[test]
    fn by_count_and_by_mass() {
        let part = |id: &str, standing: &str, keys: &str| {
            format!("[[part]]\nid = \"{id}\"\nname = \"{id}\"\nstanding = \"{standing}\"\n{keys}\n")
        };
        let board = |length: u32| {
            format!("timber = \"european-oak\"\nsize = {{ length = {length}, width = 100, thick = 20 }}")
        };
        let known = part("a", "original", &(board(300) + "\ncount = 2"))
            + &part("b", "new", &board(200))
            + &part("c", "unknown", &board(200))
            + &part("e", "missing", &board(900))
            + &part("f", "removed", "");
        let found = facts(&known, "name = \"Bench\"").originality;
        assert_eq!((found.parts, found.unweighed), (3, 0));
        let row = |row: &StandingShare| (row.standing, row.count, row.count_percent, row.mass_percent);
        let rows: Vec<_> = found.shares.iter().map(row).collect();
        assert_eq!(
            rows,
            [
                // The two alike count once, and weigh twice.
                (Standing::Original, 1, 34, Some(60)),
                (Standing::New, 1, 33, Some(20)),
                (Standing::Unknown, 1, 33, Some(20)),
            ]
        );
        // A fourth part of unknown size may be a quarter of it, too much to speak of the mass of the whole.
        let partly = known + &part("d", "original", "timber = \"european-oak\"");
        let found = facts(&partly, "name = \"Bench\"").originality;
        assert_eq!((found.parts, found.unweighed), (4, 1));
        let rows: Vec<_> = found.shares.iter().map(row).collect();
        assert_eq!(rows[0], (Standing::Original, 2, 50, None));
    }

    #[test]
    fn without_any_mass_there_is_none_by_mass() {
        let found =
            facts("part = [{ id = \"a\", name = \"A\", standing = \"original\" }]", "name = \"Bench\"");
        assert_eq!(found.originality.shares[0].mass_percent, None);
        assert_eq!(found.originality.shares[0].count_percent, 100);
        assert_eq!(facts("", "name = \"Bench\"").originality, Originality::default());
    }

    proptest! {
        #[test]
        fn percentages_add_up_to_a_hundred_and_stray_by_less_than_one(
            amounts in prop::collection::vec(0.0..1000.0_f64, 1..9)
        ) {
            let whole: f64 = amounts.iter().sum();
            prop_assume!(whole > 0.0);
            let percent = percentages(&amounts).expect("something is there");
            prop_assert_eq!(percent.iter().sum::<u32>(), 100);
            for (amount, percent) in amounts.iter().zip(percent) {
                prop_assert!((amount / whole * 100.0 - f64::from(percent)).abs() < 1.0);
            }
        }
    }
}
