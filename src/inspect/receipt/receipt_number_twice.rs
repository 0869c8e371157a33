//! Two receipts of one number.

use super::given::every_receipt;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "receipt-number-twice",
    rank: Rank::Mistake,
    why: "A receipt is known by its number, and of two with one number nobody can tell which was given.",
    fix: "Look at what was given out: the number that was printed first stays, the other one gets the next that is free.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let all = every_receipt(shop);
    let next = all.last().map_or(1, |last| u64::from(last.number()) + 1);
    for pair in all.windows(2).filter(|pair| pair[0].number() == pair[1].number()) {
        let message = format!("receipt {} is in {}, too", pair[1].number(), pair[0].path());
        seen.push(pair[1].told(&CODE, message).help(format!("the next number that is free is {next}")));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::receipt::given::testing::receipts;

    #[test]
    fn the_later_one_is_told_and_the_next_number_named() {
        assert_eq!(
            receipts(&RULE, &[(7, "2026-05-02"), (8, "2026-05-05")], &[(7, "2026-05-03")]),
            "pieces/chair/record.toml 4: receipt 7 is in pieces/table/record.toml, too [the next number that is free is 9]"
        );
        assert_eq!(receipts(&RULE, &[(7, "2026-05-02")], &[(8, "2026-05-03")]), "");
    }
}
