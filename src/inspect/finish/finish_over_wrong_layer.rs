//! A finish on a layer that may not bear it.

use crate::derive::compatibility::{Incompatibility, Unmet};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "finish-over-wrong-layer",
    rank: Rank::Doubt,
    why: "A coat on a layer that it cannot hold on, or that had not dried, peels, crawls or stays soft, and does so at the buyer's.",
    fix: "Record what was done between the two, or say with `why` what spoke for it; where nothing was done, watch the surface before it leaves.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for found in facts.doubts.incompatible.iter().filter(|found| found.unmet != Unmet::Untried) {
            let Some(applied) = &found.step.apply else { continue };
            seen.push(case.at(&CODE, &applied.span, message(found)).help(help(found)));
        }
    }
}

/// What is wrong, with the table's own sentence.
fn message(found: &Incompatibility) -> String {
    let Incompatibility { over, under, .. } = found;
    let (over, under) = (over.to_lowercase(), under.to_lowercase());
    let wrong = match found.unmet {
        Unmet::Forbidden => format!("{over} lies on {under}"),
        Unmet::NotDewaxed => format!("{over} lies on {under}, which is not said to be free of wax"),
        Unmet::NotCleaned => format!("{over} lies on {under}, and nothing was washed off"),
        Unmet::NotSealed => format!("{over} lies on {under} without a barrier coat"),
        Unmet::NotDulled => format!("{over} lies on {under}, and nothing was dulled"),
        Unmet::NotDry { most, least } => {
            format!(
                "{over} was laid on {under} after at most {most} hours, and that takes {least} to dry at the least"
            )
        }
        Unmet::NotCured { most, least } => {
            format!(
                "{over} was laid on {under} after at most {most} days, and that takes {least} to cure at the least"
            )
        }
        Unmet::Untried => format!("{over} lies on {under} untried"),
    };
    format!("{wrong} ({})", found.why.trim_end_matches('.'))
}

fn help(found: &Incompatibility) -> &'static str {
    match found.unmet {
        Unmet::NotCleaned => "add the `clean` step between, or say with `why` what spoke for it",
        Unmet::NotDulled => "add the `abrade` step between, or say with `why` what spoke for it",
        Unmet::NotDry { .. } | Unmet::NotCured { .. } => "correct a date, or say with `why` how it was dried",
        Unmet::NotDewaxed => "write \"dewaxed-shellac\" if it is, or say with `why` what spoke for it",
        Unmet::Forbidden | Unmet::NotSealed | Unmet::Untried => {
            "correct the step, add what lies between, or say with `why` what spoke for it"
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn laid(found: &str, steps: &str) -> String {
        sees(&RULE, &format!("surface = [{{ found = \"{found}\", steps = [{steps}] }}]"))
    }

    #[test]
    fn varnish_on_wax() {
        assert_eq!(
            laid("paste-wax", "{ apply = \"oil-polyurethane\" }"),
            "1: polyurethane varnish (oil-based) lies on paste wax, and nothing was washed off (Wax stops a coat from \
             holding: wash it off several times with white spirit or naphtha, let it dry, seal with dewaxed shellac and \
             do not sand through the seal) [add the `clean` step between, or say with `why` what spoke for it]"
        );
        assert_eq!(laid("paste-wax", "{ clean = \"white spirit\" }, { apply = \"oil-polyurethane\" }"), "");
    }

    #[test]
    fn a_film_on_oil_that_has_not_cured() {
        let oil = |on: &str| {
            laid(
                "bare-wood",
                &format!("{{ on = 2026-03-01, apply = \"tung-oil\" }}, {{ on = {on}, apply = \"shellac\" }}"),
            )
        };
        assert_eq!(oil("2026-03-02"), "", "no ruling on tung oil says more than the general one");
        let oil = |on: &str| {
            laid(
                "bare-wood",
                &format!(
                    "{{ on = 2026-03-01, apply = \"boiled-linseed-oil\" }}, {{ on = {on}, apply = \"shellac\" }}"
                ),
            )
        };
        assert!(
            oil("2026-03-14").contains("after at most 13.5 days, and that takes 14 to cure at the least")
        );
        assert_eq!(oil("2026-03-15"), "");
    }

    #[test]
    fn a_reason_settles_it() {
        assert_ne!(laid("shellac", "{ apply = \"water-polyurethane\" }"), "");
        assert_eq!(laid("shellac", "{ apply = \"water-polyurethane\", why = \"three trials held\" }"), "");
        assert_eq!(laid("dewaxed-shellac", "{ apply = \"water-polyurethane\" }"), "");
        assert_eq!(laid("unknown", "{ apply = \"water-polyurethane\" }"), "");
    }
}
