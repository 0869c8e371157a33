//! Spoken words that name no row by themselves: those that mean several things, and those in the wrong place.

use super::phrase::Kind;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// A table whose rows are called by words.
    pub enum WordTable {
        /// Boards.
        Board = "board",
        /// Coverings.
        Covering = "covering",
        /// Edgings and inlays.
        Edging = "edging",
        /// Finishes.
        Finish = "finish",
        /// Kinds of fixing.
        Fixing = "fixing",
        /// Materials that are neither timber nor board.
        Material = "material",
        /// Repairs.
        Repair = "repair",
        /// Terms for what is seen.
        Term = "term",
        /// Timbers.
        Timber = "timber",
        /// Treatments.
        Treatment = "treatment",
    }
}

impl WordTable {
    /// What its rows are words for.
    pub(super) fn kind(self) -> Kind {
        match self {
            WordTable::Repair | WordTable::Term => Kind::Happenings,
            WordTable::Finish | WordTable::Treatment => Kind::Coats,
            _ => Kind::Things,
        }
    }
}

trade_row! {
    /// A word that means several things.
    pub struct Ambiguous ("[[ambiguous]]") {
        /// The table in whose place it was written.
        "in" => r#in: Said<WordTable>,
        /// The word.
        "word" => word: Said<Text>,
        /// Other words for it.
        "also" => also: Vec<Said<Text>>,
        /// The rows of the tables that it may mean.
        "may-be" => may_be: Vec<Said<Id>>,
        /// The row that is taken for it, where one stands for all that it may mean.
        "take" => take: Option<Said<Id>>,
        /// What to ask whoever wrote it.
        "ask" => ask: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    key = |row| format!("{}/{}", row.r#in.word(), row.word.value.0);
    words = |row| std::iter::once(&row.word).chain(&row.also);
}

trade_row! {
    /// A word in the wrong place.
    pub struct Misplaced ("[[misplaced]]") {
        /// The table in whose place it was written.
        "in" => r#in: Said<WordTable>,
        /// The word.
        "word" => word: Said<Text>,
        /// Other words of which the same is to be said.
        "also" => also: Vec<Said<Text>>,
        /// Where it belongs.
        "say" => say: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    key = |row| format!("{}/{}", row.r#in.word(), row.word.value.0);
    words = |row| std::iter::once(&row.word).chain(&row.also);
}

trade_table! {
    /// The table of spoken words.
    pub struct SpokenTable ("spoken.toml") {
        /// Words that mean several things.
        "ambiguous" => ambiguous: Vec<Said<Ambiguous>>,
        /// Words in the wrong place.
        "misplaced" => misplaced: Vec<Said<Misplaced>>,
    }
}
