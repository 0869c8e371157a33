//! A grade so much finer than the one before that scratches are likely left.

use super::stride::finer;
use crate::derive::abrasion::Stride;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "grit-jump",
    rank: Rank::Doubt,
    why: "A fine grade takes out the scratches of the one before only where its grain is not much smaller; what is left shows under stain and finish.",
    fix: "Record the grade between, if it was used; grades such as P80, P120, P180, P240 follow each other well.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    finer(case, seen, &CODE, "scratches are likely left", |stride| match stride {
        Stride::Jump(ratio) => Some(ratio),
        _ => None,
    });
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn abraded(grades: &str) -> String {
        sees(&RULE, &format!("surface = [{{ steps = [{{ abrade = [{grades}] }}] }}]"))
    }

    #[test]
    fn from_80_straight_to_180() {
        assert_eq!(
            abraded("\"P80\", \"P180\""),
            "1: `P180` is 2.5 times finer than `P80`: scratches are likely left [add the grade between, or correct the order]"
        );
        assert_eq!(abraded("\"P80\", \"P150\""), "", "2.01 times is wide and no jump");
        assert_eq!(abraded("\"P80\", \"P120\", \"P180\""), "");
    }

    #[test]
    fn scales_are_told_apart() {
        // P320 is 46.2 µm, CAMI 400 is 23 µm and P400 is 35 µm.
        assert_eq!(abraded("\"P320\", \"CAMI 500\"").matches("2.3 times").count(), 1);
        assert_eq!(abraded("\"P320\", \"P500\""), "");
        assert_eq!(abraded("\"P320\", \"500\""), "", "it may be P500");
    }
}
