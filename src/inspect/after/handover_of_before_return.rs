//! A handover without its day, of a piece that came back.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "handover-of-before-return",
    rank: Rank::Doubt,
    why: "A handover without a day is taken for the one before the piece came back, so that its price and its buyer count no longer.",
    fix: "Write the day as `on` where it is the next one; where it is the last one, take it out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let (Some(back), Some(handover)) = (case.piece.came_back(), &case.record.handover) else { return };
    if handover.on.is_none() {
        let message = format!("this says no day, and the piece came back on {back}");
        let help = "write `on`, the day it leaves next; or take the section out where it is of before";
        seen.push(case.at(&CODE, &handover.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{amended, sees};

    #[test]
    fn a_day_tells_the_two_apart() {
        let sold = |handover: &str| {
            let back = "after = [{ on = 2026-05-20, what = \"return\" }]";
            sees(&RULE, &amended("", &format!("handover = {{ {handover} }}\n{back}")))
        };
        assert_eq!(
            sold("price = 90"),
            "1: this says no day, and the piece came back on 2026-05-20 \
             [write `on`, the day it leaves next; or take the section out where it is of before]"
        );
        assert_eq!(sold("on = 2026-05-16, price = 90"), "");
        assert_eq!(sold("on = 2026-05-28, price = 90"), "");
        assert_eq!(sees(&RULE, "handover = { price = 90 }"), "");
    }
}
