//! Something done on a day that has not come.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "date-in-the-future",
    rank: Rank::Doubt,
    why: "The papers say what was done, and nothing was done on a day that is still to come.",
    fix: "Correct the date; plans belong in `[[open]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let found = case.record.found.for_archive().as_ref().and_then(|found| found.on.as_ref());
    let dates = case.dated().map(|dated| (dated.what, dated.on)).chain(found.map(|on| ("the find", on)));
    for (what, on) in dates.filter(|(_, on)| on.value > case.today) {
        let message = format!("{what} is dated {}, and today is {}", on.value, case.today);
        seen.push(case.at(&CODE, &on.span, message).help("correct the date; plans belong in `[[open]]`"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn tomorrow_is_a_plan_and_today_is_not() {
        let record = "work = [{ on = 2026-06-01, did = \"waxed it\" }]\nfound = { on = 2026-06-02 }";
        assert_eq!(
            sees(&RULE, record),
            "2: the find is dated 2026-06-02, and today is 2026-06-01 [correct the date; plans belong in `[[open]]`]"
        );
    }

    #[test]
    fn a_handover_can_be_planned() {
        assert_eq!(sees(&RULE, "handover = { on = 2026-06-20 }"), "");
    }
}
