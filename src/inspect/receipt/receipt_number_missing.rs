//! A number of a receipt that no record has, between two that some have.

use super::given::every_receipt;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "receipt-number-missing",
    rank: Rank::Doubt,
    why: "Receipts are counted so that none can be left out unseen; a number that is missing looks like one that was.",
    fix: "Enter the receipt that has the number; one that was spoilt is entered with what it was, and a refund of the same.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    // A record that cannot be read whole may have it.
    if shop.folder.pieces.iter().any(|piece| piece.record.is_none() || piece.partial) {
        return;
    }
    for pair in every_receipt(shop).windows(2) {
        let (before, after) = (pair[0].number(), pair[1].number());
        let message = match after - before {
            0 | 1 => continue,
            2 => format!("receipt {} is in no record, and {after} is", before + 1),
            _ => format!("receipts {} to {} are in no record, and {after} is", before + 1, after - 1),
        };
        seen.push(
            pair[1].told(&CODE, message).help(format!("enter what is missing, or write {} here", before + 1)),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::receipt::given::testing::receipts;

    #[test]
    fn each_gap_is_told_where_counting_goes_on() {
        assert_eq!(receipts(&RULE, &[(1001, "2026-05-02")], &[(1002, "2026-05-03")]), "");
        assert_eq!(
            receipts(&RULE, &[(1, "2026-05-02"), (6, "2026-05-04")], &[(3, "2026-05-03")]),
            "pieces/chair/record.toml 4: receipt 2 is in no record, and 3 is [enter what is missing, or write 2 here]\n\
             1: receipts 4 to 5 are in no record, and 6 is [enter what is missing, or write 4 here]"
        );
    }
}
