//! All words that the tables know, and what each of them is taken for, as people look them up.

use super::lookup::{Taken, Words};
use super::spoken::WordTable;
use super::table::TradeRow;
use super::{
    Board, Covering, Edging, Finish, FixingKind, MaterialDensity, Repair, Term, Timber, Trade, Treatment,
};
use crate::fields::{Said, Text};
use crate::unit::fold::folded;

/// A row as people look it up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The id that a record calls it by.
    pub id: String,
    /// Its name, with what it is where the table says so.
    pub name: String,
    /// The ways people say it.
    pub also: Vec<String>,
    /// Whether it is a row of the workshop's own.
    pub own: bool,
}

/// What a word or a phrase is taken for in the place of one table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sense {
    /// The table.
    pub table: WordTable,
    /// What it is taken for.
    pub told: Told,
    /// The words of a phrase by which it is; none where the whole is a form of the table.
    pub by: Vec<String>,
}

/// What a word is taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Told {
    /// This row.
    Row {
        /// The row.
        entry: Entry,
        /// What to ask nevertheless, where the word means other rows too.
        ask: Option<String>,
        /// The row that it was a word for, before the workshop's own row took it over.
        was_for: Option<String>,
    },
    /// Nothing yet: it may mean one of these rows, among others where it is said what to ask.
    Asked {
        /// The ids of the rows.
        may_be: Vec<String>,
        /// What to ask.
        ask: Option<String>,
    },
    /// Nothing: this says where it belongs.
    Elsewhere(String),
}

/// A row that people look up.
trait Looked: TradeRow {
    /// Its name and, where the table says it, what it is.
    fn named(&self) -> (&str, &str);
}

impl Looked for Board {
    fn named(&self) -> (&str, &str) {
        (&self.name.value.0, said(&self.meaning))
    }
}

impl Looked for Covering {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, &self.meaning.value.0)
    }
}

impl Looked for Edging {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, &self.meaning.value.0)
    }
}

impl Looked for Finish {
    fn named(&self) -> (&str, &str) {
        (&self.name.value.0, &self.plain.value.0)
    }
}

impl Looked for FixingKind {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, said(&self.meaning))
    }
}

impl Looked for MaterialDensity {
    fn named(&self) -> (&str, &str) {
        (&self.name.value.0, said(&self.meaning))
    }
}

impl Looked for Repair {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, &self.meaning.value.0)
    }
}

impl Looked for Term {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, &self.meaning.value.0)
    }
}

impl Looked for Timber {
    fn named(&self) -> (&str, &str) {
        let told = self.meaning.as_ref().or(self.botanical.as_ref());
        (&self.name.value.0, told.map_or("", |told| &told.value.0))
    }
}

impl Looked for Treatment {
    fn named(&self) -> (&str, &str) {
        (&self.label.value.0, &self.meaning.value.0)
    }
}

/// The words of one table, whichever it is.
trait WordList {
    fn table(&self) -> WordTable;
    fn entries(&self) -> Vec<Entry>;
    fn sense(&self, word: &str) -> Option<Sense>;
    fn row(&self, word: &str) -> Option<Entry>;
    fn nearly(&self, word: &str) -> Vec<String>;
}

fn entry<R: Looked>(words: &Words<'_, R>, row: &R) -> Entry {
    let (name, meaning) = row.named();
    let also = row.words().into_iter().map(|word| word.value.0.clone());
    Entry {
        id: row.key().into_owned(),
        name: if meaning.is_empty() { name.to_owned() } else { format!("{name}: {meaning}") },
        also: also.filter(|word| word != name).collect(),
        own: words.is_own(row),
    }
}

impl<R: Looked> WordList for Words<'_, R> {
    fn table(&self) -> WordTable {
        self.table
    }

    fn entries(&self) -> Vec<Entry> {
        self.rows.iter().map(|row| entry(self, row)).collect()
    }

    fn sense(&self, word: &str) -> Option<Sense> {
        let (taken, by) = self.understood(word);
        let told = match taken {
            Taken::Row(row) => Told::Row {
                entry: entry(self, row),
                ask: self.question(word).map(|row| row.ask.value.0.clone()),
                was_for: self.taken_over(word),
            },
            Taken::Asked(row) => Told::Asked {
                may_be: row.may_be.iter().map(|id| id.value.0.clone()).collect(),
                ask: Some(row.ask.value.0.clone()),
            },
            // A slip of the finger is put right, and no sense.
            Taken::Between(_) if by.is_empty() => return None,
            Taken::Between(rows) => {
                Told::Asked { may_be: rows.iter().map(|row| row.key().into_owned()).collect(), ask: None }
            }
            Taken::Elsewhere(row) => Told::Elsewhere(row.say.value.0.clone()),
            Taken::Unknown => return None,
        };
        Some(Sense { table: self.table, told, by })
    }

    fn row(&self, word: &str) -> Option<Entry> {
        self.form(word).map(|row| entry(self, row))
    }

    fn nearly(&self, word: &str) -> Vec<String> {
        self.near(word)
    }
}

impl Trade {
    /// The tables of words, in the order in which they are shown.
    fn word_lists(&self) -> [Box<dyn WordList + '_>; WordTable::ALL.len()] {
        [
            Box::new(self.board_words()),
            Box::new(self.covering_words()),
            Box::new(self.edging_words()),
            Box::new(self.finish_words()),
            Box::new(self.fixing_words()),
            Box::new(self.material_words()),
            Box::new(self.repair_words()),
            Box::new(self.term_words()),
            Box::new(self.timber_words()),
            Box::new(self.treatment_words()),
        ]
    }

    /// Every row that a word names, by table.
    pub fn vocabulary(&self) -> Vec<(WordTable, Vec<Entry>)> {
        self.word_lists().iter().map(|list| (list.table(), list.entries())).collect()
    }

    /// The row of each table that has a word or phrase as it stands.
    pub fn named(&self, word: &str) -> Vec<Entry> {
        self.word_lists().iter().filter_map(|list| list.row(word)).collect()
    }

    /// What else a word of several meanings is called, and what it may mean: of `worm` `woodworm` and `flight holes`.
    pub fn may_mean(&self, word: &str) -> Vec<String> {
        let form = folded(word);
        let rows = self.spoken.ambiguous.iter().map(|row| &row.value);
        let rows = rows.filter(|row| {
            !form.is_empty() && std::iter::once(&row.word).chain(&row.also).any(|said| folded(said) == form)
        });
        let mut called: Vec<String> = Vec::new();
        for row in rows {
            let words = std::iter::once(&row.word).chain(&row.also).map(|said| said.to_string());
            let meant = row.may_be.iter().map(|id| id.value.0.replace('-', " "));
            for other in words.chain(meant).filter(|other| folded(other) != form) {
                if !called.contains(&other) {
                    called.push(other);
                }
            }
        }
        called
    }

    /// What a word or a phrase is taken for in each table that knows it; a table that has it as it stands knows best,
    /// and one that understands fewer words of it than another less.
    pub fn senses(&self, word: &str) -> Vec<Sense> {
        let mut senses: Vec<Sense> = self.word_lists().iter().filter_map(|list| list.sense(word)).collect();
        if senses.iter().any(|sense| sense.by.is_empty()) {
            senses.retain(|sense| sense.by.is_empty());
        }
        let all: Vec<Vec<String>> = senses.iter().map(|sense| sense.by.clone()).collect();
        let less = |one: &[String], other: &[String]| {
            one.len() < other.len() && one.iter().all(|word| other.contains(word))
        };
        senses.retain(|sense| !all.iter().any(|other| less(&sense.by, other)));
        senses
    }

    /// The words that a slip of the finger would turn into this one, with their tables.
    pub fn near(&self, word: &str) -> Vec<(WordTable, Vec<String>)> {
        let near = self.word_lists().iter().map(|list| (list.table(), list.nearly(word))).collect::<Vec<_>>();
        near.into_iter().filter(|(_, words)| !words.is_empty()).collect()
    }
}

fn said(text: &Option<Said<Text>>) -> &str {
    text.as_ref().map_or("", |text| &text.value.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_has_a_sense_in_each_table_that_knows_it() {
        let trade = Trade::built_in();
        let asked = |sense: &Sense| matches!(sense.told, Told::Asked { .. });
        let satinwood = trade.senses("Satinwood sheen");
        assert!(satinwood.iter().any(|sense| sense.table == WordTable::Finish && asked(sense)));
        let [Sense { table: WordTable::Fixing, told: Told::Row { entry, .. }, by }] =
            &trade.senses("white glue")[..]
        else {
            panic!("{:?}", trade.senses("white glue"))
        };
        assert_eq!((entry.id.as_str(), entry.name.as_str(), by.len()), ("pva-glue", "PVA glue", 0));
        let phrase = trade.senses("three coats of thinned shellac");
        assert_eq!(phrase[0].by, ["shellac"]);
        assert_eq!(trade.senses("quaternion"), []);
    }

    #[test]
    fn a_row_is_named_by_its_forms_alone() {
        let trade = Trade::built_in();
        let ids = |word: &str| trade.named(word).into_iter().map(|entry| entry.id).collect::<Vec<_>>();
        assert_eq!(ids("white glue"), ["pva-glue"]);
        assert_eq!(ids("three coats of shellac"), Vec::<String>::new());
    }

    #[test]
    fn every_table_of_words_is_listed_once() {
        let listed: Vec<WordTable> =
            Trade::built_in().vocabulary().into_iter().map(|(table, _)| table).collect();
        assert_eq!(listed, WordTable::ALL);
    }

    #[test]
    fn every_row_that_a_word_may_mean_is_in_the_tables() {
        let trade = Trade::built_in();
        let vocabulary = trade.vocabulary();
        for row in &trade.spoken.ambiguous {
            let (_, entries) = vocabulary.iter().find(|(table, _)| *table == row.r#in.value).unwrap();
            for id in row.may_be.iter().chain(&row.take) {
                assert!(
                    entries.iter().any(|entry| entry.id == id.value.0),
                    "{}: {}",
                    row.word.value.0,
                    id.value.0
                );
            }
        }
    }
}
