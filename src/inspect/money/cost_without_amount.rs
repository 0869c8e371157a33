//! A cost that says neither an amount nor a share of a tin.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Cost;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "cost-without-amount",
    rank: Rank::Doubt,
    why: "One cost that is not known leaves the ledger without a margin, since none would be honest.",
    fix: "Say an `amount`, or a `tin` of the workshop with a `share` of it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for cost in case.record.costs.for_archive() {
        if let Some((message, help)) = lacks(cost) {
            seen.push(case.at(&CODE, &cost.span, format!("`{}` {message}", *cost.what)).help(help));
        }
    }
}

fn lacks(cost: &Cost) -> Option<(&'static str, &'static str)> {
    match (&cost.amount, &cost.tin, &cost.share) {
        (Some(_), _, _) | (None, Some(_), Some(_)) => None,
        (None, Some(_), None) => {
            Some(("names a tin and no share of it", "add `share = 0.25` for a quarter of it"))
        }
        (None, None, Some(_)) => {
            Some(("says a share and no tin", "add `tin = \"…\"`, the id of a tin in workshop.toml"))
        }
        (None, None, None) => Some(("says no amount", "add `amount = …`, or `tin` and `share`")),
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn an_amount_or_a_share_of_a_tin() {
        let cost = |rest: &str| sees(&RULE, &format!("cost = [{{ what = \"wax\"{rest} }}]"));
        assert_eq!(cost(""), "1: `wax` says no amount [add `amount = …`, or `tin` and `share`]");
        assert_ne!(cost(", tin = \"wax\""), "");
        assert_ne!(cost(", share = 0.5"), "");
        assert_eq!(cost(", tin = \"wax\", share = 0.5"), "");
        assert_eq!(cost(", amount = 0"), "");
    }
}
