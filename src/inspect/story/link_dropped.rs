//! A link or picture in the story that will not be there on the page.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::may_link;
use pulldown_cmark::{Event, Tag};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "link-dropped",
    rank: Rank::Doubt,
    why: "Stories are published as untrusted text, so links that are no web or mail address and pictures from elsewhere are dropped.",
    fix: "Write links with `https://` or `mailto:`, and pictures by the bare name of a photograph in the piece's `photos/`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for (event, span) in case.piece.story.events() {
        let (message, help) = match event {
            Event::Start(Tag::Link { dest_url, .. }) if !may_link(dest_url) => (
                format!("the link to `{}` is dropped", beginning(dest_url)),
                "write the whole address with `https://`, or `mailto:`, or `#` and a heading",
            ),
            Event::Start(Tag::Image { dest_url, .. }) if !is_shown(case, dest_url) => (
                format!("the picture `{}` in the story is dropped", beginning(dest_url)),
                "write the bare name of a photograph in the piece's photos/ that is not private",
            ),
            _ => continue,
        };
        seen.push(case.story(&CODE, span, message).help(help));
    }
}

/// As much of an address as tells it from others.
fn beginning(address: &str) -> String {
    match address.char_indices().nth(200) {
        Some((end, _)) => format!("{}…", &address[..end]),
        None => address.to_owned(),
    }
}

/// Whether a picture is a photograph of the piece that everybody may see.
fn is_shown(case: &Case<'_>, address: &str) -> bool {
    case.facts.photographs.named(address).is_some_and(|photograph| !photograph.private)
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn story(text: &str) -> String {
        sees(&RULE, &format!("#- story.md\n{text}"))
    }

    #[test]
    fn scripts_files_and_paths() {
        let wrong = "The [gate](javascript:alert(1)).\n\nThe ![front](../photos/before-front.jpg).";
        assert_eq!(
            story(wrong),
            "story.md 1: the link to `javascript:alert(1)` is dropped \
             [write the whole address with `https://`, or `mailto:`, or `#` and a heading]\n\
             story.md 3: the picture `../photos/before-front.jpg` in the story is dropped \
             [write the bare name of a photograph in the piece's photos/ that is not private]"
        );
        for address in ["chair.html", "//example.org", "file:///home/me", "é"] {
            assert_ne!(story(&format!("[a]({address})")), "", "{address}");
        }
    }

    #[test]
    fn a_picture_is_a_public_photograph_of_the_piece() {
        let photo = |private: bool| {
            let entry = format!("photo = [{{ file = \"before.jpg\", private = {private} }}]");
            sees(&RULE, &format!("{entry}\n#- photos/before.jpg\n#- story.md\n![front](before.jpg)"))
        };
        assert_eq!(photo(false), "");
        assert!(photo(true).starts_with("story.md 1: the picture `before.jpg`"));
        assert_ne!(story("![front](https://example.org/before.jpg)"), "");
    }

    #[test]
    fn pages_mail_and_places_of_the_page() {
        assert_eq!(
            story(
                "[a](HTTPS://example.org) [b](mailto:a@example.org) [c](#gate) <https://example.org> `[d](e)`"
            ),
            ""
        );
    }
}
