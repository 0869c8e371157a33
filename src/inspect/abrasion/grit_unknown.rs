//! A grade of abrasive that neither scale has.

use crate::derive::abrasion::{GrainSize, nearest};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "grit-unknown",
    rank: Rank::Doubt,
    why: "Without the grade its grain cannot be compared, and the papers would print a grade that no maker sells.",
    fix: "Write `P` and the number for European grades, `CAMI` and the number for American ones, or name the pad, wool or powder.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for graded in &facts.grades {
            if graded.grain != GrainSize::NoGrade {
                continue;
            }
            let grade = &graded.written;
            let near = nearest(&grade.0, &case.trade.abrasives);
            let numbers = grade.0.split(|c: char| !c.is_ascii_digit()).filter(|number| !number.is_empty());
            let numbers: Vec<&str> = numbers.take(12).collect();
            let help = match near.as_slice() {
                _ if numbers.len() > 1 => {
                    format!("write each grade by itself, such as [\"P{}\"]", numbers.join("\", \"P"))
                }
                [] => "write something like \"P120\", \"CAMI 120\" or \"grey pad\"".to_owned(),
                near => format!("perhaps \"{}\"", near.join("\" or \"")),
            };
            let message = format!("`{}` is no grade of the P or the CAMI scale", grade.0);
            seen.push(case.at(&CODE, &grade.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn abraded(grade: &str) -> String {
        sees(&RULE, &format!("surface = [{{ steps = [{{ abrade = \"{grade}\" }}] }}]"))
    }

    #[test]
    fn a_number_that_no_scale_has() {
        assert_eq!(
            abraded("P130"),
            "1: `P130` is no grade of the P or the CAMI scale [perhaps \"P120\" or \"P150\"]"
        );
        assert_eq!(
            abraded("fine"),
            "1: `fine` is no grade of the P or the CAMI scale [write something like \"P120\", \"CAMI 120\" or \"grey pad\"]"
        );
        assert_eq!(
            abraded("180-240"),
            "1: `180-240` is no grade of the P or the CAMI scale \
             [write each grade by itself, such as [\"P180\", \"P240\"]]"
        );
        for grade in ["P120", "CAMI 120", "120", "grey pad", "0000 wool", "unknown"] {
            assert_eq!(abraded(grade), "", "{grade}");
        }
    }

    #[test]
    fn between_coats_too() {
        let coats = |grade: &str| {
            sees(
                &RULE,
                &format!(
                    "surface = [{{ steps = [{{ apply = \"shellac\", coats = 2, abrade-between = \"{grade}\" }}] }}]"
                ),
            )
        };
        assert_ne!(coats("P330"), "");
        assert_eq!(coats("P320"), "");
    }
}
