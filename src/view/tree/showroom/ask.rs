//! How a buyer asks, and how a piece is bought.

use serde::Serialize;

use crate::claim::says;
use crate::derive::Contact;
use crate::view::context::HouseStyle;
use crate::words::shortened;

/// Letters of a mail's subject.
const SUBJECT: usize = 120;

/// A way to ask.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Ask {
    /// Where the link leads; empty where the workshop can be reached by words alone, or not at all.
    pub href: String,
    /// What the link says.
    pub words: String,
    /// How the workshop is reached, as it says itself; may be empty.
    pub contact: String,
}

/// A line of how a piece is bought.
#[derive(Debug, Clone, Serialize)]
pub struct WayToBuy {
    /// What it is about.
    pub label: String,
    /// What holds.
    pub text: String,
}

/// How the workshop is asked about a piece, or about nothing in particular.
pub(super) fn ask(house: &HouseStyle, piece: Option<(&str, &str)>) -> Ask {
    let words = house.words();
    let about = |here, anything| words.heading(if piece.is_some() { here } else { anything });
    let (href, says) = match house.contact() {
        Contact::Mail(address) => {
            let subject = piece.map(|(number, title)| shortened(&format!("{number} {title}"), SUBJECT));
            let subject =
                subject.map_or(String::new(), |subject| format!("?subject={}", encoded(&subject, "")));
            let link = format!("mailto:{}{subject}", encoded(address, "@"));
            (link, about(&says!("ask-by-mail"), &says!("ask-by-mail-at-all")))
        }
        Contact::Telephone(number) => {
            (format!("tel:{number}"), about(&says!("ask-by-telephone"), &says!("ask-by-telephone-at-all")))
        }
        Contact::Page(url) => (url.to_string(), about(&says!("ask-by-form"), &says!("ask-by-form-at-all"))),
        Contact::Words => (String::new(), String::new()),
    };
    Ask { href, words: says, contact: house.view().contact.clone() }
}

/// How a piece is bought, in the order in which it happens.
pub(super) fn ways(house: &HouseStyle) -> Vec<WayToBuy> {
    let way = |(label, text): &(crate::claim::Message, String)| WayToBuy {
        label: house.words().heading(label),
        text: crate::words::sentence(text),
    };
    house.how_to_buy().iter().map(way).collect()
}

/// A text within an address: everything is written by its bytes but what may stand there in any part of it.
fn encoded(text: &str, kept: &str) -> String {
    let mut encoded = String::new();
    for character in text.chars() {
        if character.is_ascii_alphanumeric() || "-._~".contains(character) || kept.contains(character) {
            encoded.push(character);
        } else {
            let mut bytes = [0; 4];
            encoded.extend(character.encode_utf8(&mut bytes).bytes().map(|byte| format!("%{byte:02X}")));
        }
    }
    encoded
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    #[track_caller]
    fn asked(contact: &str, href: &str) {
        let found = shown("", &format!("contact = \"{contact}\""), |context| {
            ask(context.house(), Some((context.number(), "Oak & elm, “très” vieux 🪑")))
        });
        assert_eq!(found.href, href);
        assert_eq!(found.contact, contact);
    }

    #[test]
    fn a_link_names_the_piece_where_it_can() {
        asked(
            "Write to ask+us@bench.example",
            "mailto:ask%2Bus@bench.example?subject=T-1%20Oak%20%26%20elm%2C%20%E2%80%9Ctr%C3%A8s%E2%80%9D%20vieux%20%F0%9F%AA%91",
        );
        asked("01632 960 123", "tel:01632960123");
        asked("https://bench.example/ask", "https://bench.example/ask");
        asked("Mill Lane 3", "");
    }
}
