//! Pieces for sale, and nobody to ask.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-contact",
    rank: Rank::Hint,
    why: "Whoever wants to buy a piece finds its price in the showroom, and no way to ask for it.",
    fix: "Add `contact` to `workshop.toml`: a mail address, a telephone number or the address of a form.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(workshop) = &shop.folder.workshop else { return };
    let records = shop.folder.pieces.iter().filter_map(|piece| piece.record.as_ref());
    let for_sale = records.filter(|record| record.asking.is_some()).count();
    if workshop.contact.is_none() && for_sale > 0 {
        let message = "pieces have a price, and nothing says how to ask for them";
        seen.push(
            Diagnostic::new(&CODE, Place::file("workshop.toml"), message)
                .help("add `contact = \"…\"`: a mail address, a telephone number or the address of a form"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_price_asks_for_a_contact() {
        let workshop = "#- workshop.toml\nname = \"Bench\"\n";
        assert!(sees(&RULE, &format!("asking = 1\n{workshop}")).contains("nothing says how to ask for them"));
        assert_eq!(sees(&RULE, workshop), "");
        assert_eq!(sees(&RULE, &format!("asking = 1\n{workshop}contact = \"ask@bench.example\"")), "");
    }
}
