//! A piece without its outer dimensions.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-size",
    rank: Rank::Hint,
    why: "A buyer asks first whether it fits, and Object ID counts measurements among what identifies a piece.",
    fix: "Measure width, depth and height in millimetres at the widest places.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.record.size.is_none() {
        let help = "add `size = { width = 910, depth = 1200, height = 735 }`, in millimetres";
        seen.push(case.whole(&CODE, "nothing says how large the piece is").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn all_three_are_asked_for() {
        assert_eq!(
            sees(&RULE, ""),
            "-: nothing says how large the piece is \
             [add `size = { width = 910, depth = 1200, height = 735 }`, in millimetres]"
        );
        assert_eq!(sees(&RULE, "size = { width = 910, depth = 1200, height = 735 }"), "");
    }
}
