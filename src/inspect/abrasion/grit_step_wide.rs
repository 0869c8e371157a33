//! A grade rather much finer than the one before.

use super::stride::finer;
use crate::derive::abrasion::Stride;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "grit-step-wide",
    rank: Rank::Hint,
    why: "Between these two grades scratches may be left, which show under a stain; a strict hand puts one grade between.",
    fix: "Record the grade between, if it was used; otherwise look at the surface in raking light.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    finer(case, seen, &CODE, "scratches may be left", |stride| match stride {
        Stride::Wide(ratio) => Some(ratio),
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
    fn from_80_to_150() {
        assert_eq!(
            abraded("\"P80\", \"P150\""),
            "1: `P150` is 2.0 times finer than `P80`: scratches may be left [add the grade between, or correct the order]"
        );
        assert_eq!(abraded("\"P60\", \"P100\""), "", "1.66 times passes");
        assert_eq!(abraded("\"P80\", \"P180\""), "", "a jump is told by another rule");
    }
}
