//! A price still asked for a piece that has left.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "asking-after-handover",
    rank: Rank::Doubt,
    why: "The showroom prints the price asked only for what can be bought, and this piece cannot.",
    fix: "Take `asking` out; what was paid belongs in `[handover]` as `price`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if let (Some(asking), Some(on)) = (&case.record.asking, case.left_on()) {
        let message = format!("{} is still asked, and the piece left on {on}", asking.value.0);
        let help = "take `asking` out; what was paid is `price` in `[handover]`";
        seen.push(case.at(&CODE, &asking.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_handover_to_come_keeps_its_price() {
        assert_eq!(
            sees(&RULE, "asking = 240.00\nhandover = { on = 2026-06-01 }"),
            "1: 240.00 is still asked, and the piece left on 2026-06-01 \
             [take `asking` out; what was paid is `price` in `[handover]`]"
        );
        assert_eq!(sees(&RULE, "asking = 240.00\nhandover = { on = 2026-06-02 }"), "");
        assert_eq!(sees(&RULE, "asking = 240.00\nhandover = { given = [\"a key\"] }"), "");
    }
}
