//! How much people lift.

use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Count, Figure, Id, Said, Text};

trade_row! {
    /// What one person lifts under the best conditions.
    pub struct LiftingFigure ("[[figure]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Of whom, as printed.
        "name" => name: Said<Text>,
        /// Kilograms.
        "kg" => kg: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// What a team lifts.
    pub struct LiftingTeam ("[[team]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// How many people.
        "people" => people: Said<Count>,
        /// The part of the sum of their single figures.
        "share" => share: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of lifting.
    pub struct LiftingTable ("lifting.toml") {
        /// What one person lifts.
        "figure" => figures: Vec<Said<LiftingFigure>>,
        /// What teams lift.
        "team" => teams: Vec<Said<LiftingTeam>>,
    }
}

impl LiftingTable {
    /// What one person lifts, by id.
    pub fn figure(&self, id: &str) -> Option<&LiftingFigure> {
        by_id(&self.figures, id)
    }
}
