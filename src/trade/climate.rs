//! Rooms, and how moist wood becomes in their air.

use super::finish::Seen;
use crate::fields::shape::table;
use crate::fields::{Figure, Id, Number, Percent, Range, Said, Text};

table! {
    /// One of the four factors of the equation for moisture content, as a polynomial of the temperature in °C.
    pub struct Coefficient ("[[coefficient]]") {
        /// Its id: `k`, `k1`, `k2` or `w`.
        "id" => id: Said<Id>,
        /// Its symbol, as printed.
        "symbol" => symbol: Said<Text>,
        /// The term without temperature.
        "a0" => a0: Said<Number>,
        /// The factor of the temperature.
        "a1" => a1: Said<Number>,
        /// The factor of its square.
        "a2" => a2: Said<Number>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// Air of a room, advised or assumed.
    pub struct Room ("[[room]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it is, as printed.
        "name" => name: Said<Text>,
        /// Relative humidity in percent.
        "rh" => rh: Said<Range>,
        /// Temperature in degrees Celsius.
        "c" => c: Option<Said<Range>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The most that a single quantity should reach.
    pub struct Limit ("[[limit]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it limits, as printed.
        "name" => name: Said<Text>,
        /// The limit.
        "value" => value: Said<Figure>,
        /// Its unit.
        "unit" => unit: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// A ready value of the equation at 20 °C.
    pub struct AtTwenty ("[[at-20c]]") {
        /// Relative humidity in percent.
        "rh" => rh: Said<Percent>,
        /// Moisture content in percent.
        "emc" => emc: Said<Percent>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of rooms.
    pub struct ClimateTable ("climate.toml") {
        /// Factors of the equation.
        "coefficient" => coefficients: Vec<Said<Coefficient>>,
        /// Rooms.
        "room" => rooms: Vec<Said<Room>>,
        /// Limits.
        "limit" => limits: Vec<Said<Limit>>,
        /// Ready values.
        "at-20c" => at_twenty: Vec<Said<AtTwenty>>,
    }
}

impl ClimateTable {
    /// A factor of the equation, by id.
    pub fn coefficient(&self, id: &str) -> Option<&Coefficient> {
        self.coefficients.iter().map(|row| &row.value).find(|row| row.id.0 == id)
    }

    /// A room, by id.
    pub fn room(&self, id: &str) -> Option<&Room> {
        self.rooms.iter().map(|row| &row.value).find(|row| row.id.0 == id)
    }

    /// A limit, by id.
    pub fn limit(&self, id: &str) -> Option<&Limit> {
        self.limits.iter().map(|row| &row.value).find(|row| row.id.0 == id)
    }
}
