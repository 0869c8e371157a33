//! Rooms, and how moist wood becomes in their air.

use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Figure, Id, Number, Range, Said, Text};

trade_row! {
    /// One of the four factors of the equation for moisture content, as a polynomial of the temperature in °C.
    pub struct Coefficient ("[[coefficient]]") {
        /// Its id: `k`, `k1`, `k2` or `w`.
        "id" => id: Said<Id>,
        /// The term without temperature.
        "a0" => a0: Said<Number>,
        /// The factor of the temperature.
        "a1" => a1: Said<Number>,
        /// The factor of its square.
        "a2" => a2: Said<Number>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["symbol"];
}

trade_row! {
    /// Air of a room, advised or assumed.
    pub struct RoomClimate ("[[room]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it is, as printed.
        "name" => name: Option<Said<Text>>,
        /// Relative humidity in percent.
        "rh" => rh: Said<Range>,
        /// Temperature in degrees Celsius.
        "c" => c: Option<Said<Range>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// The most that a single quantity should reach.
    pub struct Limit ("[[limit]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it limits, as printed.
        "name" => name: Said<Text>,
        /// The limit.
        "value" => value: Said<Figure>,
        /// Its unit.
        "unit" => unit: Option<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of rooms.
    pub struct ClimateTable ("climate.toml") {
        /// Factors of the equation.
        "coefficient" => coefficients: Vec<Said<Coefficient>>,
        /// Rooms.
        "room" => rooms: Vec<Said<RoomClimate>>,
        /// Limits.
        "limit" => limits: Vec<Said<Limit>>,
    }
    retired = ["at-20c"];
}

impl ClimateTable {
    /// A factor of the equation, by id.
    pub fn coefficient(&self, id: &str) -> Option<&Coefficient> {
        by_id(&self.coefficients, id)
    }

    /// A room, by id.
    pub fn room(&self, id: &str) -> Option<&RoomClimate> {
        by_id(&self.rooms, id)
    }

    /// A limit, by id.
    pub fn limit(&self, id: &str) -> Option<&Limit> {
        by_id(&self.limits, id)
    }
}
