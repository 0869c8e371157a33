//! How much people lift.

use super::finish::Seen;
use crate::fields::shape::table;
use crate::fields::{Count, Figure, Id, Said, Text};

table! {
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
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// What a team lifts.
    pub struct Team ("[[team]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// How many people.
        "people" => people: Said<Count>,
        /// The part of the sum of their single figures.
        "share" => share: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of lifting.
    pub struct LiftingTable ("lifting.toml") {
        /// What one person lifts.
        "figure" => figures: Vec<Said<LiftingFigure>>,
        /// What teams lift.
        "team" => teams: Vec<Said<Team>>,
    }
}

impl LiftingTable {
    /// What one person lifts, by id.
    pub fn figure(&self, id: &str) -> Option<&LiftingFigure> {
        self.figures.iter().map(|row| &row.value).find(|row| row.id.0 == id)
    }
}
