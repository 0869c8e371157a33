//! A finding that does not say where.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "finding-without-part",
    rank: Rank::Hint,
    why: "A split somewhere cannot be drawn on the map of the piece, nor found again.",
    fix: "Say with `part` on which part it is.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // A record that names no parts has nothing to point at.
    if case.record.parts.is_empty() {
        return;
    }
    for finding in case.record.findings.iter().filter(|finding| finding.part.is_empty()) {
        let message = format!("finding `{}` does not say on which part it is", finding.id.0);
        seen.push(case.at(&CODE, &finding.id.span, message).help("add `part = \"…\"` with the id of a part"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn only_where_there_are_parts() {
        let finding = "finding = [{ id = \"f1\", seen = \"split\" }]";
        assert_eq!(sees(&RULE, finding), "");
        let part = "part = [{ id = \"top\", name = \"Top\", standing = \"new\" }]";
        assert_eq!(
            sees(&RULE, &format!("{finding}\n{part}")),
            "1: finding `f1` does not say on which part it is [add `part = \"…\"` with the id of a part]"
        );
        assert_eq!(sees(&RULE, &format!("{}\n{part}", finding.replace("seen", "part = \"top\", seen"))), "");
    }
}
