//! How the piece is looked after.

use chrono::NaiveDate;

use crate::archive::table::entry;

entry! {
    /// Parts of a surface that carry the same layers, and what they bear: for each agent what it does at worst to a layer
    /// that it reaches, `none`, `low` (if it is left standing) or `high` (at once).
    pub struct FaceEntry ("face") {
        /// The number of the surface.
        surface: usize,
        /// Its parts, by name.
        parts: String,
        /// Its layers, the exposed one first, joined by commas.
        layers: String,
        /// Whether all layers are known and whole: 1 or 0.
        sure: bool,
        /// Water.
        water: &'static str,
        /// Alcohol, as in drinks, perfume and hand gel.
        alcohol: &'static str,
        /// White spirit, turpentine and lighter fuel.
        hydrocarbon: &'static str,
        /// Something hot and dry.
        dry_heat: &'static str,
        /// Something hot and wet.
        wet_heat: &'static str,
        /// Ammonia, washing soda and strong soap.
        alkali: &'static str,
        /// Vinegar and lemon.
        acid: &'static str,
        /// Scouring and hard rubbing.
        abrasion: &'static str,
        /// Sunlight.
        light: &'static str,
        /// How damp a cloth may be: `no`, `barely` or `yes`.
        damp_cloth: &'static str,
        /// Whether nothing but a soft brush may touch it: 1 or 0.
        brush_only: bool,
        /// Whether an old layer there may hold lead: 1 or 0.
        may_hold_lead: bool,
    }
}

entry! {
    /// A day that the owner keeps, or the first of a row of them.
    pub struct UpkeepEntry ("upkeep") {
        /// What for: `light-use`, `full-cure`, `renewing` or `fixings`.
        task: &'static str,
        /// The number of the surface, where it is of one.
        surface: Option<usize>,
        /// The day, or the first.
        on_day: NaiveDate,
        /// After how many months it comes again; empty where it does not.
        every_months: Option<u32>,
    }
}
