//! Words joined into lists and sentences, and what the record says in words of its own.

use crate::fields::{Said, Text};
use crate::record::{NOT_TESTED, UNKNOWN};
use crate::unit::capital;

/// Words joined as a sentence joins them: `a`, `a and b`, `a, b and c`; and with a comma before the last where one of them
/// has an `and` of its own.
pub(crate) fn list<S: AsRef<str>>(words: &[S]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [start @ .., last] => {
            let start: Vec<&str> = start.iter().map(AsRef::as_ref).collect();
            let ambiguous = words.iter().any(|word| word.as_ref().contains(" and "));
            let comma = if ambiguous { "," } else { "" };
            format!("{}{comma} and {}", start.join(", "), last.as_ref())
        }
    }
}

/// A count with its noun: `1 coat`, `3 coats`.
pub(crate) fn count(number: u32, one: &str, several: &str) -> String {
    if number == 1 { format!("1 {one}") } else { format!("{number} {several}") }
}

/// The text as a sentence: a capital at its start and a full stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '!', '?', '…']) || text.is_empty() { text } else { format!("{text}.") }
}

/// Free text in which the two reserved words are printed plainly.
pub(crate) fn said(text: &str) -> String {
    match text {
        UNKNOWN => "not known".to_owned(),
        NOT_TESTED => "not tested".to_owned(),
        other => other.to_owned(),
    }
}

/// Free text or nothing.
pub(crate) fn text(text: Option<&Said<Text>>) -> String {
    text.map_or(String::new(), |text| said(text))
}

/// Text cut at a word, where there is one, to so many letters.
pub(crate) fn shortened(text: &str, letters: usize) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() <= letters {
        return text;
    }
    let cut: String = text.chars().take(letters - 1).collect();
    let at_word = cut.rfind(' ').filter(|at| *at > cut.len() / 2).map_or(cut.as_str(), |at| &cut[..at]);
    format!("{}…", at_word.trim_end_matches([',', ';', ':', ' ']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_a_sentence_does() {
        assert_eq!(list(&["top"]), "top");
        assert_eq!(list(&["top", "leaf"]), "top and leaf");
        assert_eq!(list(&["top", "leaf", "gate"]), "top, leaf and gate");
        assert_eq!(list(&["top", "pillar and legs"]), "top, and pillar and legs");
    }

    #[test]
    fn a_sentence_ends_once() {
        assert_eq!(sentence("open the gate"), "Open the gate.");
        assert_eq!(sentence("Really?"), "Really?");
    }

    #[test]
    fn long_and_strange_titles_are_cut_at_a_word() {
        assert_eq!(shortened("a  b", 9), "a b");
        assert_eq!(shortened(&"word ".repeat(30), 12), "word word…");
        assert_eq!(shortened(&"é".repeat(30), 5), "éééé…");
    }
}
