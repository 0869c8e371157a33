//! An abrasive between coats that cuts deeper than a coat.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "coarse-between-coats",
    rank: Rank::Hint,
    why: "Scratches of a coarse grade show through the next coat, and edges are soon cut through to the colour.",
    fix: "Correct the grade; 220 to 320 suits most finishes.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for graded in &facts.grades {
            if !graded.harsh {
                continue;
            }
            let grade = &graded.written;
            let message = format!("`{}` between coats is coarser than P220", grade.0);
            seen.push(case.at(&CODE, &grade.span, message).help("220 to 320 suits most finishes"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn coats(grade: &str) -> String {
        sees(
            &RULE,
            &format!(
                "surface = [{{ steps = [{{ apply = \"shellac\", coats = 2, abrade-between = \"{grade}\" }}] }}]"
            ),
        )
    }

    #[test]
    fn a_grade_coarser_than_220() {
        assert_eq!(
            coats("P180"),
            "1: `P180` between coats is coarser than P220 [220 to 320 suits most finishes]"
        );
        assert_eq!(coats("P220"), "");
        assert_eq!(coats("CAMI 220"), "");
    }
}
