//! Work without one word for how far it went.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-level",
    rank: Rank::Hint,
    why: "\"Restored\" means anything; one of six defined words lets a buyer compare.",
    fix: "Say with `level` one of `stabilise`, `restore`, `repair`, `refurbish`, `refinish` and `adapt`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.has_work() && case.record.level.is_none() {
        let help = "add `level = \"repair\"`, or `stabilise`, `restore`, `refurbish`, `refinish`, `adapt`, `unknown`";
        seen.push(case.whole(&CODE, "nothing says in a word how far the work went").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn only_where_something_was_done() {
        assert_eq!(sees(&RULE, ""), "");
        assert_ne!(sees(&RULE, "surface = [{ steps = [{ clean = \"water\" }] }]"), "");
        assert_eq!(sees(&RULE, "level = \"unknown\"\nwork = [{ did = \"waxed it\" }]"), "");
    }
}
