//! A coarser grade after a finer one.

use super::stride::strides;
use crate::derive::abrasion::Stride;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "grit-goes-back",
    rank: Rank::Doubt,
    why: "The coarser grade puts back the scratches that the finer one took out, so one of the two was not used, or not in this order.",
    fix: "Put the grades into the order they were used in; a new start after washing or staining is a step of its own.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for graded in &facts.grades {
            if graded.stride == Stride::Back {
                strides(case, graded, &CODE, "comes after the finer", "it puts scratches back", seen);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn steps(steps: &str) -> String {
        sees(&RULE, &format!("surface = [{{ steps = [{steps}] }}]"))
    }

    #[test]
    fn coarse_after_fine() {
        assert_eq!(
            steps("{ abrade = [\"P240\", \"P120\"] }"),
            "1: `P120` comes after the finer `P240`: it puts scratches back [add the grade between, or correct the order]"
        );
        assert_eq!(steps("{ abrade = [\"P120\", \"P240\"] }"), "");
        assert_eq!(steps("{ abrade = [\"P180\", \"P180\"] }"), "");
        assert_eq!(steps("{ abrade = \"P240\" }, { clean = \"water\" }, { abrade = \"P180\" }"), "");
    }
}
