//! A piece without years of making.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-years-of-making",
    rank: Rank::Hint,
    why: "Without years, materials and fixings cannot be compared with the date, and buyers are left to guess.",
    fix: "Say with `made` what is known, however wide; where nothing is, say so in `basis`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.record.made.is_none() && case.record.basis.is_none() {
        let help =
            "add `made = \"1920/1935~\"`, or where nothing tells, `basis = \"nothing on the piece tells\"`";
        seen.push(case.whole(&CODE, "nothing says when the piece was made").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn years_or_why_there_are_none() {
        assert_eq!(
            sees(&RULE, ""),
            "-: nothing says when the piece was made \
             [add `made = \"1920/1935~\"`, or where nothing tells, `basis = \"nothing on the piece tells\"`]"
        );
        assert_eq!(sees(&RULE, "made = \"19XX\""), "");
        assert_eq!(sees(&RULE, "basis = \"unknown\""), "");
    }
}
