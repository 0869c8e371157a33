//! Coverings: woven seats, leather and cloth, what lies beneath them, and what trims them.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// Where a covering has its place.
    pub enum CoveringGroup {
        /// Over the stuffing.
        Cover = "cover",
        /// Leather.
        Hide = "hide",
        /// Inside a drawer or box.
        Lining = "lining",
        /// Cloth coated to look like leather.
        PlasticCloth = "plastic-cloth",
        /// Woven or stretched as the seat itself.
        Seat = "seat",
        /// What a seat is stuffed with.
        Stuffing = "stuffing",
        /// On edges and seams.
        Trim = "trim",
        /// Below the cover.
        UnderCloth = "under-cloth",
    }
}

trade_row! {
    /// One covering.
    pub struct Covering ("[[covering]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "label" => label: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// The rows that it stands for, where it is a word for several kinds.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it is.
        "meaning" => meaning: Said<Text>,
        /// Where it has its place.
        "group" => group: Said<CoveringGroup>,
        /// How its owner looks after it.
        "owner" => owner: Option<Said<Text>>,
        /// How it comes off.
        "undo" => undo: Option<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of coverings.
    pub struct CoveringTable ("covering.toml") {
        /// The rows.
        "covering" => rows: Vec<Said<Covering>>,
    }
}

impl Trade {
    /// Where words for a covering are looked up.
    pub fn covering_words(&self) -> Words<'_, Covering> {
        self.words_of(WordTable::Covering, &self.coverings.rows)
    }

    /// The covering of this id, name or spoken word.
    pub fn covering(&self, word: &str) -> Option<&Covering> {
        self.covering_words().taken(word).row()
    }
}
