//! A receipt that was given before one with a smaller number.

use super::given::every_receipt;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "receipt-out-of-order",
    rank: Rank::Doubt,
    why: "Receipts are numbered as they are given, so a later number cannot be of an earlier day.",
    fix: "Correct the day or the number, as it was printed.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in every_receipt(shop).windows(2).filter(|pair| pair[0].on() > pair[1].on()) {
        let [before, after] = [&pair[0], &pair[1]];
        let message = format!(
            "receipt {} is of {}, and {} in {} of {}",
            after.number(),
            after.on(),
            before.number(),
            before.path(),
            before.on()
        );
        seen.push(after.told(&CODE, message).help("correct the day or the number, as it was printed"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::receipt::given::testing::receipts;

    #[test]
    fn days_follow_the_numbers() {
        assert_eq!(
            receipts(&RULE, &[(7, "2026-05-04")], &[(8, "2026-05-03")]),
            "pieces/chair/record.toml 4: receipt 8 is of 2026-05-03, and 7 in pieces/table/record.toml of 2026-05-04 \
             [correct the day or the number, as it was printed]"
        );
        assert_eq!(receipts(&RULE, &[(7, "2026-05-04")], &[(8, "2026-05-04")]), "");
    }
}
