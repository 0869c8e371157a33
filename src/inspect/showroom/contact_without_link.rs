//! A contact that no link can be made of.

use crate::derive::Contact;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "contact-without-link",
    rank: Rank::Hint,
    why: "From a mail address, a telephone number or the address of a form the showroom makes a link beside each price; \
          other words are printed as they are.",
    fix: "Write a mail address, a telephone number or the address of a form into `contact`.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let contact = shop.folder.workshop.as_ref().and_then(|workshop| workshop.contact.as_ref());
    let Some(contact) = contact.filter(|contact| Contact::read(contact) == Contact::Words) else { return };
    let message = "no mail address, telephone number or web page is found in this";
    let help = "write one of them, such as \"workshop@example.org\"; words may stand beside it";
    seen.push(shop.at(&CODE, &contact.span, message).help(help));
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn contact(text: &str) -> String {
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\ncontact = \"{text}\""))
    }

    #[test]
    fn words_alone() {
        assert!(contact("Mill Lane 3").starts_with("workshop.toml 2: no mail address"));
        assert_eq!(contact("Mill Lane 3, 01632 960123"), "");
    }
}
