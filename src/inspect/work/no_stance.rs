//! Work without a word on how far it was meant to go.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-stance",
    rank: Rank::Hint,
    why: "Whether more or less should have been done can only be judged against what was aimed at.",
    fix: "Say with `stance` how far the work went and why; the papers print it over the workshop's name.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.has_work() && case.record.stance.is_none() {
        let help = "add `stance = \"Sound and useful comes before untouched, since …\"`";
        seen.push(case.whole(&CODE, "nothing says how far the work was meant to go, and why").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn only_where_something_was_done() {
        assert_eq!(sees(&RULE, ""), "");
        assert_eq!(
            sees(&RULE, "work = [{ did = \"waxed it\" }]"),
            "-: nothing says how far the work was meant to go, and why \
             [add `stance = \"Sound and useful comes before untouched, since …\"`]"
        );
        assert_eq!(sees(&RULE, "stance = \"No more than needed.\"\nwork = [{ did = \"waxed it\" }]"), "");
    }
}
