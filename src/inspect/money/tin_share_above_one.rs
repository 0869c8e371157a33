//! A share of more than a whole tin.

use rust_decimal::Decimal;

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "tin-share-above-one",
    rank: Rank::Doubt,
    why: "A share is of the full tin, so that 25 is twenty-five tins and not a quarter of one.",
    fix: "Write a quarter as `0.25`; where more than one tin was used up, write the amount.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for share in case.record.costs.for_archive().iter().filter_map(|cost| cost.share.as_ref()) {
        if share.0 > Decimal::ONE {
            let message = format!("a share of {} is more than the whole tin", share.0);
            let help = format!("for {} % write `{}`", share.0, (share.0 / Decimal::ONE_HUNDRED).normalize());
            seen.push(case.at(&CODE, &share.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_whole_tin_is_the_most() {
        let cost = |share: &str| {
            sees(&RULE, &format!("cost = [{{ what = \"wax\", tin = \"wax\", share = {share} }}]"))
        };
        assert_eq!(cost("25"), "1: a share of 25 is more than the whole tin [for 25 % write `0.25`]");
        assert_ne!(cost("1.01"), "");
        assert_eq!(cost("1"), "");
    }
}
