//! Words without their endings, so that `cracked`, `cracking` and `crack` are one.

use crate::unit::fold::{folded_word, plain};

/// The words of a text without their endings, each in its one form, with a blank before and behind each: so a phrase is
/// looked for in a text however either is written.
pub fn stems(text: &str) -> String {
    let mut stems = " ".to_owned();
    for word in plain(text).split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()) {
        stems.push_str(&stem(&folded_word(word)));
        stems.push(' ');
    }
    stems
}

/// Forms of words that no ending tells, each with what it is a form of.
const IRREGULAR: [(&str, &str); 40] = [
    ("ate", "eat"),
    ("bent", "bend"),
    ("bit", "bite"),
    ("blew", "blow"),
    ("blown", "blow"),
    ("bound", "bind"),
    ("broke", "break"),
    ("broken", "break"),
    ("burnt", "burn"),
    ("came", "come"),
    ("eaten", "eat"),
    ("fallen", "fall"),
    ("fell", "fall"),
    ("froze", "freeze"),
    ("frozen", "freeze"),
    ("gilt", "gild"),
    ("hung", "hang"),
    ("lain", "lay"),
    ("losing", "loss"),
    ("lost", "loss"),
    ("rotten", "rot"),
    ("shrank", "shrink"),
    ("shrunk", "shrink"),
    ("shrunken", "shrink"),
    ("spilt", "spill"),
    ("spoilt", "spoil"),
    ("sprang", "spring"),
    ("sprung", "spring"),
    ("stank", "stink"),
    ("stuck", "stick"),
    ("stunk", "stink"),
    ("sunken", "sink"),
    ("swollen", "swell"),
    ("tied", "tie"),
    ("tore", "tear"),
    ("torn", "tear"),
    ("wore", "wear"),
    ("worn", "wear"),
    ("wove", "weave"),
    ("woven", "weave"),
];

/// A word without its ending: `cracked`, `cracking` and `crack` have one stem, which need not be a word.
pub(crate) fn stem(word: &str) -> String {
    if let Ok(at) = IRREGULAR.binary_search_by(|(form, _)| (*form).cmp(word)) {
        return stem(IRREGULAR[at].1);
    }
    let is_vowel = |c: char| "aeiouy".contains(c);
    let bare = |rest: &&str| rest.len() > 2 && rest.contains(is_vowel);
    let ended =
        word.strip_suffix("ing").or_else(|| word.strip_suffix("ed").filter(|rest| !rest.ends_with('e')));
    let ended = ended.filter(bare);
    let mut stem = ended.unwrap_or(word).to_owned();
    let mut last = stem.chars().rev();
    let (last, before) = (last.next(), last.next());
    let doubled = stem.len() > 3 && last.is_some_and(|c| c != 's' && before == Some(c));
    if doubled || stem.len() > 4 && last == Some('e') {
        stem.pop();
    } else if ended.is_some() && stem.len() == 3 {
        // Of a short word the last letter would be doubled, had it no `e`: `faded`, but `lipped`.
        let doubled = last.is_some_and(|c| !is_vowel(c) && !"wx".contains(c)) && before.is_some_and(is_vowel);
        let starts = stem.chars().next().is_some_and(|c| !is_vowel(c));
        if doubled && starts || last == Some('u') {
            stem.push('e');
        }
    }
    stem
}

/// The words that begin otherwise than their stem does, where that is this one or begins as it does: `worn` for `wear`.
pub(super) fn begun_otherwise(stem: &str) -> impl Iterator<Item = &str> {
    let alike = move |of: &str| of.bytes().zip(stem.bytes()).take(3).all(|(one, other)| one == other);
    IRREGULAR.iter().filter(move |(_, of)| alike(of)).map(|(form, _)| *form)
}

/// What the ending of a word tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ending {
    /// It was done.
    Done,
    /// It goes on, or it is what is left of it: `droppings`.
    GoesOn,
}

/// Whether a word may say that it was done, and is no less what to do.
pub(super) fn is_same_when_done(word: &str) -> bool {
    ["burst", "cut", "shed", "shut", "split", "spread"].contains(&word)
}

/// What the ending of a word tells, if it has one.
pub(super) fn ending(word: &str) -> Option<Ending> {
    let irregular = || IRREGULAR.binary_search_by(|(form, _)| (*form).cmp(word)).is_ok();
    match word.ends_with("ing") {
        true => Some(Ending::GoesOn),
        false => (word.ends_with("ed") || irregular()).then_some(Ending::Done),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_irregular_are_sorted() {
        assert!(IRREGULAR.is_sorted());
    }

    #[test]
    fn a_phrase_is_found_in_a_text_however_either_is_written() {
        let text = stems("Glued both Back-Boards with Möller’s glue, and coloured them");
        for phrase in ["gluing", "back board", "mollers glues", "colors"] {
            assert!(text.contains(&stems(phrase)), "{phrase}: {text}");
        }
        for other in ["board back", "boar", "glu"] {
            assert!(!text.contains(&stems(other)), "{other}: {text}");
        }
        assert_eq!(stems(" - "), " ");
    }

    #[test]
    fn endings_make_no_difference_and_letters_of_the_word_do() {
        for one in [
            ["crack", "cracked", "cracking"],
            ["split", "split", "splitting"],
            ["glue", "glued", "gluing"],
            ["flake", "flaked", "flaking"],
            ["lip", "lipped", "lipping"],
            ["wax", "waxed", "waxing"],
            ["fade", "faded", "fading"],
            ["veneer", "veneered", "veneering"],
            ["break", "broken", "breaking"],
        ] {
            assert_eq!(one.map(stem), [one[0]; 3].map(stem));
        }
        for (one, other) in
            [("pin", "pine"), ("bar", "bare"), ("string", "str"), ("red", "r"), ("fad", "fade")]
        {
            assert_ne!(stem(one), stem(other), "{one}, {other}");
        }
    }

    #[test]
    fn an_ending_tells_what_was_done() {
        assert_eq!(
            ["waxed", "torn", "peeling", "wax"].map(ending),
            [Some(Ending::Done), Some(Ending::Done), Some(Ending::GoesOn), None]
        );
    }
}
