//! Words for what is seen on a piece.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::{Id, Said, Text};

trade_row! {
    /// One term for something seen.
    pub struct Term ("[[term]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// The word, as printed.
        "label" => label: Said<Text>,
        /// What it means.
        "meaning" => meaning: Said<Text>,
        /// Other words for it.
        "also" => also: Vec<Said<Text>>,
        /// Whether a careful workshop tells the buyer.
        "tell-buyer" => tell_buyer: Option<Said<bool>>,
        /// Whether a careful workshop checks it before a sale.
        "check-before-sale" => check_before_sale: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label].into_iter().chain(&row.also);
    retired = ["group"];
}

trade_table! {
    /// The table of terms.
    pub struct TermTable ("term.toml") {
        /// The rows.
        "term" => rows: Vec<Said<Term>>,
    }
}

impl Trade {
    /// Where words for something seen are looked up.
    pub fn term_words(&self) -> Words<'_, Term> {
        self.words_of(WordTable::Term, &self.terms.rows)
    }

    /// The term of this id, name or spoken word.
    pub fn term(&self, word: &str) -> Option<&Term> {
        self.term_words().taken(word).row()
    }
}
