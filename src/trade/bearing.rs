//! How small words bear on a phrase: what tells nothing, what denies, what only likens.

use std::collections::HashMap;

use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};
use crate::unit::fold::folded;

choices! {
    /// What a word does in a phrase. Of two things that a word may do the first holds.
    pub enum Bearing {
        /// What follows is not so.
        Denies = "denies",
        /// It may be so, or something else.
        Doubts = "doubts",
        /// It is like it, was it, or is to be it.
        Turns = "turns",
        /// It makes another thing of it, which is none of the trade.
        Alters = "alters",
        /// Something of the same rank follows.
        Joins = "joins",
        /// It joins a thing with what it is of.
        Of = "of",
        /// What follows is a lesser part that this lies on, over or under.
        Lies = "lies",
        /// What follows is a lesser part.
        Parts = "parts",
        /// It says nothing, not even within a spoken form.
        Silent = "silent",
        /// It tells nothing after a number.
        Measures = "measures",
        /// It tells nothing of which row is meant.
        Passes = "passes",
    }
}

trade_row! {
    /// Words of one bearing.
    pub struct SmallWordRow ("[[bearing]]") {
        /// What they are.
        "id" => id: Said<Id>,
        /// What they do in a phrase.
        "does" => does: Said<Bearing>,
        /// The tables in whose places they do so; all where none is named.
        "in" => r#in: Vec<Said<WordTable>>,
        /// The words.
        "words" => words: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The table of words that bear on a phrase.
    pub struct BearingTable ("bearing.toml") {
        /// The rows.
        "bearing" => rows: Vec<Said<SmallWordRow>>,
    }
}

/// The small words of the place of one table.
#[derive(Debug)]
pub(super) struct SmallWords {
    bearings: HashMap<String, Bearing>,
    /// How many words the longest of them has.
    longest: usize,
}

impl SmallWords {
    /// The small words of the place of a table.
    pub(super) fn of(bearings: &BearingTable, table: WordTable) -> SmallWords {
        let mut words = SmallWords { bearings: HashMap::new(), longest: 1 };
        let here =
            |row: &&Said<SmallWordRow>| row.r#in.is_empty() || row.r#in.iter().any(|one| one.value == table);
        for row in bearings.rows.iter().filter(here) {
            for word in &row.words {
                let does = words.bearings.entry(folded(&word.value)).or_insert(row.does.value);
                *does = row.does.value.min(*does);
                words.longest = words.longest.max(word.split(' ').count());
            }
        }
        words
    }

    /// What a word does, given in its form.
    pub(super) fn bearing(&self, form: &str) -> Option<Bearing> {
        self.bearings.get(form).copied()
    }

    /// How many words the longest of them has.
    pub(super) fn longest(&self) -> usize {
        self.longest
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::Trade;

    #[test]
    fn words_are_sorted_and_none_stands_twice_for_less() {
        for row in &Trade::built_in().bearings.rows {
            let words: Vec<&str> = row.words.iter().map(|word| &*word.value.0).collect();
            assert!(words.windows(2).all(|pair| pair[0] < pair[1]), "{}: {words:?}", row.id.0);
        }
        // A word that passes everywhere would do nothing as a measure but tell something without a number.
        let of = |does: Bearing| {
            let rows = Trade::built_in().bearings.rows.iter().filter(move |row| row.does.value == does);
            let rows = rows.filter(|row| row.r#in.is_empty());
            rows.flat_map(|row| row.words.iter().map(|word| folded(&word.value))).collect::<BTreeSet<_>>()
        };
        let both: Vec<String> = of(Bearing::Measures).intersection(&of(Bearing::Passes)).cloned().collect();
        assert!(both.is_empty(), "{both:?}");
    }
}
