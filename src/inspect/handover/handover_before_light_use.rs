//! A piece that left before a surface can have borne use.

use crate::derive::cure::Hardening;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "handover-before-light-use",
    rank: Rank::Doubt,
    why: "A finish that is used before it has set takes marks that do not come out, and the care sheet would print days that lie after the handover.",
    fix: "Correct the day of handover or the dates of the coats; or tell the buyer plainly until when it must be left alone.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(on) = case.piece.handed_over() else { return };
    for facts in &case.facts.surfaces {
        let Hardening::By(cure) = &facts.hardening else { continue };
        let ready = cure.light_use.days.first;
        if on < ready {
            let name = facts.surface.name.as_ref();
            let named = name.map_or_else(|| format!("surface {}", facts.number), |name| name.0.clone());
            let message =
                format!("handed over on {on}, and {named} bears light use from {ready} at the earliest");
            let help = format!("correct a date; no coat of it is ready before {ready}");
            seen.push(case.at_handover(&CODE, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn handed_over(on: &str, step: &str) -> String {
        let surface = format!("surface = [{{ name = \"Top\", steps = [{{ {step} }}] }}]");
        sees(&RULE, &format!("handover = {{ on = {on} }}\n{surface}"))
    }

    #[test]
    fn three_days_after_the_last_coat_of_varnish() {
        // oil-polyurethane in finish.toml bears light use after 3 to 7 days.
        let coats = "on = 2026-03-20, apply = \"oil-polyurethane\", coats = 2, every-hours = 24";
        assert_eq!(
            handed_over("2026-03-23", coats),
            "1: handed over on 2026-03-23, and Top bears light use from 2026-03-24 at the earliest \
             [correct a date; no coat of it is ready before 2026-03-24]"
        );
        assert_eq!(handed_over("2026-03-24", coats), "");
        assert_eq!(handed_over("2026-03-21", "apply = \"oil-polyurethane\""), "", "the coat has no date");
    }
}
