//! A price below what the piece cost, without counting any hour.

use crate::derive::Price;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "sold-below-cost",
    rank: Rank::Hint,
    why: "What was paid, materials and overhead come to more than the price, so that the hours were given away and more.",
    fix: "Look at the ledger in the archive. Sometimes it is meant; then the lesson is worth writing down.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let ledger = case.facts.ledger.for_archive();
    let (Ok(cost), Ok(margin), Some(price)) = (ledger.cost(), ledger.margin(), ledger.price) else { return };
    let handover = case.record.handover.as_ref().and_then(|handover| handover.price.for_archive().as_ref());
    let Some(said) = handover.or(case.record.asking.as_ref()) else { return };
    // A piece given away is below its cost on purpose.
    if margin.0.is_sign_negative() && !margin.0.is_zero() && !said.value.0.is_zero() {
        let does = match price {
            Price::Paid(_) => "it went for",
            Price::Asked(_) => "it is asked for at",
        };
        let message = format!("{does} {}, and cost {} without any hour", said.value.0, cost.0.round_dp(2));
        seen.push(case.at(&CODE, &said.span, message).help("the archive's ledger shows what it is made of"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn record(rest: &str) -> String {
        sees(&RULE, &format!("found = {{ paid = 40 }}\ncost = [{{ what = \"wax\", amount = 2.40 }}]\n{rest}"))
    }

    #[test]
    fn the_price_is_at_least_the_cost() {
        assert_eq!(
            record("handover = { price = 42.39 }"),
            "3: it went for 42.39, and cost 42.40 without any hour [the archive's ledger shows what it is made of]"
        );
        assert_ne!(record("asking = 10"), "");
        assert_eq!(record("handover = { price = 42.40 }"), "");
        assert_eq!(record("handover = { price = 0 }"), "");
        assert_eq!(
            sees(&RULE, "asking = 10\ncost = [{ what = \"wax\", amount = 20 }]"),
            "",
            "what was paid is missing"
        );
    }
}
