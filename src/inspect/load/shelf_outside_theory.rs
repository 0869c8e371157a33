//! A shelf for which no load can be reckoned.

use crate::derive::{NoLoad, ShelfFacts};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "shelf-outside-theory",
    rank: Rank::Hint,
    why: "The reckoning knows a shelf that bends between two ends; of any other the care sheet says only that it says nothing.",
    fix: "Write `load` with the kilograms that the workshop answers for, or leave the shelf out of `[use]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for ShelfFacts { shelf, capacity, .. } in &case.facts.shelves {
        let (Some(Err(refusal)), None) = (capacity, &shelf.load) else { continue };
        // What is missing is asked for by other rules, or not known at all.
        if !matches!(refusal, NoLoad::Missing(_)) {
            let message = format!("no load is reckoned for the shelf `{}`: {refusal}", shelf.part.0);
            let help = "write `load = 10` with the kilograms you answer for, or leave it out of `shelves`";
            seen.push(case.at(&CODE, &shelf.part.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn shelf(keys: &str, size: &str) -> String {
        let part = format!(
            "part = [{{ id = \"s\", name = \"S\", standing = \"new\", build = \"solid\", timber = \"european-oak\", size = {size} }}]"
        );
        sees(&RULE, &format!("use = {{ shelves = [{{ part = \"s\", {keys} }}] }}\n{part}"))
    }

    const BOARD: &str = "{ length = 200, width = 200, thick = 20 }";

    #[test]
    fn held_at_one_end_or_short_and_thick() {
        assert_eq!(
            shelf("ends = \"one-end\"", BOARD),
            "1: no load is reckoned for the shelf `s`: it is held at one end alone, and there the fixing decides, \
             which is not reckoned here \
             [write `load = 10` with the kilograms you answer for, or leave it out of `shelves`]"
        );
        assert!(shelf("span = 199", BOARD).contains("so short for its thickness"));
    }

    #[test]
    fn ten_times_as_long_as_thick_or_answered_for() {
        assert_eq!(shelf("span = 200", BOARD), "");
        assert_eq!(shelf("ends = \"one-end\", load = 5", BOARD), "");
        assert_eq!(shelf("ends = \"supported\"", "{ length = 900 }"), "");
    }
}
