//! A finding that does not say how much it matters.

use crate::derive::all_is_well;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "finding-without-severity",
    rank: Rank::Hint,
    why: "A hairline and a broken leg read alike where nothing says which of them matters.",
    fix: "Say with `severity` one of `trace`, `minor`, `moderate`, `major` and `unknown`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let faults = case.record.findings.iter().filter(|finding| !all_is_well(&finding.seen, case.trade));
    for finding in faults.filter(|finding| finding.severity.is_none()) {
        let message = format!("finding `{}` does not say how much it matters", finding.id.0);
        let help = "add `severity = \"minor\"`, or `trace`, `moderate`, `major`, `unknown`";
        seen.push(case.at(&CODE, &finding.id.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn not_known_is_an_answer() {
        assert_eq!(
            sees(&RULE, "finding = [{ id = \"f1\", seen = \"split\" }]"),
            "1: finding `f1` does not say how much it matters \
             [add `severity = \"minor\"`, or `trace`, `moderate`, `major`, `unknown`]"
        );
        assert_eq!(sees(&RULE, "finding = [{ id = \"f1\", seen = \"split\", severity = \"unknown\" }]"), "");
    }
}
