//! A coat laid later than its label allows without dulling, and nothing was dulled.

use crate::derive::compatibility::Untimely;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "recoat-window-missed",
    rank: Rank::Hint,
    why: "Past its window a film has closed, and the next coat holds on it only where it was dulled; otherwise it may come off in sheets.",
    fix: "Record the dulling with `abrade-between` or an `abrade` step, or correct the date or the hours.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for timing in &facts.doubts.untimely {
            let Untimely::TooLate { most } = timing.fault else { continue };
            let step = &timing.step;
            let least = timing.waited.low;
            let (span, message, help) = match (timing.step.is(&timing.after), &step.every_hours, &step.on) {
                (true, Some(every), _) => (
                    &every.span,
                    format!(
                        "coats follow each other after {least} hours without dulling, and the tin says within {most}"
                    ),
                    "add `abrade-between = \"P320\"`, or correct the hours",
                ),
                (false, _, Some(on)) => (
                    &on.span,
                    format!(
                        "at least {least} hours lie between this coat and the one before without dulling, and the tin says within {most}"
                    ),
                    "add the `abrade` step between, or correct the date",
                ),
                _ => continue,
            };
            seen.push(case.at(&CODE, span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn coats(steps: &str) -> String {
        let tin = "#- workshop.toml\nname = \"Bench\"\ntin = [{ id = \"satin\", is = \"oil-polyurethane\", recoat-within-hours = 72 }]";
        sees(&RULE, &format!("surface = [{{ steps = [{steps}] }}]\n{tin}"))
    }

    #[test]
    fn coats_of_one_step() {
        assert_eq!(
            coats("{ apply = \"tin:satin\", coats = 2, every-hours = 96 }"),
            "1: coats follow each other after 96 hours without dulling, and the tin says within 72 \
             [add `abrade-between = \"P320\"`, or correct the hours]"
        );
        assert_eq!(coats("{ apply = \"tin:satin\", coats = 2, every-hours = 72 }"), "");
        assert_eq!(
            coats("{ apply = \"tin:satin\", coats = 2, every-hours = 96, abrade-between = \"P320\" }"),
            ""
        );
    }

    #[test]
    fn coats_of_two_steps() {
        let two = |on: &str, between: &str| {
            coats(&format!(
                "{{ on = 2026-03-10, apply = \"tin:satin\" }}, {between} {{ on = {on}, apply = \"tin:satin\" }}"
            ))
        };
        assert_eq!(
            two("2026-03-14", ""),
            "1: at least 84 hours lie between this coat and the one before without dulling, and the tin says within 72 \
             [add the `abrade` step between, or correct the date]"
        );
        assert_eq!(two("2026-03-13", ""), "");
        assert_eq!(two("2026-03-14", "{ abrade = \"P320\" },"), "");
    }
}
