//! All words that the tables know, and what each of them is taken for, as people look them up.

use super::lookup::{Taken, Words};
use super::spoken::WordTable;
use super::table::TradeRow;
use super::{
    Board, Covering, Edging, Finish, FixingKind, MaterialDensity, Repair, Term, Timber, Trade, Treatment,
};
use crate::fields::{Said, Text};

/// A row as people look it up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The id that a record calls it by.
    pub id: String,
    /// Its name, with what it is where the table says so.
    pub name: String,
    /// The ways people say it.
    pub also: Vec<String>,
}

/// What a word is taken for in the place of one table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sense {
    /// This row.
    Row(Entry),
    /// Nothing yet: it may mean one of these rows among others, and this is asked.
    Asked(Vec<String>, String),
    /// Nothing: this says where it belongs.
    Elsewhere(String),
}

/// A row that people look up.
trait Looked: TradeRow {
    /// Its name and, where the table says it, what it is.
    fn named(&self) -> (&str, &str);

    fn entry(&self) -> Entry {
        let (name, meaning) = self.named();
        let words = self.words().into_iter().map(|word| word.value.0.clone());
        Entry {
            id: self.key().into_owned(),
            name: if meaning.is_empty() { name.to_owned() } else { format!("{name}: {meaning}") },
            also: words.filter(|word| word != name).collect(),
        }
    }
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

impl Trade {
    /// Every row that a word names, by table.
    pub fn vocabulary(&self) -> Vec<(WordTable, Vec<Entry>)> {
        vec![
            entries(&self.board_words()),
            entries(&self.covering_words()),
            entries(&self.edging_words()),
            entries(&self.finish_words()),
            entries(&self.fixing_words()),
            entries(&self.material_words()),
            entries(&self.repair_words()),
            entries(&self.term_words()),
            entries(&self.timber_words()),
            entries(&self.treatment_words()),
        ]
    }

    /// What a word is taken for in each table that knows it.
    pub fn senses(&self, word: &str) -> Vec<(WordTable, Sense)> {
        let senses = [
            sense(&self.board_words(), word),
            sense(&self.covering_words(), word),
            sense(&self.edging_words(), word),
            sense(&self.finish_words(), word),
            sense(&self.fixing_words(), word),
            sense(&self.material_words(), word),
            sense(&self.repair_words(), word),
            sense(&self.term_words(), word),
            sense(&self.timber_words(), word),
            sense(&self.treatment_words(), word),
        ];
        senses.into_iter().flatten().collect()
    }

    /// The words that a slip of the finger would turn into this one, with their tables.
    pub fn near(&self, word: &str) -> Vec<(WordTable, Vec<String>)> {
        let near = [
            (WordTable::Board, self.board_words().near(word)),
            (WordTable::Covering, self.covering_words().near(word)),
            (WordTable::Edging, self.edging_words().near(word)),
            (WordTable::Finish, self.finish_words().near(word)),
            (WordTable::Fixing, self.fixing_words().near(word)),
            (WordTable::Material, self.material_words().near(word)),
            (WordTable::Repair, self.repair_words().near(word)),
            (WordTable::Term, self.term_words().near(word)),
            (WordTable::Timber, self.timber_words().near(word)),
            (WordTable::Treatment, self.treatment_words().near(word)),
        ];
        near.into_iter().filter(|(_, words)| !words.is_empty()).collect()
    }
}

fn said(text: &Option<Said<Text>>) -> &str {
    text.as_ref().map_or("", |text| &text.value.0)
}

fn entries<R: Looked>(words: &Words<'_, R>) -> (WordTable, Vec<Entry>) {
    (words.table, words.rows.iter().map(|row| row.value.entry()).collect())
}

fn sense<R: Looked>(words: &Words<'_, R>, word: &str) -> Option<(WordTable, Sense)> {
    let sense = match words.taken(word) {
        Taken::Row(row) => Sense::Row(row.entry()),
        Taken::Asked(row) => {
            Sense::Asked(row.may_be.iter().map(|id| id.value.0.clone()).collect(), row.ask.value.0.clone())
        }
        Taken::Elsewhere(row) => Sense::Elsewhere(row.say.value.0.clone()),
        Taken::Unknown => return None,
    };
    Some((words.table, sense))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_has_a_sense_in_each_table_that_knows_it() {
        let trade = Trade::built_in();
        let senses = trade.senses("Satinwood");
        assert!(matches!(
            &senses[..],
            [(WordTable::Finish, Sense::Asked(..)), (WordTable::Timber, Sense::Row(..))]
        ));
        let [(WordTable::Fixing, Sense::Row(row))] = &trade.senses("white glue")[..] else { panic!() };
        assert_eq!((row.id.as_str(), row.name.as_str()), ("pva-glue", "PVA glue"));
        assert_eq!(trade.senses("quaternion"), []);
    }

    #[test]
    fn every_row_that_a_word_may_mean_is_in_the_tables() {
        let trade = Trade::built_in();
        let vocabulary = trade.vocabulary();
        for row in &trade.spoken.ambiguous {
            let (_, entries) = vocabulary.iter().find(|(table, _)| *table == row.r#in.value).unwrap();
            for id in &row.may_be {
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
