//! Repairs: what is done to a piece, as people say it.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// What a repair is made to.
    pub enum RepairGroup {
        /// Electrics.
        Electric = "electric",
        /// Glass and mirrors.
        Glass = "glass",
        /// Hinges, locks and handles.
        Hardware = "hardware",
        /// Metal parts.
        Metal = "metal",
        /// Insects.
        Pest = "pest",
        /// Safety in use.
        Safety = "safety",
        /// Woven seats.
        Seat = "seat",
        /// Stone.
        Stone = "stone",
        /// Joints and parts.
        Structure = "structure",
        /// Surfaces and their finish.
        Surface = "surface",
        /// Upholstery.
        Upholstery = "upholstery",
        /// Veneer, inlay and edging.
        Veneer = "veneer",
    }
}

trade_row! {
    /// One repair.
    pub struct Repair ("[[repair]]") {
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
        /// What it is made to.
        "group" => group: Said<RepairGroup>,
        /// What the owner should know of it.
        "owner" => owner: Option<Said<Text>>,
        /// How it comes undone, where it does.
        "undo" => undo: Option<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of repairs.
    pub struct RepairTable ("repair.toml") {
        /// The rows.
        "repair" => rows: Vec<Said<Repair>>,
    }
}

impl Trade {
    /// Where words for a repair are looked up.
    pub fn repair_words(&self) -> Words<'_, Repair> {
        self.words_of(WordTable::Repair, &self.repairs.rows)
    }

    /// The repair of this id, name or spoken word.
    pub fn repair(&self, word: &str) -> Option<&Repair> {
        self.repair_words().taken(word).row()
    }
}
