//! An abrasive between coats that cuts deeper than a coat.

use super::grit_jump::written;
use super::{Case, Check, Rule};
use crate::diag::{Code, Diagnostic, Severity};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "coarse-between-coats",
    severity: Severity::Advice,
    why: "Scratches of a coarse grade show through the next coat, and edges are soon cut through to the colour.",
    fix: "Correct the grade; 220 to 320 suits most finishes.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for (surface, grades) in case.record.surfaces.iter().zip(&case.facts.abrasion) {
        for graded in grades {
            let Some(grade) = written(surface, graded.at).filter(|_| graded.harsh) else { continue };
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
