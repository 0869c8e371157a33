//! The spoken forms of a table, found by how their words begin.
//!
//! A table has thousands of words, and a phrase a handful: only the forms are looked at closely that have a word which
//! begins as one of the phrase does.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

/// Shorter words are no halves of a word that is written as one.
pub(super) const SHORTEST_OF_PAIR: usize = 3;

/// A spoken form.
#[derive(Debug)]
pub(super) struct Form<M> {
    /// Its words, as they are compared.
    pub(super) words: Vec<String>,
    /// What it stands for.
    pub(super) meaning: M,
}

/// The spoken forms of a table.
#[derive(Debug)]
pub(super) struct Forms<M> {
    forms: Vec<Form<M>>,
    /// Which words of which forms begin so.
    beginning: BTreeMap<Beginning, Vec<Place>>,
}

/// The first three bytes of a word.
type Beginning = [u8; 3];

/// A form, and which of its words.
#[derive(Debug, Clone, Copy)]
struct Place {
    form: usize,
    word: usize,
}

impl<M> Default for Forms<M> {
    fn default() -> Forms<M> {
        Forms { forms: Vec::new(), beginning: BTreeMap::new() }
    }
}

impl<M> Forms<M> {
    /// Adds a form.
    pub(super) fn add(&mut self, words: Vec<String>, meaning: M) {
        for (at, word) in words.iter().enumerate() {
            let place = Place { form: self.forms.len(), word: at };
            self.beginning.entry(beginning(word)).or_default().push(place);
        }
        self.forms.push(Form { words, meaning });
    }

    /// All of them, in the order in which they were added.
    pub(super) fn all(&self) -> &[Form<M>] {
        &self.forms
    }

    /// The places of forms that have a word which begins as this one does; some may come twice.
    pub(super) fn beginning_as(&self, word: &str) -> impl Iterator<Item = usize> + '_ {
        self.beginning.get(&beginning(word)).into_iter().flatten().map(|place| place.form)
    }

    /// Whether a form has this word.
    pub(super) fn has_word(&self, word: &str) -> bool {
        let places = self.beginning.get(&beginning(word)).into_iter().flatten();
        places.into_iter().any(|place| self.forms[place.form].words[place.word] == word)
    }

    /// Where the second of two words begins that stand beside each other in a form, and here as one.
    pub(super) fn parted(&self, word: &str) -> Option<usize> {
        if word.len() < 2 * SHORTEST_OF_PAIR {
            return None;
        }
        self.beginning.get(&beginning(word)).into_iter().flatten().find_map(|place| {
            let [first, second, ..] = &self.forms[place.form].words[place.word..] else { return None };
            let long = first.len().min(second.len()) >= SHORTEST_OF_PAIR;
            let are = long && word.strip_prefix(first.as_str()) == Some(second);
            are.then_some(first.len())
        })
    }

    /// The words that begin as this one does, or with its first two letters the other way round, and the places of their
    /// forms; the first word of each form alone where `first` is said.
    pub(super) fn near(&self, word: &str, first: bool) -> impl Iterator<Item = (&str, usize)> {
        let places = starts(word).into_iter().flatten().flat_map(|start| self.beginning.range(start));
        let places = places.flat_map(|(_, places)| places).filter(move |place| !first || place.word == 0);
        places.map(|place| (self.forms[place.form].words[place.word].as_str(), place.form))
    }
}

fn beginning(word: &str) -> Beginning {
    let mut beginning = [0; 3];
    let length = word.len().min(3);
    beginning[..length].copy_from_slice(&word.as_bytes()[..length]);
    beginning
}

/// How words begin that may be meant by one.
fn starts(word: &str) -> [Option<RangeInclusive<Beginning>>; 2] {
    match *word.as_bytes() {
        [first, second, ..] if first != second => {
            let turned = [second, first, 0]..=[second, first, u8::MAX];
            [Some([first, 0, 0]..=[first, u8::MAX, u8::MAX]), Some(turned)]
        }
        [first, ..] => [Some([first, 0, 0]..=[first, u8::MAX, u8::MAX]), None],
        [] => [None, None],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn forms() -> Forms<u8> {
        let mut forms = Forms::default();
        for (at, form) in ["water based varnish", "chipboard", "old oak", "oil"].into_iter().enumerate() {
            forms.add(form.split(' ').map(str::to_owned).collect(), at as u8);
        }
        forms
    }

    #[test]
    fn words_are_found_by_how_they_begin() {
        let forms = forms();
        assert_eq!(forms.beginning_as("varnishes").collect::<Vec<_>>(), [0]);
        assert!(
            forms.has_word("oil") && !forms.has_word("oi") && !forms.has_word("chip") && !forms.has_word("")
        );
        assert_eq!(forms.parted("waterbased"), Some(5));
        assert_eq!(
            [forms.parted("chipboard"), forms.parted("oldoaks"), forms.parted("waterbase")],
            [None; 3]
        );
    }

    #[test]
    fn near_words_share_their_first_letter_or_turn_the_first_two() {
        let forms = forms();
        let near =
            |word: &str, first: bool| forms.near(word, first).map(|(word, _)| word).collect::<Vec<_>>();
        assert_eq!(near("avrnish", false), ["varnish"]);
        assert_eq!(near("oak", true), ["oil", "old"]);
        assert_eq!(near("oak", false), ["oak", "oil", "old"]);
        assert!(near("", false).is_empty() && near("zinc", false).is_empty());
    }
}
