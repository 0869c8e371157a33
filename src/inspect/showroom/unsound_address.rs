//! An address of the showroom, or of the buyers' papers, at which nothing can stand.

use crate::derive::{NoAddress, ShowroomAddress};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "unsound-address",
    rank: Rank::Doubt,
    why: "Feed, site map and pictures for sharing carry whole addresses, and are left out where there is none that a \
          browser can follow.",
    fix: "Write the address of the folder in which the showroom's front page will stand, such as \
          `https://www.example.org/furniture/`.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let address = shop.folder.workshop.as_ref().and_then(|workshop| workshop.address.as_ref());
    let Some(address) = address else { return };
    let Err(fault) = ShowroomAddress::read(address) else { return };
    let (message, help) = match fault {
        NoAddress::NoScheme => (
            "this does not begin with `https://`, so that no browser can follow it",
            format!("write \"https://{}\"", address.trim().trim_start_matches('/')),
        ),
        NoAddress::Unreadable => (
            "this is no address on the web",
            "write it as a browser shows it, such as \"https://www.example.org/\"".to_owned(),
        ),
        NoAddress::Secret => (
            "this address holds a name or a password, which everybody would read",
            "write it without what stands before the `@`".to_owned(),
        ),
    };
    seen.push(shop.at(&CODE, &address.span, message).help(help));
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn address(text: &str) -> String {
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\naddress = \"{text}\""))
    }

    #[test]
    fn what_a_browser_cannot_follow() {
        assert_eq!(
            address("www.bench.example/shop"),
            "workshop.toml 2: this does not begin with `https://`, so that no browser can follow it \
             [write \"https://www.bench.example/shop\"]"
        );
        assert!(address("https://").starts_with("workshop.toml 2: this is no address on the web"));
        assert!(address("https://me:x@bench.example").contains("a name or a password"));
        assert_eq!(address("https://bench.example/shop"), "");
    }
}
