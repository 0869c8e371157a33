//! A cost with an amount and a share of a tin as well.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "cost-said-twice",
    rank: Rank::Doubt,
    why: "The amount counts and the share of the tin does not, which may not be what was meant.",
    fix: "Keep the amount, or the tin and its share.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for cost in case.record.costs.for_archive() {
        if let (Some(amount), true) = (&cost.amount, cost.tin.is_some() || cost.share.is_some()) {
            let message = format!("{} is said, and a share of a tin beside it", amount.value.0);
            seen.push(case.at(&CODE, &amount.span, message).help("leave out one of the two"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn one_of_the_two() {
        let cost = |rest: &str| sees(&RULE, &format!("cost = [{{ what = \"wax\", {rest} }}]"));
        assert_eq!(
            cost("amount = 3.50, tin = \"wax\", share = 0.5"),
            "1: 3.50 is said, and a share of a tin beside it [leave out one of the two]"
        );
        assert_eq!(cost("amount = 3.50"), "");
        assert_eq!(cost("tin = \"wax\", share = 0.5"), "");
    }
}
