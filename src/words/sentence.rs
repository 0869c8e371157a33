//! Words joined into lists and sentences, and what the record says in words of its own.

use super::Words;
use crate::fields::{Said, Text};
use crate::record::{NOT_TESTED, UNKNOWN};
use crate::unit::capital;

impl Words {
    /// Words joined as a sentence joins them: `a`, `a and b`, `a, b and c`; and with a comma before the last where one of
    /// them has an `and` of its own.
    pub fn list<S: AsRef<str>>(&self, words: &[S]) -> String {
        let marks = self.language().marks();
        let ambiguous = words.iter().any(|word| word.as_ref().contains(&marks.pair));
        joined(
            words,
            &marks.between,
            match words.len() {
                _ if ambiguous => &marks.and_apart,
                0..=2 => &marks.pair,
                _ => &marks.and,
            },
        )
    }

    /// Words of which one holds: `a, b or c`.
    pub fn one_of<S: AsRef<str>>(&self, words: &[S]) -> String {
        let marks = self.language().marks();
        joined(words, &marks.between, if words.len() > 2 { &marks.or } else { &marks.or_pair })
    }

    /// Words side by side: `a, b, c`.
    pub fn series<S: AsRef<str>>(&self, words: &[S]) -> String {
        let marks = self.language().marks();
        joined(words, &marks.between, &marks.between)
    }

    /// A name of the trade's tables as it stands within a sentence: in small letters where the language has it so, but
    /// for the words that it keeps and for letters that stand for words.
    pub(super) fn within_a_sentence(&self, name: &str) -> String {
        let Some(kept) = self.language().marks().kept.as_ref() else { return name.to_owned() };
        let word = |word: &str| {
            let abbreviated = word.chars().count() > 1 && word.chars().all(char::is_uppercase);
            match abbreviated || kept.iter().any(|kept| kept == word) {
                true => word.to_owned(),
                false => word.to_lowercase(),
            }
        };
        name.split(' ').map(word).collect::<Vec<_>>().join(" ")
    }

    /// Free text in which the two reserved words are printed plainly.
    pub fn said(&self, text: &str) -> String {
        match text {
            UNKNOWN => self.language().text("said-unknown"),
            NOT_TESTED => self.language().text("said-not-tested"),
            other => other.to_owned(),
        }
    }

    /// Free text or nothing.
    pub fn said_or_nothing(&self, text: Option<&Said<Text>>) -> String {
        text.map_or(String::new(), |text| self.said(text))
    }
}

fn joined<S: AsRef<str>>(words: &[S], between: &str, last: &str) -> String {
    let mut text = String::new();
    for (at, word) in words.iter().enumerate() {
        match at {
            0 => {}
            at if at + 1 == words.len() => text.push_str(last),
            _ => text.push_str(between),
        }
        text.push_str(word.as_ref());
    }
    text
}

/// The text as a sentence: a capital at its start and a full stop at its end.
pub(crate) fn sentence(text: &str) -> String {
    let text = capital(text.trim());
    if text.ends_with(['.', '!', '?', '…']) || text.is_empty() { text } else { format!("{text}.") }
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

/// Text cut where a part of its sentence ends, where there is such a place, to so many letters.
pub(crate) fn clause(text: &str, letters: usize) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if text.chars().count() <= letters {
        return text;
    }
    let ends = [", ", "; ", ": ", " (", " and "].into_iter().flat_map(|end| text.match_indices(end));
    let ends = ends.map(|(at, _)| &text[..at]).filter(|part| {
        let long = part.chars().count();
        long < letters && long * 3 >= letters
    });
    match ends.max_by_key(|part| part.len()) {
        Some(part) => format!("{part}…"),
        None => shortened(&text, letters),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_read_as_a_sentence_does() {
        let words = Words::with_currency("GBP");
        assert_eq!(words.list(&["top"]), "top");
        assert_eq!(words.list(&["top", "leaf"]), "top and leaf");
        assert_eq!(words.list(&["top", "leaf", "gate"]), "top, leaf and gate");
        assert_eq!(words.list(&["top", "pillar and legs"]), "top, and pillar and legs");
        assert_eq!(words.one_of(&["top", "leaf", "gate"]), "top, leaf or gate");
        assert_eq!(words.list(&[""; 0]), "");
    }

    #[test]
    fn names_of_places_keep_their_capitals_within_a_sentence() {
        let words = Words::with_currency("GBP");
        for (name, wanted) in [
            ("Scots pine", "Scots pine"),
            ("White oak", "white oak"),
            ("MDF", "MDF"),
            ("American elm", "American elm"),
        ] {
            assert_eq!(words.within_a_sentence(name), wanted);
        }
    }

    #[test]
    fn a_sentence_ends_once() {
        assert_eq!(sentence("open the gate"), "Open the gate.");
        assert_eq!(sentence("Really?"), "Really?");
    }

    #[test]
    fn a_clause_ends_where_a_reader_would_pause() {
        assert_eq!(
            clause("took off what was loose, wet, with a scraper", 30),
            "took off what was loose, wet…"
        );
        assert_eq!(clause("glued it", 30), "glued it");
        assert_eq!(clause(&"word ".repeat(30), 12), "word word…");
        assert_eq!(clause(&"é".repeat(30), 5), "éééé…");
    }

    #[test]
    fn long_and_strange_titles_are_cut_at_a_word() {
        assert_eq!(shortened("a  b", 9), "a b");
        assert_eq!(shortened(&"word ".repeat(30), 12), "word word…");
        assert_eq!(shortened(&"é".repeat(30), 5), "éééé…");
    }
}
