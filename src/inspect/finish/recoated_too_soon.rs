//! A coat laid before the one below it can have been ready.

use crate::derive::compatibility::Untimely;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "recoated-too-soon",
    rank: Rank::Doubt,
    why: "A coat on one that has not dried wrinkles, stays soft and keeps the solvent in, and the days of hardening on the care sheet would be too early.",
    fix: "Correct the date or the hours, or the times of the tin if its label says otherwise.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for timing in &facts.doubts.untimely {
            let Untimely::TooSoon { least } = timing.fault else { continue };
            let step = &timing.step;
            let says = if timing.label { "the tin says" } else { "such a finish takes" };
            let most = timing.waited.high;
            let (span, message) = match (timing.step.is(&timing.after), &step.every_hours, &step.on) {
                (true, Some(every), _) => (
                    &every.span,
                    format!("coats follow each other after {most} hours, and {says} {least} at the least"),
                ),
                (false, _, Some(on)) => (
                    &on.span,
                    format!(
                        "at most {most} hours lie between this coat and the one before, and {says} {least} at the least"
                    ),
                ),
                _ => continue,
            };
            seen.push(
                case.at(&CODE, span, message).help("correct it, or the tin's `recoat-hours` by its label"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn coats(steps: &str) -> String {
        let tin = "#- workshop.toml\nname = \"Bench\"\ntin = [{ id = \"satin\", is = \"oil-polyurethane\", recoat-hours = [6, 24] }]";
        sees(&RULE, &format!("surface = [{{ steps = [{steps}] }}]\n{tin}"))
    }

    #[test]
    fn coats_of_one_step() {
        assert_eq!(
            coats("{ apply = \"tin:satin\", coats = 3, every-hours = 5 }"),
            "1: coats follow each other after 5 hours, and the tin says 6 at the least \
             [correct it, or the tin's `recoat-hours` by its label]"
        );
        assert_eq!(coats("{ apply = \"tin:satin\", coats = 3, every-hours = 6 }"), "");
    }

    #[test]
    fn coats_of_two_steps() {
        let two = |on: &str| {
            let oil = |on: &str| format!("{{ on = {on}, apply = \"raw-linseed-oil\" }}");
            coats(&format!("{}, {}", oil("2026-03-10"), oil(on)))
        };
        assert_eq!(
            two("2026-03-12"),
            "1: at most 60 hours lie between this coat and the one before, and such a finish takes 72 at the least \
             [correct it, or the tin's `recoat-hours` by its label]"
        );
        assert_eq!(two("2026-03-13"), "");
    }
}
