//! Words for what is seen on a piece.

use crate::fields::shape::table;
use crate::fields::{Id, Said, Text};

table! {
    /// One term for something seen.
    pub struct Term ("[[term]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// The word, as printed.
        "label" => label: Said<Text>,
        /// What it means.
        "meaning" => meaning: Said<Text>,
        /// What it concerns.
        "group" => group: Said<Text>,
        /// Other words for it.
        "also" => also: Vec<Said<Text>>,
        /// Whether a careful workshop tells the buyer.
        "tell-buyer" => tell_buyer: Said<bool>,
        /// Whether a careful workshop checks it before a sale.
        "check-before-sale" => check_before_sale: Said<bool>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

table! {
    /// The table of terms.
    pub struct TermTable ("term.toml") {
        /// The rows.
        "term" => rows: Vec<Said<Term>>,
    }
}
