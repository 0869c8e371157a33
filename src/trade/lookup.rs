//! What a word of a record is taken for: the row of a table that it names, however it is said.
//!
//! A row is named by its id, by the names that are printed for it, and by the words of its `also`. Of each only one
//! form is kept, in which case, accents, hyphens, spaces, plural endings and British or American spelling make no
//! difference. A lookup is made once for a table, when first a word is asked for that is no id.

use std::collections::{BTreeSet, HashMap};
use std::sync::OnceLock;

use super::spoken::{Ambiguous, Misplaced, SpokenTable, WordTable};
use super::table::{TradeRow, by_id};
use crate::fields::Said;
use crate::unit::fold::{folded, folded_words};

/// What a word is taken for.
#[derive(Debug, PartialEq)]
pub enum Taken<'a, R> {
    /// This row.
    Row(&'a R),
    /// Nothing yet: it means several things.
    Asked(&'a Ambiguous),
    /// Nothing: it belongs in another place of the record.
    Elsewhere(&'a Misplaced),
    /// Nothing: no table knows it.
    Unknown,
}

impl<'a, R> Taken<'a, R> {
    /// The row, where it is taken for one.
    pub fn row(self) -> Option<&'a R> {
        match self {
            Taken::Row(row) => Some(row),
            _ => None,
        }
    }
}

/// What stands for one form: a position in the table's rows or in the lists of words.
#[derive(Debug, Clone, Copy)]
enum Meaning {
    Row(usize),
    Asked(usize),
    Elsewhere(usize),
}

/// The words of one table. A copy is empty, since rows may be laid over those that it was made of.
#[derive(Debug, Default)]
pub struct Lookup(OnceLock<HashMap<String, Meaning>>);

impl Clone for Lookup {
    fn clone(&self) -> Lookup {
        Lookup::default()
    }
}

/// Lookups follow from the rows, and those are compared.
impl PartialEq for Lookup {
    fn eq(&self, _: &Lookup) -> bool {
        true
    }
}

/// A lookup for each table of words, and which rows are the workshop's own.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Lookups {
    pub(super) own: OwnRows,
    pub(super) board: Lookup,
    pub(super) covering: Lookup,
    pub(super) edging: Lookup,
    pub(super) finish: Lookup,
    pub(super) fixing: Lookup,
    pub(super) material: Lookup,
    pub(super) repair: Lookup,
    pub(super) term: Lookup,
    pub(super) timber: Lookup,
    pub(super) treatment: Lookup,
}

/// The rows that are the workshop's own: what a list's rows are called, and the key of the row.
pub(super) type OwnRows = BTreeSet<(&'static str, String)>;

/// Where the words of a table are looked up.
#[derive(Debug)]
pub struct Words<'a, R> {
    pub(super) table: WordTable,
    pub(super) rows: &'a [Said<R>],
    pub(super) lookup: &'a Lookup,
    pub(super) own: &'a OwnRows,
    pub(super) spoken: &'a SpokenTable,
}

impl<'a, R: TradeRow> Words<'a, R> {
    /// What a word is taken for. An id costs no more than the way to its row.
    pub fn taken(&self, word: &str) -> Taken<'a, R> {
        if let Some(row) = by_id(self.rows, word) {
            return Taken::Row(row);
        }
        let form = folded(word);
        match self.lookup.0.get_or_init(|| self.meanings()).get(&form) {
            Some(Meaning::Row(at)) => Taken::Row(&self.rows[*at].value),
            Some(Meaning::Asked(at)) => Taken::Asked(&self.spoken.ambiguous[*at].value),
            Some(Meaning::Elsewhere(at)) => Taken::Elsewhere(&self.spoken.misplaced[*at].value),
            None => Taken::Unknown,
        }
    }

    /// The ids and spoken words of rows that a slip of the finger would turn into this one: the likeliest, one for a row.
    ///
    /// Resemblance alone is none: a name has its first letter and its numbers, and what is wrong is a letter or two.
    /// Nothing is near to a word that the table knows.
    pub fn near(&self, typed: &str) -> Vec<String> {
        if !matches!(self.taken(typed), Taken::Unknown) {
            return Vec::new();
        }
        let typed = folded_words(typed);
        let begins: Vec<char> = typed.concat().chars().take(2).collect();
        let mut near: Vec<(usize, String)> = Vec::new();
        for row in self.rows.iter().map(|row| &row.value) {
            let also = row.words().into_iter().map(|word| word.value.0.clone());
            let words = std::iter::once(row.key().into_owned()).chain(also);
            // Most begin otherwise, and need not be looked at closely.
            let words =
                words.filter(|word| begins.iter().any(|letter| word.to_lowercase().starts_with(*letter)));
            let slips = words.filter_map(|word| Some((slips(&typed, &folded_words(&word))?, word)));
            near.extend(slips.min_by_key(|(few, _)| *few));
        }
        let least = near.iter().map(|(few, _)| *few).min();
        near.retain(|(few, _)| Some(*few) == least);
        near.into_iter().map(|(_, word)| word).take(3).collect()
    }

    /// Every form of the table with what it stands for. An id is its row's; then come the workshop's own words, those
    /// that mean several things, those of our rows, and those that belong elsewhere.
    fn meanings(&self) -> HashMap<String, Meaning> {
        let mut meanings = HashMap::new();
        let mut add = |word: &str, meaning: Meaning| {
            let form = folded(word);
            if !form.is_empty() {
                meanings.entry(form).or_insert(meaning);
            }
        };
        for (at, row) in self.rows.iter().enumerate() {
            add(&row.value.key(), Meaning::Row(at));
        }
        let (own, ours): (Vec<_>, Vec<_>) = self
            .rows
            .iter()
            .enumerate()
            .partition(|(_, row)| self.own.contains(&(R::CALLED, row.value.key().into_owned())));
        for (at, row) in own {
            row.value.words().into_iter().for_each(|word| add(&word.value, Meaning::Row(at)));
        }
        for (at, row) in
            self.spoken.ambiguous.iter().enumerate().filter(|(_, row)| row.r#in.value == self.table)
        {
            row.words().into_iter().for_each(|word| add(&word.value, Meaning::Asked(at)));
        }
        for (at, row) in ours {
            row.value.words().into_iter().for_each(|word| add(&word.value, Meaning::Row(at)));
        }
        for (at, row) in
            self.spoken.misplaced.iter().enumerate().filter(|(_, row)| row.r#in.value == self.table)
        {
            row.words().into_iter().for_each(|word| add(&word.value, Meaning::Elsewhere(at)));
        }
        meanings
    }
}

/// How many slips of the finger lie between two names, where so few letters are wrong that the one was meant for the
/// other; each word of one is held against that of the other, or both as a whole where a space is wrong.
fn slips(typed: &[String], meant: &[String]) -> Option<usize> {
    if typed.len() == meant.len() {
        return typed.iter().zip(meant).map(|(typed, meant)| slips_of_word(typed, meant)).sum();
    }
    slips_of_word(&typed.concat(), &meant.concat()).filter(|slips| *slips < 2)
}

/// The same for a word: one slip, and two in a long word. A letter stands for another only where a finger or an ear may
/// take the one for the other, and in short words nothing does, since those are other words.
///
/// Source: our own choice.
fn slips_of_word(typed: &str, meant: &str) -> Option<usize> {
    let (long, other) = (typed.chars().count(), meant.chars().count());
    let allowed = match long.min(other) {
        0..4 => 0,
        4..12 => 1,
        _ => 2,
    };
    if long.abs_diff(other) > allowed || digits(typed).ne(digits(meant)) || !same_start(typed, meant) {
        return None;
    }
    let slips = strsim::osa_distance(typed, meant);
    let sorted = |word: &str| {
        let mut letters: Vec<char> = word.chars().collect();
        letters.sort_unstable();
        letters
    };
    let replaced = long == other && sorted(typed) != sorted(meant);
    let mut other_letters = typed.chars().zip(meant.chars()).filter(|(typed, meant)| typed != meant);
    let by_mistake = !replaced || long > 5 && other_letters.all(|(typed, meant)| mistaken(typed, meant));
    (slips <= allowed && by_mistake).then_some(slips)
}

/// Whether one letter is written for the other: its key lies beside it, or both are vowels.
fn mistaken(typed: char, meant: char) -> bool {
    const ROWS: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];
    let key = |letter: char| {
        ROWS.iter()
            .enumerate()
            .find_map(|(row, keys)| Some((row, keys.chars().position(|key| key == letter)?)))
    };
    let beside = |(row, at): (usize, usize), (other, place): (usize, usize)| {
        row.abs_diff(other) <= 1 && at.abs_diff(place) <= 1
    };
    let vowels = |letter| "aeiouy".contains(letter);
    key(typed).zip(key(meant)).is_some_and(|(typed, meant)| beside(typed, meant))
        || vowels(typed) && vowels(meant)
}

fn digits(word: &str) -> impl Iterator<Item = char> + '_ {
    word.chars().filter(char::is_ascii_digit)
}

/// Whether two forms begin with one letter, or with the same two the other way round.
fn same_start(typed: &str, meant: &str) -> bool {
    let start = |word: &str| {
        let mut letters = word.chars();
        (letters.next(), letters.next())
    };
    let ((first, second), (other, next)) = (start(typed), start(meant));
    first == other || (first == next && second == other)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::super::Trade;
    use super::super::table::List;
    use super::*;

    #[test]
    fn spoken_words_are_taken_for_rows() {
        let trade = Trade::built_in();
        let finish = |word: &str| trade.finish(word).map(|row| row.id.0.as_str());
        for word in ["shellac", "French polish", "french-polish", "FRENCH POLISHES"] {
            assert_eq!(finish(word), Some("shellac"), "{word}");
        }
        assert_eq!(finish("danish oil"), Some("wiping-oil-blend"));
        let fixing = |word: &str| trade.fixing(word).map(|row| row.id.0.as_str());
        assert_eq!(fixing("PVA"), Some("pva-glue"));
        assert_eq!(fixing("cross dowel and bolts"), Some("barrel-nut"));
        assert_eq!(trade.term("Wobbly joint").map(|row| row.id.0.as_str()), Some("loose-joint"));
        assert_eq!(trade.timber("Scotch pine").map(|row| row.id.0.as_str()), Some("scots-pine"));
        assert_eq!(finish("oxalic"), None);
        assert_eq!(finish(""), None);
    }

    #[test]
    fn a_slip_of_the_finger_is_seen_and_resemblance_is_none() {
        let trade = Trade::built_in();
        assert_eq!(trade.finish_words().near("shellca"), ["shellac"]);
        assert_eq!(trade.finish_words().near("hsellac"), ["shellac"]);
        assert_eq!(trade.finish_words().near("dansh oil"), ["danish oil"]);
        assert_eq!(trade.timber_words().near("whit-oak"), ["white-oak"]);
        assert_eq!(trade.timber_words().near("sapela"), ["sapele"]);
        for word in ["oxalic acid", "satin paint", "gold leaf", "hardener", "aerosol", ""] {
            assert!(trade.finish_words().near(word).is_empty(), "{word}");
        }
        for word in ["hardwood", "pins", "task", "white elm", "red oat meal", "fir"] {
            assert!(trade.timber_words().near(word).is_empty(), "{word}");
        }
        for word in ["kissing", "broken lass", "gist", "leafing"] {
            assert!(trade.term_words().near(word).is_empty(), "{word}");
        }
        assert!(trade.fixing_words().near("36mm hinge").is_empty());
    }

    #[test]
    fn within_a_table_a_form_stands_for_one_row() {
        for List { key, rows, words } in Trade::built_in().listed().into_iter().flat_map(|table| table.lists)
        {
            let mut forms: BTreeMap<(&str, String), &str> = BTreeMap::new();
            for ((id, _), words) in rows.iter().zip(&words) {
                // Spoken words of no row are those of several tables, each named before a stroke.
                let (table, _) = id.split_once('/').unwrap_or((key, id));
                for word in words {
                    let other = forms.insert((table, folded(word)), id).filter(|other| other != id);
                    assert_eq!(other, None, "[[{key}]] {id}: {word}");
                }
            }
        }
    }

    #[test]
    fn spoken_words_are_sorted_and_say_nothing_twice() {
        for table in Trade::built_in().listed() {
            let lists: toml::Table = table.text.parse().unwrap();
            for row in lists.values().flat_map(|rows| rows.as_array().unwrap()) {
                let Some(also) = row.get("also") else { continue };
                let also: Vec<&str> =
                    also.as_array().unwrap().iter().map(|word| word.as_str().unwrap()).collect();
                let order: Vec<String> = also.iter().map(|word| word.to_lowercase()).collect();
                assert!(order.is_sorted(), "{}: {also:?}", table.file);
                let names =
                    ["id", "word", "name", "label"].into_iter().filter_map(|key| row.get(key)?.as_str());
                let forms: BTreeSet<String> = names.map(folded).collect();
                let all: BTreeSet<String> =
                    also.iter().map(|word| folded(word)).chain(forms.clone()).collect();
                assert_eq!(all.len(), forms.len() + also.len(), "{}: {also:?}", table.file);
                assert!(!all.contains(""), "{}: {also:?}", table.file);
            }
        }
    }

    /// The forms of `tests/data/spoken.toml`: what people say for the rows, of trade usage.
    #[test]
    fn what_people_say_is_taken_for_its_row_or_for_none() {
        let trade = Trade::built_in();
        let file: toml::Table = include_str!("../../tests/data/spoken.toml").parse().expect("it is TOML");
        let [mut taken, mut asked, mut unknown] = [0; 3];
        for form in file["form"].as_array().unwrap() {
            let (table, id) = form["for"].as_str().unwrap().split_once('/').unwrap();
            for said in form["said"].as_array().unwrap().iter().map(|said| said.as_str().unwrap()) {
                let (row, asks) = told_in(trade, table, said);
                assert!(row.as_deref().is_none_or(|row| row == id), "{table}/{id}: {said} is {row:?}");
                match (row, asks) {
                    (Some(_), _) => taken += 1,
                    (None, true) => asked += 1,
                    (None, false) => unknown += 1,
                }
            }
        }
        assert_eq!([taken, asked, unknown], [7174, 9, 507]);
    }

    /// The terms of `tests/data/conservation.toml`: published vocabularies of conditions and of conservation.
    #[test]
    fn terms_of_published_vocabularies_have_their_row() {
        let trade = Trade::built_in();
        let file: toml::Table =
            include_str!("../../tests/data/conservation.toml").parse().expect("it is TOML");
        let vocabularies = file["vocabulary"].as_array().unwrap();
        assert!(vocabularies.iter().all(|one| !one["source"].as_str().unwrap().is_empty()));
        let mut terms = 0;
        for (said, row) in vocabularies.iter().flat_map(|one| one["terms"].as_table().unwrap()) {
            let (table, id) = row.as_str().unwrap().split_once('/').unwrap();
            assert_eq!(told_in(trade, table, said), (Some(id.to_owned()), false), "{said}");
            terms += 1;
        }
        assert!(terms > 150);
    }

    /// What a word is taken for in a table of this name.
    fn told_in(trade: &Trade, table: &str, said: &str) -> (Option<String>, bool) {
        match table {
            "board" => told(trade.board_words(), said),
            "covering" => told(trade.covering_words(), said),
            "edging" => told(trade.edging_words(), said),
            "finish" => told(trade.finish_words(), said),
            "fixing" => told(trade.fixing_words(), said),
            "material" => told(trade.material_words(), said),
            "repair" => told(trade.repair_words(), said),
            "term" => told(trade.term_words(), said),
            "timber" => told(trade.timber_words(), said),
            "treatment" => told(trade.treatment_words(), said),
            table => panic!("there is no table {table}"),
        }
    }

    /// The row that a word is taken for, and whether something is asked or said about it.
    fn told<R: TradeRow>(words: Words<'_, R>, said: &str) -> (Option<String>, bool) {
        match words.taken(said) {
            Taken::Row(row) => (Some(row.key().into_owned()), false),
            Taken::Asked(_) | Taken::Elsewhere(_) => (None, true),
            Taken::Unknown => (None, false),
        }
    }
}
