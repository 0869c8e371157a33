//! Names that a text mentions, whatever their case, accents and spacing, and on which lines.

use super::fold::plain;

/// How surely a text mentions a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mention {
    /// It has one of its words, with a capital, or what stood beside it: that may be somebody else.
    Perhaps,
    /// It has all of it.
    Surely,
}

/// Names that are looked for, with what else was written beside them, such as an address.
#[derive(Debug, Clone, Default)]
pub struct Names {
    /// The words of each, in order.
    whole: Vec<Vec<Word>>,
    /// What stands beside a name and is shared by many, such as a town.
    beside: Vec<Vec<Word>>,
    /// Words of the names that may stand alone.
    alone: Vec<String>,
}

/// A word as it is compared.
#[derive(Debug, Clone)]
struct Word {
    letters: String,
    /// Whether it begins with a capital, or with a letter that has none.
    capital: bool,
    /// Its line, counted from 1.
    line: usize,
}

/// Words beside a name that name nobody by themselves.
const TITLES: [&str; 16] = [
    "and", "dr", "family", "lady", "lord", "messrs", "miss", "mr", "mrs", "ms", "mx", "of", "prof", "rev",
    "sir", "the",
];

impl Names {
    /// The names that texts such as `Ada Brown, 5 Mill Lane, Millbeck` begin with, what has a number or is a mail address,
    /// and what else stands between commas and the like.
    pub fn of<'t>(texts: impl IntoIterator<Item = &'t str>) -> Names {
        let mut names = Names::default();
        for text in texts {
            let parts = text.split([',', ';', '\n', '(', ')', '<', '>', '/']);
            for (at, part) in parts.filter(|part| !part.trim().is_empty()).enumerate() {
                let each = part.split(['&', '+']).flat_map(|part| part.split(" and "));
                each.for_each(|part| names.add(part, at == 0));
            }
        }
        names
    }

    fn add(&mut self, part: &str, is_name: bool) {
        let words = words_of(part);
        let letters: usize = words.iter().map(|word| word.letters.chars().count()).sum();
        let is_number = part.chars().all(|c| !c.is_alphabetic());
        // A house's number is in too many texts, and one letter in all of them.
        if words.is_empty() || letters < 2 && part.is_ascii() || is_number && letters < 5 {
            return;
        }
        if part.contains(|c: char| c.is_numeric() || c == '@') {
            return self.whole.push(words);
        }
        if !is_name {
            return self.beside.push(words);
        }
        if words.len() > 1 {
            let alone = words.iter().filter(|word| {
                word.capital && word.letters.len() > 2 && !TITLES.contains(&word.letters.as_str())
            });
            self.alone.extend(alone.map(|word| word.letters.clone()));
        }
        self.whole.push(words);
    }

    /// Whether there is no name to look for.
    pub fn is_empty(&self) -> bool {
        self.whole.is_empty()
    }

    /// The lines of a text that mention one, counted from 1, each once and as surely as it does.
    pub fn lines_of(&self, text: &str) -> Vec<(usize, Mention)> {
        let words = words_of(text);
        let mut lines: Vec<(usize, Mention)> = Vec::new();
        for (at, word) in words.iter().enumerate() {
            let has = |names: &[Vec<Word>]| names.iter().any(|name| begins(&words[at..], name));
            let mention = match has(&self.whole) {
                true => Mention::Surely,
                false if has(&self.beside) => Mention::Perhaps,
                false if word.capital && self.alone.contains(&word.letters) => Mention::Perhaps,
                false => continue,
            };
            match lines.last_mut() {
                Some((line, surest)) if *line == word.line => *surest = mention.max(*surest),
                _ => lines.push((word.line, mention)),
            }
        }
        lines
    }

    /// Whether a text has all of one of them.
    pub fn are_in(&self, text: &str) -> bool {
        self.lines_of(text).iter().any(|(_, mention)| *mention == Mention::Surely)
    }
}

/// Whether some words begin with a name. A name of one word with a capital is one only with a capital: `Ash` is no timber.
fn begins(words: &[Word], name: &[Word]) -> bool {
    let same = |(word, of): (&Word, &Word)| {
        word.letters == of.letters && (name.len() > 1 || word.capital || !of.capital)
    };
    words.len() >= name.len() && words.iter().zip(name).all(same)
}

fn words_of(text: &str) -> Vec<Word> {
    let mut words = Vec::new();
    for (line, text) in text.split('\n').enumerate() {
        // What is split at accents and apostrophes too would find a part of another name.
        for said in text.split(|c: char| !c.is_alphanumeric() && !is_within(c)) {
            let name = ["'s", "’s"].iter().find_map(|whose| said.strip_suffix(whose)).unwrap_or(said);
            let capital = name.chars().find(|c| c.is_alphanumeric()).is_some_and(|c| !c.is_lowercase());
            let plain = plain(name);
            let letters = plain.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
            words.extend(letters.map(|word| Word { letters: word.to_owned(), capital, line: line + 1 }));
        }
    }
    words
}

/// Whether a character stands within a word: an apostrophe, or an accent by itself.
fn is_within(c: char) -> bool {
    matches!(c, '\'' | '’') || unicode_normalization::char::is_combining_mark(c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn lines(names: &str, text: &str, expected: &[(usize, Mention)]) {
        assert_eq!(Names::of([names]).lines_of(text), expected, "{names}: {text}");
    }

    use Mention::{Perhaps, Surely};

    #[test]
    fn a_name_is_known_whatever_its_case_accents_and_spacing() {
        let name = "Zoë Ångström-Lee, 5 Mill Lane";
        lines(name, "for ZOE ANGSTROM LEE", &[(1, Surely)]);
        lines(name, "for Zoe\u{308}\tÅngström–Lee’s table", &[(1, Surely)]);
        lines(name, "she lives at 5, Mill Lane", &[(1, Surely)]);
        lines(name, "\n\nsaid Zoë\nÅngström-Lee\nand left", &[(3, Surely), (4, Perhaps)]);
        lines("李雷", "给 李雷 的", &[(1, Surely)]);
        lines("Fintan O'Rourke", "O’Rourke came", &[(1, Perhaps)]);
        lines("Fintan O'Rourke", "fintan o’rourke came", &[(1, Surely)]);
    }

    #[test]
    fn a_name_within_another_word_is_none_and_one_word_needs_its_capital() {
        lines("Ash", "washed the ash top; Ashes; an ash-grey stain", &[]);
        lines("Ash", "rang Ash\nAsh's table", &[(1, Surely), (2, Surely)]);
        lines("Ada Brown", "brown wax on the brown top", &[]);
        lines("Ada Brown", "Brown wax, and Adabrown", &[(1, Perhaps)]);
        lines("Mrs Brown", "Mrs Green", &[]);
        lines("somebody", "somebody came", &[(1, Surely)]);
    }

    #[test]
    fn each_name_is_looked_for_and_a_line_is_told_once() {
        let two = "Ada Brown and Bo Lee; tel. 0161 4960123";
        lines(two, "Ada Brown, Bo Lee\n01614960123\n0161 4960123", &[(1, Surely)]);
        lines("Ada Brown, 0161 4960123", "ring 0161 4960123", &[(1, Surely)]);
        lines("Ada Brown, 5", "5 coats, 5 hours", &[]);
        lines("Ada Brown, Millbeck", "in Millbeck\nADA BROWN", &[(1, Perhaps), (2, Surely)]);
        assert!(!Names::of(["Ada Brown, Millbeck"]).are_in("Workshop, Millbeck"));
        lines("5, -, A", "A 5 -", &[]);
        assert!(Names::of([""]).is_empty() && !Names::of(["x y"]).is_empty());
        assert!(Names::of(["Ada Brown"]).are_in("ada brown") && !Names::of(["Ada Brown"]).are_in("Ada"));
    }
}
