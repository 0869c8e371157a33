//! A finish on a layer that bears it sometimes, without a trial or a reason.

use crate::derive::compatibility::Unmet;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "finish-over-doubtful-layer",
    rank: Rank::Hint,
    why: "Some layers hold on each other only in some cases, and a trial on the piece is what tells; without one the buyer carries the risk.",
    fix: "Record the trial as a `test` step before it, or say with `why` what spoke for it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for facts in &case.facts.surfaces {
        for found in facts.doubts.incompatible.iter().filter(|found| found.unmet == Unmet::Untried) {
            let Some(applied) = &found.step.apply else { continue };
            let (over, under) = (found.over.to_lowercase(), found.under.to_lowercase());
            let why = found.why.trim_end_matches('.');
            let message = format!("{over} lies on {under} without a trial or a reason ({why})");
            let help = "add the trial as a `test` step before it, or say with `why` what spoke for it";
            seen.push(case.at(&CODE, &applied.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn waxed(steps: &str) -> String {
        sees(&RULE, &format!("surface = [{{ found = \"bare-wood\", steps = [{steps}] }}]"))
    }

    #[test]
    fn wax_on_bare_wood() {
        assert_eq!(
            waxed("{ apply = \"paste-wax\" }"),
            "1: paste wax lies on bare wood without a trial or a reason (Museum advice is against it, as the wax is nearly \
             impossible to remove; the trade does it, so tell the buyer) \
             [add the trial as a `test` step before it, or say with `why` what spoke for it]"
        );
        assert_eq!(waxed("{ apply = \"paste-wax\", why = \"as it was\" }"), "");
        assert_eq!(waxed("{ test = \"wax on the back\", result = \"good\" }, { apply = \"paste-wax\" }"), "");
        assert_eq!(waxed("{ apply = \"shellac\" }"), "");
    }
}
