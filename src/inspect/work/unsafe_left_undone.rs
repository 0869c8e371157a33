//! Structural or worsening damage left, and the buyer not cautioned.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::FindingSeverity;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unsafe-left-undone",
    rank: Rank::Doubt,
    why: "A finding of the weight `major` is structural, unsafe or getting worse, and whoever uses the piece must be warned.",
    fix: "Add a caution to `[use]`: what not to do, and where a competent person is needed.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    if record.r#use.as_ref().is_some_and(|r#use| !r#use.cautions.is_empty()) {
        return;
    }
    let major = |id: &str| {
        let weight = |finding: &crate::record::Finding| finding.severity.as_ref().map(|weight| weight.value);
        record
            .findings
            .iter()
            .any(|finding| finding.id.0 == id && weight(finding) == Some(FindingSeverity::Major))
    };
    for left in record.undone.iter().flat_map(|undone| undone.leaves.iter()).filter(|left| major(&left.0)) {
        let message = format!("finding `{}` is major and left, and the buyer is not cautioned", left.0);
        let help = "add\n[use]\ncautions = [\"…\"]";
        seen.push(case.at(&CODE, &left.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn left(severity: &str, more: &str) -> String {
        let undone = "undone = [{ what = \"the split\", leaves = \"f1\", why = \"too-worn\" }]";
        let finding = format!("finding = [{{ id = \"f1\", seen = \"split\", severity = \"{severity}\" }}]");
        sees(&RULE, &format!("{undone}\n{finding}\n{more}"))
    }

    #[test]
    fn major_damage_asks_for_a_caution() {
        assert_eq!(
            left("major", ""),
            "1: finding `f1` is major and left, and the buyer is not cautioned [add / [use] / cautions = [\"…\"]]"
        );
        assert_eq!(left("major", "use = { cautions = [\"Do not lean on the leaf.\"] }"), "");
        assert_eq!(left("moderate", ""), "");
    }
}
