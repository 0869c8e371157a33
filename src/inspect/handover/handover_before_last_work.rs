//! A piece that left before its last work.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "handover-before-last-work",
    rank: Rank::Doubt,
    why: "The papers carry the day of handover, and work dated after it cannot have been in the piece that was sold.",
    fix: "Correct the day of handover, or the date of the work; what was done after it had left belongs in `[[after]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(on) = case.piece.handed_over() else { return };
    // What is said of a whole set may be of the pieces that had not left, which is asked of the set.
    let own = case.dated().filter(|dated| !case.piece.has_from_set(&dated.on.span));
    let last = own.max_by_key(|dated| dated.on.value);
    if let Some(last) = last.filter(|last| last.on.value > on) {
        let message = format!("handed over on {on}, before {} of {}", last.what, last.on.value);
        let help = "correct one of the two dates; what was done after it had left belongs in `[[after]]`";
        seen.push(case.at_handover(&CODE, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn handed_over(on: &str) -> String {
        let work = "work = [{ on = 2026-03-11, did = \"glued it\" }]";
        let step = "surface = [{ steps = [{ on = 2026-03-16, apply = \"shellac\" }] }]";
        sees(&RULE, &format!("handover = {{ on = {on} }}\n{work}\n{step}"))
    }

    #[test]
    fn the_day_of_the_last_coat_is_early_enough() {
        assert_eq!(
            handed_over("2026-03-15"),
            "1: handed over on 2026-03-15, before a surface step of 2026-03-16 \
             [correct one of the two dates; what was done after it had left belongs in `[[after]]`]"
        );
        assert_eq!(handed_over("2026-03-16"), "");
    }
}
