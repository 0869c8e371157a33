//! A cost out of a tin that the workshop does not have, or whose price it does not say.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-tin",
    rank: Rank::Doubt,
    why: "A share is priced from the full tin in `workshop.toml`, and here there is nothing to price it from.",
    fix: "Write the id of one of the workshop's tins, and give that tin its `price`; or write the amount instead.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = KnownIds {
        kind: "tin",
        known: case.tins().iter().map(|tin| tin.id.0.as_str()).collect(),
        example: "`[[tin]]` with `id`, `is` and `price` to workshop.toml",
    };
    let costs = case.intended().costs.for_archive().iter().filter(|cost| cost.amount.is_none());
    for used in costs.filter_map(|cost| cost.tin.as_ref()) {
        tins.look_up(case, &CODE, used, seen);
        let tin = case.tins().iter().find(|tin| tin.id.value == used.value);
        if tin.is_some_and(|tin| tin.price.for_archive().is_none()) {
            let message = format!("the tin `{}` has no price in workshop.toml", used.0);
            seen.push(case.at(&CODE, &used.span, message).help("add `price = …`, what the full tin cost"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn cost(tin: &str, rest: &str) -> String {
        sees(
            &RULE,
            &format!(
                "cost = [{{ what = \"finish\", tin = \"{tin}\", {rest} }}]
#- workshop.toml
name = \"Bench\"
tin = [{{ id = \"varnish\", is = \"oil-polyurethane\", price = 21.50 }}, {{ id = \"wax\", is = \"paste-wax\" }}]"
            ),
        )
    }

    #[test]
    fn a_tin_is_there_and_has_a_price() {
        assert_eq!(cost("varnsh", "share = 0.5"), "1: no tin has the id `varnsh` [write \"varnish\"]");
        assert_eq!(
            cost("wax", "share = 0.5"),
            "1: the tin `wax` has no price in workshop.toml [add `price = …`, what the full tin cost]"
        );
        assert_eq!(cost("varnish", "share = 0.5"), "");
        assert_eq!(cost("wax", "amount = 2"), "");
    }
}
