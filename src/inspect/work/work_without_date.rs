//! Work that does not say when it was done.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "work-without-date",
    rank: Rank::Hint,
    why: "The order of the work is its story, and a guarantee or a defect later asks for the day.",
    fix: "Say with `on` the day, also of work that took several.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for work in case.record.works.iter().filter(|work| work.on.is_none()) {
        let message = format!("\"{}\" does not say when", work.did.0);
        seen.push(
            case.at(&CODE, &work.did.span, message).help("add `on = 2026-03-14`, the day it was finished"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_day_is_asked_for() {
        assert_eq!(
            sees(&RULE, "work = [{ did = \"glued it\" }]"),
            "1: \"glued it\" does not say when [add `on = 2026-03-14`, the day it was finished]"
        );
        assert_eq!(sees(&RULE, "work = [{ did = \"glued it\", on = 2026-03-14 }]"), "");
    }
}
