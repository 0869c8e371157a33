//! How shelves creep, how much sag is too much, and what books weigh.

use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Figure, Id, Said, Text};

trade_row! {
    /// How much a material creeps under a lasting load: the sag in the end is the sag at once times one and this.
    pub struct Creep ("[[creep]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The material, as printed.
        "material" => material: Said<Text>,
        /// The factor in a heated home.
        "heated" => heated: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["standard", "unheated", "outdoors"];
}

trade_row! {
    /// The row that stands in for a board which has none of its own.
    pub struct StandIn ("[[stand-in]]") {
        /// The board.
        "id" => id: Said<Id>,
        /// The row used for it.
        "use" => r#use: Said<Id>,
        /// Why, as printed.
        "why" => why: Said<Text>,
        /// Where the choice comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// How far a shelf may bend.
    pub struct SagLimit ("[[sag-limit]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The span is divided by this.
        "ratio" => ratio: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["text", "mm-per-m"];
}

trade_row! {
    /// What stands on shelves.
    pub struct ShelfLoad ("[[shelf-load]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Kilograms for a metre of shelf.
        "kg-per-m" => kg_per_m: Option<Said<Figure>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["name", "n-per-m", "kg-per-m3"];
}

trade_table! {
    /// The table of shelves.
    pub struct ShelfTable ("shelf.toml") {
        /// Creep.
        "creep" => creeps: Vec<Said<Creep>>,
        /// Rows that stand in for others.
        "stand-in" => stand_ins: Vec<Said<StandIn>>,
        /// Limits of sag.
        "sag-limit" => limits: Vec<Said<SagLimit>>,
        /// Loads.
        "shelf-load" => loads: Vec<Said<ShelfLoad>>,
    }
}

impl ShelfTable {
    /// How something creeps, by the id of its row or of what a row stands in for, with the reason for that.
    pub fn creep(&self, id: &str) -> Option<(&Creep, Option<&StandIn>)> {
        let stand_in = by_id(&self.stand_ins, id);
        let id = stand_in.map_or(id, |row| row.r#use.0.as_str());
        let creep = by_id(&self.creeps, id)?;
        Some((creep, stand_in))
    }

    /// A limit of sag, by id.
    pub fn limit(&self, id: &str) -> Option<&SagLimit> {
        by_id(&self.limits, id)
    }

    /// A load, by id.
    pub fn load(&self, id: &str) -> Option<&ShelfLoad> {
        by_id(&self.loads, id)
    }
}
