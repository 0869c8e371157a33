//! A currency that is no three capital letters.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "unsound-currency",
    rank: Rank::Doubt,
    why: "Prices in the showroom's linked data must carry a code of ISO 4217, or no reader of it knows the money.",
    fix: "Write three capital letters, such as `GBP`, `EUR` or `USD`.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let currency = shop.folder.workshop.as_ref().and_then(|workshop| workshop.currency.as_ref());
    let Some(currency) = currency else { return };
    let written = &currency.0;
    if written.len() != 3 || !written.bytes().all(|letter| letter.is_ascii_uppercase()) {
        let help = match written.to_uppercase().as_str() {
            "£" | "POUND" | "POUNDS" => "write \"GBP\"".to_owned(),
            "€" | "EURO" | "EUROS" => "write \"EUR\"".to_owned(),
            "$" => "write \"USD\", or the code of your dollar".to_owned(),
            code if code.len() == 3 && code.is_ascii() => format!("write \"{code}\""),
            _ => "write three capital letters, such as \"GBP\"".to_owned(),
        };
        seen.push(shop.at(&CODE, &currency.span, format!("`{written}` is no code of a currency")).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn currency(code: &str) -> String {
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\ncurrency = \"{code}\""))
    }

    #[test]
    fn three_capital_letters() {
        assert_eq!(currency("Gbp"), "workshop.toml 2: `Gbp` is no code of a currency [write \"GBP\"]");
        assert_eq!(currency("£"), "workshop.toml 2: `£` is no code of a currency [write \"GBP\"]");
        assert!(currency("crowns").ends_with("[write three capital letters, such as \"GBP\"]"));
        assert_eq!(currency("SEK"), "");
    }
}
