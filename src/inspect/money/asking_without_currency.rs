//! A price without a currency.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "asking-without-currency",
    rank: Rank::Doubt,
    why: "A bare number in the showroom says nothing about what is to be paid.",
    fix: "Write the currency's three letters (ISO 4217) into `workshop.toml`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(workshop) = &case.folder.workshop else { return };
    if let (Some(asking), None) = (&case.record.asking, &workshop.currency) {
        let message = format!("{} is asked, and workshop.toml has no currency", asking.value.0);
        seen.push(
            case.at(&CODE, &asking.span, message)
                .help("add `currency = \"GBP\"`, or yours, to workshop.toml"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn the_workshop_says_which_money() {
        assert_eq!(
            sees(&RULE, "asking = 240.00\n#- workshop.toml\nname = \"Bench\""),
            "1: 240.00 is asked, and workshop.toml has no currency \
             [add `currency = \"GBP\"`, or yours, to workshop.toml]"
        );
        assert_eq!(sees(&RULE, "asking = 240.00"), "");
    }
}
