//! Timbers: how far they move, how stiff and how heavy they are.

use super::finish::Seen;
use crate::fields::shape::{choices, table};
use crate::fields::{Figure, Id, Percent, Said, Text};

choices! {
    /// Appendix of the Convention on International Trade in Endangered Species, as recalled.
    pub enum Cites {
        /// Not listed, as far as known.
        None = "none",
        /// Appendix I.
        One = "I",
        /// Appendix II.
        Two = "II",
        /// Appendix III.
        Three = "III",
    }
}

table! {
    /// One timber.
    pub struct Timber ("[[timber]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// Its common name, as printed.
        "name" => name: Said<Text>,
        /// Other common names.
        "also" => also: Vec<Said<Text>>,
        /// Its botanical name.
        "botanical" => botanical: Said<Text>,
        /// Radial change per percent of moisture content, as a fraction of the dimension.
        "radial" => radial: Option<Said<Figure>>,
        /// The same, tangential.
        "tangential" => tangential: Option<Said<Figure>>,
        /// Radial shrinkage in percent, green to oven-dry.
        "radial-shrinkage" => radial_shrinkage: Option<Said<Figure>>,
        /// The same, tangential.
        "tangential-shrinkage" => tangential_shrinkage: Option<Said<Figure>>,
        /// Modulus of elasticity in GPa, clear wood at 12 % moisture content.
        "moe" => moe: Said<Figure>,
        /// Oven-dry mass over volume at 12 % moisture content, relative to water.
        "specific-gravity" => specific_gravity: Said<Figure>,
        /// Whether the specific gravity is over the green volume instead.
        "green-volume" => green_volume: Option<Said<bool>>,
        /// The timber whose movement stands in, where it has no figures of its own.
        "moves-like" => moves_like: Option<Said<Id>>,
        /// Control of trade in it.
        "cites" => cites: Said<Cites>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Seen>,
        /// What is worth knowing about the row.
        "note" => note: Option<Said<Text>>,
    }
}

table! {
    /// How far pieces of one timber stray from its mean.
    pub struct Spread ("[[spread]]") {
        /// What strays: `density` or `moe`.
        "id" => id: Said<Id>,
        /// The coefficient of variation in percent.
        "percent" => percent: Said<Percent>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of timbers.
    pub struct TimberTable ("timber.toml") {
        /// The rows.
        "timber" => rows: Vec<Said<Timber>>,
        /// How far pieces of one timber stray from its mean.
        "spread" => spreads: Vec<Said<Spread>>,
    }
}
