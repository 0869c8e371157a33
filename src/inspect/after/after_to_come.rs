//! Something told as past on a day that has not come.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "after-to-come",
    rank: Rank::Doubt,
    why: "What `[[after]]` tells has happened; a return on a day to come would offer a piece that somebody has.",
    fix: "Correct the day; what was promised belongs in `[[call-back]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for after in case.record.after.for_archive().iter().filter(|after| after.on.value > case.today) {
        let message = format!("this is of {}, and today is {}", after.on.value, case.today);
        seen.push(
            case.at(&CODE, &after.on.span, message)
                .help("correct the day; what was promised belongs in `[[call-back]]`"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn today_has_come_and_tomorrow_has_not() {
        let call = |on: &str| {
            sees(
                &RULE,
                &format!("handover = {{ on = 2026-03-14 }}\nafter = [{{ on = {on}, what = \"call\" }}]"),
            )
        };
        assert_eq!(call("2026-06-01"), "");
        assert_eq!(
            call("2026-06-02"),
            "2: this is of 2026-06-02, and today is 2026-06-01 \
             [correct the day; what was promised belongs in `[[call-back]]`]"
        );
    }
}
