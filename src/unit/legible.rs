//! Characters that nobody sees: which they are, text without them, and text that shows them.
//!
//! A terminal obeys control characters, marks of direction turn what stands beside them around, and text that has no
//! width says something other than what is read. What a script needs to be written right is none of these: joiners
//! within Arabic, Indic scripts and emoji, a selector after the sign that it varies, line ends and tabs.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether there is anything to see in a text: more than spaces and characters that nobody sees.
pub fn is_visible(text: &str) -> bool {
    characters(text)
        .any(|found| !found.unseen && !found.character.is_whitespace() && !is_blank(found.character))
}

/// Text with every unseen character shown by its number, such as `‹U+202E›`. Line ends and tabs stay.
///
/// ```
/// assert_eq!(witnessmark::unit::legible("oak\u{1b}[2J"), "oak‹U+001B›[2J");
/// ```
pub fn legible(text: &str) -> Cow<'_, str> {
    without(text, |shown, character| {
        let _ = write!(shown, "‹{}›", code_point(character));
    })
}

/// Text without its unseen characters; one that breaks a line becomes a space.
pub fn without_unseen(text: &str) -> Cow<'_, str> {
    without(text, |kept, character| {
        if matches!(character, '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}') {
            kept.push(' ');
        }
    })
}

/// Text as one line, with single spaces, that shows its unseen characters as [`legible`] does.
pub fn one_line(text: &str) -> String {
    legible(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The unseen characters of a text with their places in bytes, in order.
pub fn unseen(text: &str) -> impl Iterator<Item = (usize, char)> + '_ {
    // Most texts have none, which a look at their bytes tells.
    let all_seen = text.bytes().all(|byte| matches!(byte, b' '..=b'~' | b'\n' | b'\t'));
    let text = if all_seen { "" } else { text };
    characters(text).filter(|found| found.unseen).map(|found| (found.place, found.character))
}

/// JSON with its unseen characters escaped. They stand in its strings alone, so that it means the same.
pub fn escaped_json(json: &str) -> Cow<'_, str> {
    without(json, |escaped, character| {
        for unit in character.encode_utf16(&mut [0; 2]) {
            let _ = write!(escaped, "\\u{unit:04x}");
        }
    })
}

/// The number of a character as Unicode writes it, such as `U+202E`.
pub fn code_point(character: char) -> String {
    format!("U+{:04X}", u32::from(character))
}

/// What an unseen character is, in words.
pub fn kind(character: char) -> &'static str {
    match character {
        _ if character.is_control() => "a control character",
        '\u{2028}' | '\u{2029}' => "a line separator",
        _ if turns_direction(character) => "a mark that turns the direction of writing",
        _ if is_selector(character) => "a selector after nothing that it could vary",
        _ if is_no_character(character) => "no character at all",
        _ => "a character without width",
    }
}

/// A text with each unseen character replaced by what `instead` writes, and with `\n` between its lines.
fn without(text: &str, instead: impl Fn(&mut String, char)) -> Cow<'_, str> {
    let Some(first) = characters(text).find(|found| found.unseen || found.character == '\r') else {
        return Cow::Borrowed(text);
    };
    let mut kept = text[..first.place].to_owned();
    for found in characters(text).skip_while(|found| found.place < first.place) {
        match found.character {
            unseen if found.unseen => instead(&mut kept, unseen),
            // The other half of a line end of Windows.
            '\r' => {}
            character => kept.push(character),
        }
    }
    Cow::Owned(kept)
}

/// A character of a text.
struct Found {
    place: usize,
    character: char,
    unseen: bool,
}

/// The characters of a text, each judged with the one before it, and a carriage return with the one after it.
fn characters(text: &str) -> impl Iterator<Item = Found> + '_ {
    let mut before = None;
    text.char_indices().map(move |(place, character)| {
        let ends_line = character == '\r' && text[place + 1..].starts_with('\n');
        let unseen = !ends_line && is_unseen(character, before);
        before = (!unseen).then_some(character);
        Found { place, character, unseen }
    })
}

/// Whether nobody sees a character after the one `before`, which is `None` at the beginning and after an unseen one.
fn is_unseen(character: char, before: Option<char>) -> bool {
    match character {
        ' '..='~' | '\n' | '\t' => false,
        '\u{200b}'..='\u{200d}' => !before.is_some_and(may_be_joined),
        // Mongolian's own selectors and its vowel separator.
        '\u{180b}'..='\u{180f}' => !matches!(before, Some('\u{1820}'..='\u{18aa}')),
        _ if is_selector(character) => !before.is_some_and(may_vary),
        _ => {
            character.is_control()
                || turns_direction(character)
                || is_no_character(character)
                || is_ignorable(character)
        }
    }
}

/// Whether a joiner after this character may belong to the script: Arabic and what lies above it, signs, emoji.
fn may_be_joined(before: char) -> bool {
    matches!(before, '\u{600}'..='\u{1fff}' | '\u{2190}'..) && !before.is_whitespace()
}

/// Whether a selector after this character may choose between two forms of it: digits and signs, which may be emoji,
/// and letters of scripts that have variants.
fn may_vary(before: char) -> bool {
    match before {
        '0'..='9' | '#' | '*' | '©' | '®' => true,
        _ => before >= '\u{1000}' && !before.is_whitespace() && !is_selector(before),
    }
}

fn is_selector(character: char) -> bool {
    matches!(character, '\u{fe00}'..='\u{fe0f}' | '\u{e0100}'..='\u{e01ef}')
}

/// The characters that Unicode calls `Bidi_Control`.
fn turns_direction(character: char) -> bool {
    matches!(
        character,
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
    )
}

/// The numbers that Unicode promises never to give to a character.
fn is_no_character(character: char) -> bool {
    matches!(character, '\u{fdd0}'..='\u{fdef}') || u32::from(character) & 0xfffe == 0xfffe
}

/// The rest of what Unicode calls `Default_Ignorable_Code_Point`, with the separators and annotations of lines.
fn is_ignorable(character: char) -> bool {
    matches!(
        character,
        '\u{ad}'
            | '\u{34f}'
            | '\u{115f}'..='\u{1160}'
            | '\u{17b4}'..='\u{17b5}'
            | '\u{2028}'..='\u{2029}'
            | '\u{2060}'..='\u{206f}'
            | '\u{3164}'
            | '\u{feff}'
            | '\u{ffa0}'
            | '\u{fff0}'..='\u{fffb}'
            | '\u{1bca0}'..='\u{1bca3}'
            | '\u{1d173}'..='\u{1d17a}'
            | '\u{e0000}'..='\u{e0fff}'
    )
}

/// What shows nothing by itself wherever it stands: joiners, selectors, the empty cell of Braille, a note without a head.
fn is_blank(character: char) -> bool {
    is_selector(character)
        || matches!(character, '\u{200b}'..='\u{200d}' | '\u{180b}'..='\u{180f}' | '\u{2800}' | '\u{1d159}')
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether text is taken as it is.
    fn stays(text: &str) -> bool {
        matches!(legible(text), Cow::Borrowed(_)) && without_unseen(text) == text && is_visible(text)
    }

    #[test]
    fn what_a_terminal_would_obey_is_shown() {
        for hostile in [
            '\0',
            '\u{7}',
            '\u{8}',
            '\u{1b}',
            '\u{7f}',
            '\u{80}',
            '\u{9b}',
            '\u{61c}',
            '\u{200e}',
            '\u{202e}',
            '\u{2066}',
            '\u{2069}',
            '\u{2028}',
            '\u{ad}',
            '\u{200b}',
            '\u{feff}',
            '\u{2060}',
            '\u{e0041}',
            '\u{fe0f}',
            '\u{fdd0}',
            '\u{ffff}',
            '\u{10fffe}',
            '\u{fff9}',
            '\u{3164}',
        ] {
            let shown = legible(&format!("a{hostile}b")).into_owned();
            assert_eq!(shown, format!("a‹U+{:04X}›b", hostile as u32));
            assert!(!is_visible(&format!(" {hostile}\n")), "{hostile:?}");
            assert_eq!(unseen(&format!("ä{hostile}")).collect::<Vec<_>>(), [(2, hostile)]);
        }
    }

    #[test]
    fn what_a_script_needs_stays() {
        for text in [
            "Tür, 34 × 12 mm\tÉbène\nsecond line",
            "می‌خواهم",          // Persian, with a joiner that parts
            "क्‍ष",               // Devanagari, with one that joins
            "👩‍🔧 🪑 ❤️ 1️⃣ ☎︎ 🏳️‍🌈", // emoji
            "葛󠄀城",             // an ideograph and its variant
            "ᠮᠣᠩᠭᠣᠯ ᠬᠡᠯᠡ᠎ᠡ",     // Mongolian, with its vowel separator
            "שלום عليكم",
            "Z̵͍̔a̶͇̾l̸̰̈́g̷̦̋o̸͙͐",
        ] {
            assert!(stays(text), "{text} {}", legible(text));
        }
    }

    #[test]
    fn what_a_script_does_not_need_is_shown() {
        assert_eq!(legible("o\u{200d}ak"), "o‹U+200D›ak", "a joiner in Latin");
        assert_eq!(legible("oak\u{fe0f}"), "oak‹U+FE0F›", "a selector after a letter");
        assert_eq!(
            legible("❤\u{fe0f}\u{fe01}"),
            "❤\u{fe0f}‹U+FE01›",
            "a second selector, where data can be hidden"
        );
        assert_eq!(legible("\u{200c}\u{200d}"), "‹U+200C›‹U+200D›");
        assert!(!is_visible(" \u{a0}\u{3000}\u{2800}\u{200d}"));
    }

    #[test]
    fn lines_are_kept_or_joined_and_never_torn() {
        assert_eq!(unseen("a\r\nb").count(), 0, "a line end of Windows");
        assert_eq!(legible("a\r\nb\tc"), "a\nb\tc");
        assert_eq!(legible("a\rb"), "a‹U+000D›b");
        assert_eq!(without_unseen("a\rb\u{2028}c\u{1b}d\r\n"), "a b cd\n");
        assert_eq!(one_line(" a\n\tb\u{7} "), "a b‹U+0007›");
    }

    #[test]
    fn escaped_json_means_the_same() {
        let text = "a\u{9b}\u{202e}\u{e0041}\u{7f}\u{1b}b";
        let json = serde_json::to_string(text).unwrap();
        let escaped = escaped_json(&json);
        assert_eq!(escaped, r#""a\u009b\u202e\udb40\udc41\u007f\u001bb""#);
        assert_eq!(serde_json::from_str::<String>(&escaped).unwrap(), text);
    }

    #[test]
    fn every_unseen_character_has_a_kind() {
        assert_eq!(kind('\u{9b}'), "a control character");
        assert_eq!(kind('\u{202e}'), "a mark that turns the direction of writing");
        assert_eq!(kind('\u{feff}'), "a character without width");
        assert_eq!(code_point('\u{7}'), "U+0007");
    }
}
