//! HTML in the story.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use pulldown_cmark::{Event, Tag};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "raw-html-in-story",
    rank: Rank::Doubt,
    why: "Stories are published as untrusted text, so HTML is shown letter by letter, comments included.",
    fix: "Write Markdown: `*slanted*`, `**bold**`, lists and headings; take comments out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let story = case.piece.story.events();
    let html = |event: &Event<'_>| matches!(event, Event::InlineHtml(_) | Event::Start(Tag::HtmlBlock));
    let places: Vec<_> = story.filter(|(event, _)| html(event)).map(|(_, span)| span).collect();
    if let Some(first) = places.first() {
        let message = match places.len() {
            1 => "this HTML is shown letter by letter".to_owned(),
            more => format!("this HTML is shown letter by letter, and so it is at {} more places", more - 1),
        };
        let help = "write Markdown instead, or put code between back-ticks";
        seen.push(case.story(&CODE, first, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn story(text: &str) -> String {
        sees(&RULE, &format!("#- story.md\n{text}"))
    }

    #[test]
    fn tags_and_comments() {
        assert_eq!(
            story("Sound.\n\nThe <b>gate</b>."),
            "story.md 3: this HTML is shown letter by letter, and so it is at 1 more places \
             [write Markdown instead, or put code between back-ticks]"
        );
        assert_ne!(story("<!-- not yet -->"), "");
    }

    #[test]
    fn less_than_and_code_are_no_html() {
        assert_eq!(story("A gap < 2 mm, and `<b>`."), "");
    }
}
