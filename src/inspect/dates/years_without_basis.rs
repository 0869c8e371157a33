//! Years of making without what they rest on.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::words::Words;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "years-without-basis",
    rank: Rank::Hint,
    why: "A date is only as good as its evidence, and the reader cannot weigh what is not said.",
    fix: "Say with `basis` what the years rest on: a label, a construction, a style.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if let (Some(made), None) = (&case.record.made, &case.record.basis) {
        let message =
            format!("made {}, and nothing says what that rests on", Words::for_diagnostics().years(made));
        let help = "add `basis = \"machine-cut dovetails\"`, or `basis = \"unknown\"`";
        seen.push(case.at(&CODE, &made.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_date_asks_for_its_evidence() {
        assert_eq!(
            sees(&RULE, "made = \"192X~\""),
            "1: made about the 1920s, and nothing says what that rests on \
             [add `basis = \"machine-cut dovetails\"`, or `basis = \"unknown\"`]"
        );
        assert_eq!(sees(&RULE, "made = \"192X~\"\nbasis = \"style alone\""), "");
        assert_eq!(sees(&RULE, ""), "");
    }
}
