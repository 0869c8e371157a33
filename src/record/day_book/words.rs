//! The words of the bench, `words.toml`: which of them nobody else may read, and which name nobody.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::trade::Trade;
use crate::unit::calendar::{month, weekday};
use crate::unit::fold::{folded_word, folded_words};
use crate::unit::number::in_letters;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    private: PrivateWords,
    known: KnownWords,
}

/// Words that may be private, or beside which something may be.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub(super) struct PrivateWords {
    pub(super) people: BTreeSet<String>,
    pub(super) money: BTreeSet<String>,
    pub(super) money_signs: BTreeSet<String>,
    pub(super) says: BTreeSet<String>,
    pub(super) before_names: BTreeSet<String>,
    pub(super) given_names: BTreeSet<String>,
    pub(super) places: BTreeSet<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct KnownWords {
    capitals: BTreeSet<String>,
    common: BTreeSet<String>,
    deeds: BTreeSet<String>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    toml::from_str(include_str!("words.toml")).expect("the table is compiled in and tested")
});

/// The forms of all words that name nobody: those of the table, and those of the tables of the trade.
static KNOWN: LazyLock<BTreeSet<String>> = LazyLock::new(|| {
    let entries = Trade::built_in().vocabulary().into_iter().flat_map(|(_, entries)| entries);
    let forms = entries.flat_map(|entry| entry.also.into_iter().chain([entry.id, entry.name]));
    let mut known: BTreeSet<String> = forms.flat_map(|form| folded_words(&form)).collect();
    let KnownWords { capitals, common, deeds } = &TABLE.known;
    known.extend([capitals, common, deeds].into_iter().flatten().map(|word| folded_word(word)));
    known
});

/// Words that may be private, or beside which something may be.
pub(super) fn private() -> &'static PrivateWords {
    &TABLE.private
}

/// Whether a word in small letters is one of the bench, of the trade, a number, a month or a day, and so nobody's name.
pub(super) fn is_known(word: &str) -> bool {
    let form = folded_word(word);
    // `gluing` is known by `glued`, `planning` by `planned`.
    let told =
        || word.strip_suffix("ing").is_some_and(|stem| TABLE.known.deeds.contains(&format!("{stem}ed")));
    KNOWN.contains(&form) || is_number_or_day(word) || told()
}

/// Whether a word is written with a capital though it names nobody.
pub(super) fn is_known_capital(word: &str) -> bool {
    let single = word.strip_suffix('s').unwrap_or(word);
    let capitals = &TABLE.known.capitals;
    capitals.contains(word) || capitals.contains(single) || is_number_or_day(word)
}

fn is_number_or_day(word: &str) -> bool {
    in_letters(word).is_some() || month(word).is_some() || weekday(word).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_reads_and_its_words_are_in_their_form() {
        let PrivateWords { people, money, says, before_names, given_names, places, .. } = private();
        let KnownWords { capitals, common, deeds } = &TABLE.known;
        for list in [people, money, says, before_names, given_names, places, capitals, common, deeds] {
            for word in list {
                assert_eq!(*crate::unit::fold::plain(word), **word);
            }
        }
    }

    #[test]
    fn no_word_that_may_be_private_counts_as_an_ordinary_one() {
        let words = private();
        for word in words.people.iter().chain(&words.given_names).chain(&words.places) {
            assert!(!TABLE.known.common.contains(word), "{word}");
        }
    }
}
