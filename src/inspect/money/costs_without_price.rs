//! A piece that left, with costs and no price.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "costs-without-price",
    rank: Rank::Hint,
    why: "What it cost is written down and what it brought in is not, so nobody can tell what an hour earned.",
    fix: "Write the price to `[handover]`; `price = 0` where it was given away. The archive alone prints it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let ledger = case.facts.ledger.for_archive();
    let reckoned = ledger.paid.is_some() || !ledger.materials.is_empty() || ledger.hours.is_some();
    let handover = case.record.handover.as_ref();
    let unpriced = handover.is_none_or(|handover| handover.price.for_archive().is_none());
    if reckoned && unpriced && case.left_on().is_some() {
        let message = "it left on this day, and for how much is not recorded";
        seen.push(case.at_handover(&CODE, message).help("add `price = …` beside it"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn what_left_has_a_price() {
        let left = "found = { paid = 10 }\nhandover = { on = 2026-04-20";
        assert_eq!(
            sees(&RULE, &format!("{left} }}")),
            "2: it left on this day, and for how much is not recorded [add `price = …` beside it]"
        );
        assert_eq!(sees(&RULE, &format!("{left}, price = 0 }}")), "");
        assert_eq!(
            sees(&RULE, "found = { paid = 10 }\nhandover = { on = 2026-06-02 }"),
            "",
            "it has not left"
        );
        assert_eq!(sees(&RULE, "handover = { on = 2026-04-20 }"), "", "nothing to compare");
    }
}
