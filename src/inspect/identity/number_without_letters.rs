//! A number that leads to no address.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "number-without-letters",
    rank: Rank::Mistake,
    why: "The number becomes part of the addresses of the piece's pages, and this one holds nothing that can stand there.",
    fix: "Use at least one letter or digit in the number.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let number = &case.record.number;
    if slug::slugify(&number.0).is_empty() {
        let message = format!("the number `{}` has neither a letter nor a digit", number.0);
        seen.push(case.at(&CODE, &number.span, message).help("write something like `number = \"TL-007\"`"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn one_digit_is_enough() {
        assert_eq!(
            sees(&RULE, "number = \"--\""),
            "1: the number `--` has neither a letter nor a digit [write something like `number = \"TL-007\"`]"
        );
        assert_eq!(sees(&RULE, "number = \"-7-\""), "");
    }
}
