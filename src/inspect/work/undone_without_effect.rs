//! Something left undone that does not say what it means for the buyer.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "undone-without-effect",
    rank: Rank::Doubt,
    why: "The buyer lives with what was left, and needs to know what to expect or to do.",
    fix: "Say with `effect` what it means in use; \"none\" is an answer.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for undone in case.record.undone.iter().filter(|undone| undone.effect.is_none()) {
        let message =
            format!("\"{}\" is left, and nothing says what that means for the buyer", undone.what.0);
        let help = "add `effect = \"…\"`, or `effect = \"none\"`";
        seen.push(case.at(&CODE, &undone.what.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn none_is_an_answer() {
        let undone = "what = \"one stop is missing\", why = \"no-part\"";
        assert_eq!(
            sees(&RULE, &format!("undone = [{{ {undone} }}]")),
            "1: \"one stop is missing\" is left, and nothing says what that means for the buyer \
             [add `effect = \"…\"`, or `effect = \"none\"`]"
        );
        assert_eq!(sees(&RULE, &format!("undone = [{{ {undone}, effect = \"none\" }}]")), "");
    }
}
