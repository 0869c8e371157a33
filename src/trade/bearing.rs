//! How small words bear on a phrase: what tells nothing, what denies, what only likens.

use std::collections::HashMap;

use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};
use crate::unit::fold::folded_words;

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

/// The small words of all tables, by their forms.
#[derive(Debug, Default)]
pub(super) struct SmallWords {
    /// What each does, and in the place of which tables.
    bearings: HashMap<String, Vec<(Bearing, Tables)>>,
    /// How many words the longest has that begins with this one.
    longest: HashMap<String, usize>,
}

/// A set of tables, by bits.
type Tables = u16;

impl SmallWords {
    /// The small words of a table of them.
    pub(super) fn of(bearings: &BearingTable) -> SmallWords {
        let mut small = SmallWords::default();
        for row in &bearings.rows {
            let tables: Tables = match &row.r#in[..] {
                [] => Tables::MAX,
                named => named.iter().map(|table| 1 << table.value as Tables).sum(),
            };
            for word in &row.words {
                let forms = folded_words(&word.value);
                small.bearings.entry(forms.concat()).or_default().push((row.does.value, tables));
                if let [first, _, ..] = &forms[..] {
                    let longest = small.longest.entry(first.clone()).or_default();
                    *longest = forms.len().max(*longest);
                }
            }
        }
        small
    }

    /// What a word does in the place of a table, given in its form.
    pub(super) fn bearing(&self, form: &str, table: WordTable) -> Option<Bearing> {
        let here = |(_, tables): &&(Bearing, Tables)| tables & (1 << table as Tables) != 0;
        self.bearings.get(form)?.iter().filter(here).map(|(does, _)| *does).min()
    }

    /// How many words the longest of them has that begins with this one.
    pub(super) fn longest(&self, first: &str) -> usize {
        self.longest.get(first).copied().unwrap_or(1)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::trade::Trade;
    use crate::unit::fold::folded;

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
