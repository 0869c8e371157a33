//! Characters of the story that nobody sees.

use pulldown_cmark::Event;

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::code::unseen_character;
use crate::inspect::{Case, Check, Rule};
use crate::unit::legible::unseen;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "unseen-in-story",
    rank: Rank::Doubt,
    why: "A character that nobody sees can hide words or turn them around; the papers leave it out.",
    fix: "Type the text anew there; such characters come along with what is pasted from web pages and word processors.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let story = &case.piece.story;
    // A mark at the beginning of a file, as some editors put it there, is none of the text.
    let typed = unseen(story.text()).filter(|found| *found != (0, '\u{feff}'));
    // Markdown can spell a character by its number, of which the events alone tell.
    let spelt = story.events().filter_map(|(event, span)| match event {
        Event::Text(text) if unseen(&story.text()[span.clone()]).next().is_none() => {
            Some((span.start, unseen(text).next()?.1))
        }
        _ => None,
    });
    let mut found: Vec<(usize, char)> = typed.chain(spelt).collect();
    found.sort_unstable();
    let characters = found.iter().map(|(_, character)| *character);
    if let (Some((first, _)), Some((message, help))) = (found.first(), unseen_character(characters)) {
        seen.push(case.story(&CODE, &(*first..first + 1), message).help(help));
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
    fn characters_that_nobody_sees() {
        assert_eq!(
            story("Sound.\n\nOak\u{202e} and\u{200b} elm."),
            "story.md 3: this text holds U+202E, a mark that turns the direction of writing, and one more that nobody \
             sees [type it anew without; the papers leave it out]"
        );
        assert_eq!(
            story("Sound.\n\nOak&#x9b;."),
            "story.md 3: this text holds U+009B, a control character [type it anew without; the papers leave it out]"
        );
    }

    #[test]
    fn line_ends_and_what_a_script_needs() {
        assert_eq!(story("\u{feff}Sound.\r\n\r\n\tcode\r\n\r\nمی‌خواهم 👩‍🔧 &amp; &nbsp;."), "");
    }
}
