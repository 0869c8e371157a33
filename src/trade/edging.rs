//! Edgings and inlays: strips on the edges of boards, mouldings, and what is let in.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// How an edging lies.
    pub enum EdgingGroup {
        /// On or along an edge.
        Edge = "edge",
        /// Let into a surface.
        Inlay = "inlay",
    }
}

trade_row! {
    /// One edging or inlay.
    pub struct Edging ("[[edging]]") {
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
        /// How it lies.
        "group" => group: Said<EdgingGroup>,
        /// What the owner should know of it.
        "owner" => owner: Option<Said<Text>>,
        /// How it comes off, where it does.
        "undo" => undo: Option<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of edgings.
    pub struct EdgingTable ("edging.toml") {
        /// The rows.
        "edging" => rows: Vec<Said<Edging>>,
    }
}

impl Trade {
    /// Where words for an edging are looked up.
    pub fn edging_words(&self) -> Words<'_, Edging> {
        self.words_of(WordTable::Edging, &self.edgings.rows)
    }

    /// The edging of this id, name or spoken word.
    pub fn edging(&self, word: &str) -> Option<&Edging> {
        self.edging_words().taken(word).row()
    }
}
