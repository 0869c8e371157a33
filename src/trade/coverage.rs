//! Coating arithmetic: films, losses, cuts, limits, and what cold does to drying.

use super::finish::Seen;
use crate::fields::shape::table;
use crate::fields::{Count, Figure, Id, Range, Said, Text};

table! {
    /// The dry film that one coat leaves.
    pub struct DryFilm ("[[film]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// How and what is laid.
        "name" => name: Said<Text>,
        /// Micrometres of dry film.
        "dry-um" => dry_um: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The share of a coating that misses, or stays in the tool.
    pub struct Loss ("[[loss]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The tool.
        "name" => name: Said<Text>,
        /// The share, from 0 to below 1.
        "loss" => loss: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// Shellac flake to a litre of alcohol.
    pub struct ShellacCut ("[[shellac-cut]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its name.
        "name" => name: Said<Text>,
        /// Grams to a litre.
        "g-per-l" => g_per_l: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// A limit of volatile organic compounds.
    pub struct VocLimit ("[[voc-limit]]") {
        /// Its category letter.
        "id" => id: Said<Id>,
        /// The category.
        "name" => name: Said<Text>,
        /// Grams to a litre, water-based.
        "water-based" => water_based: Said<Count>,
        /// Grams to a litre, solvent-based.
        "solvent-based" => solvent_based: Said<Count>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// What a workshop's temperature does to drying, in words.
    pub struct Cold ("[[cure]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What happens.
        "text" => text: Said<Text>,
        /// From which to which temperature, in degrees Celsius.
        "c" => celsius: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of coating arithmetic.
    pub struct CoverageTable ("coverage.toml") {
        /// Dry films.
        "film" => films: Vec<Said<DryFilm>>,
        /// Losses.
        "loss" => losses: Vec<Said<Loss>>,
        /// Cuts of shellac.
        "shellac-cut" => cuts: Vec<Said<ShellacCut>>,
        /// Limits of volatile organic compounds.
        "voc-limit" => limits: Vec<Said<VocLimit>>,
        /// What cold does.
        "cure" => cold: Vec<Said<Cold>>,
    }
}

impl CoverageTable {
    /// The dry film of this id.
    pub fn film(&self, id: &str) -> Option<&DryFilm> {
        self.films.iter().find(|row| row.id.0 == id).map(|row| &row.value)
    }

    /// The loss of this id.
    pub fn loss(&self, id: &str) -> Option<&Loss> {
        self.losses.iter().find(|row| row.id.0 == id).map(|row| &row.value)
    }
}
