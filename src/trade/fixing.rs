//! Kinds of fixing, glue and fitting.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text, Year};

choices! {
    /// When a fixing belongs to the trade. Evidence about the part, never proof.
    pub enum Era {
        /// Used long before 1900 and since.
        Traditional = "traditional",
        /// A fixing of the twentieth century or later.
        Modern = "modern",
        /// It tells nothing.
        Either = "either",
    }
}

choices! {
    /// What sort of fixing it is.
    pub enum Sort {
        /// Screws.
        Screw = "screw",
        /// Nails, pins and staples.
        Nail = "nail",
        /// Hinges.
        Hinge = "hinge",
        /// Glues.
        Glue = "glue",
        /// Locks, castors, brackets and the like.
        Fitting = "fitting",
        /// Loose pieces in a joint.
        Joint = "joint",
        /// Everything else.
        Other = "other",
    }
}

trade_row! {
    /// One kind of fixing.
    pub struct FixingKind ("[[fixing]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// One of them, as printed.
        "label" => label: Said<Text>,
        /// Several of them, as printed.
        "label-plural" => label_plural: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// What sort it is.
        "group" => sort: Said<Sort>,
        /// When it belongs to the trade.
        "era" => era: Said<Era>,
        /// The year below which it hardly exists.
        "not-before" => not_before: Option<Said<Year>>,
        /// The year from which it is unremarkable.
        "common-from" => common_from: Option<Said<Year>>,
        /// How it comes out again.
        "undo" => undo: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label, &row.label_plural].into_iter().chain(&row.also);
}

trade_table! {
    /// The table of fixings.
    pub struct FixingTable ("fixing.toml") {
        /// The rows.
        "fixing" => rows: Vec<Said<FixingKind>>,
    }
}

impl Trade {
    /// Where words for a fixing are looked up.
    pub fn fixing_words(&self) -> Words<'_, FixingKind> {
        self.words_of(WordTable::Fixing, &self.fixings.rows, &self.words.fixing)
    }

    /// The kind of fixing of this id, name or spoken word.
    pub fn fixing(&self, word: &str) -> Option<&FixingKind> {
        self.fixing_words().taken(word).row()
    }
}
