//! Letters that no font can draw are printed as their code points, so that nothing is dropped in silence.

use serde_json::Value;

use crate::unit::legible::without_unseen;

/// Words of more letters may break anywhere, since no column could hold them.
const LONGEST: usize = 30;

/// After so many letters of an endless word there is a place to break it.
const BREAK: usize = 12;

/// Makes every text of some data printable: `covered` says which letters the fonts have.
pub(super) fn printable(data: &mut Value, covered: &dyn Fn(char) -> bool) {
    match data {
        Value::String(text) => {
            if !text.chars().all(|letter| stays(letter, covered)) {
                *text = spelt(text, covered);
            }
            if text.split(char::is_whitespace).any(|word| word.len() > LONGEST) {
                *text = breakable(text);
            }
        }
        Value::Array(all) => all.iter_mut().for_each(|value| printable(value, covered)),
        Value::Object(map) => map.values_mut().for_each(|value| printable(value, covered)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// Letters that every font of a theme has.
pub(super) fn plain(letter: char) -> bool {
    matches!(letter, ' '..='~' | '\u{a0}'..='ÿ' | '–' | '—' | '‘' | '’' | '“' | '”' | '…')
}

/// The text with places to break its endless words: a space without width.
fn breakable(text: &str) -> String {
    let mut broken = String::with_capacity(text.len() * 5 / 4);
    for word in text.split_inclusive(char::is_whitespace) {
        let endless = word.chars().count() > LONGEST;
        for (at, letter) in word.chars().enumerate() {
            if endless && at > 0 && at % BREAK == 0 && letter.is_alphanumeric() {
                broken.push('\u{200b}');
            }
            broken.push(letter);
        }
    }
    broken
}

fn stays(letter: char, covered: &dyn Fn(char) -> bool) -> bool {
    letter == '\n' || (!letter.is_control() && !joins(letter) && covered(letter))
}

/// Signs that only say how the letters beside them are drawn: joiners, variation selectors, soft hyphens.
fn joins(letter: char) -> bool {
    matches!(letter, '\u{ad}' | '\u{200b}'..='\u{200d}' | '\u{2060}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}')
}

/// The text with its code points in place of what cannot be drawn: `[U+1F9FF]`.
///
/// Letters and accents that stand apart are put together first; signs that draw nothing are left out.
pub(super) fn spelt(text: &str, covered: &dyn Fn(char) -> bool) -> String {
    use unicode_normalization::UnicodeNormalization;
    let mut spelt = String::with_capacity(text.len());
    for letter in without_unseen(text).nfc() {
        match letter {
            '\t' => spelt.push(' '),
            '\r' => {}
            letter if joins(letter) => {
                // Within a script that joins its letters the sign changes the word.
                if matches!(letter, '\u{200c}' | '\u{200d}') && covered(letter) {
                    spelt.push(letter);
                }
            }
            letter if stays(letter, covered) => spelt.push(letter),
            letter => spelt.push_str(&format!("[U+{:04X}]", u32::from(letter))),
        }
    }
    spelt
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_no_font_has_is_spelt_out_and_the_rest_stays() {
        let mut data =
            json!({ "a": ["plain", "e\u{301} und 漢", { "b": "tab\there\u{7}" }, "\u{e000}"], "n": 3 });
        printable(&mut data, &plain);
        assert_eq!(
            data,
            json!({ "a": ["plain", "é und [U+6F22]", { "b": "tab here" }, "[U+E000]"], "n": 3 })
        );
    }

    #[test]
    fn endless_words_may_break_and_others_may_not() {
        let mut data = json!(format!("a {} b", "x".repeat(40)));
        printable(&mut data, &plain);
        let x = |count: usize| "x".repeat(count);
        assert_eq!(data, json!(format!("a {}\u{200b}{}\u{200b}{}\u{200b}{} b", x(12), x(12), x(12), x(4))));
        let mut data = json!("incomprehensibilities");
        printable(&mut data, &plain);
        assert_eq!(data, json!("incomprehensibilities"));
    }

    #[test]
    fn line_ends_stay_and_signs_without_a_shape_go() {
        let mut data = json!("a\r\nb\u{ad}c\u{fe0f}");
        printable(&mut data, &plain);
        assert_eq!(data, json!("a\nbc"));
    }
}
