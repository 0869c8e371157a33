//! A link of the record that leads to no page on the web.

use crate::derive::{NoAddress, web_address};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "link-without-page",
    rank: Rank::Doubt,
    why: "The showroom links to it, and only links to pages on the web are made; this one is left out.",
    fix: "Write the whole address of the page, with `https://`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for link in &case.record.links {
        let Err(fault) = web_address(&link.to) else { continue };
        let (message, help) = match fault {
            NoAddress::NoScheme | NoAddress::Unreadable => {
                ("this is no address of a page on the web", "write it as a browser shows it, with `https://`")
            }
            NoAddress::Secret => {
                ("this address holds a name or a password", "write it without what stands before the `@`")
            }
        };
        seen.push(case.at(&CODE, &link.to.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn link(to: &str) -> String {
        sees(&RULE, &format!("link = [{{ to = \"{to}\", what = \"The film\" }}]"))
    }

    #[test]
    fn only_pages_on_the_web() {
        assert!(link("javascript:alert(1)").starts_with("1: this is no address of a page on the web"));
        assert!(link("films.example/4").contains("with `https://`"));
        assert!(link("https://me@films.example/4").contains("a name or a password"));
        assert_eq!(link("https://films.example/4"), "");
    }
}
