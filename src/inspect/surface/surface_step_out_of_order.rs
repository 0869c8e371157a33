//! Surface steps whose dates go back.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "surface-step-out-of-order",
    rank: Rank::Doubt,
    why: "The layers are worked out in the order in which the steps are written, so that order must be the true one.",
    fix: "Put the steps in the order in which they were done, or correct the date.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        let dates: Vec<_> = surface.steps.iter().filter_map(|step| step.on.as_ref()).collect();
        for pair in dates.windows(2).filter(|pair| pair[1].value < pair[0].value) {
            let message = format!("a step of {} is written after one of {}", pair[1].value, pair[0].value);
            let help = "put the steps in the order in which they were done, or correct the date";
            seen.push(case.at(&CODE, &pair[1].span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn steps(second: &str) -> String {
        let first = "{ on = 2026-03-12, abrade = \"P240\" }";
        sees(
            &RULE,
            &format!(
                "surface = [{{ steps = [{first}, {{ clean = \"a\" }}, {{ on = {second}, clean = \"b\" }}] }}]"
            ),
        )
    }

    #[test]
    fn one_day_back_is_seen_and_the_same_day_is_not() {
        assert_eq!(
            steps("2026-03-11"),
            "1: a step of 2026-03-11 is written after one of 2026-03-12 \
             [put the steps in the order in which they were done, or correct the date]"
        );
        assert_eq!(steps("2026-03-12"), "");
    }
}
