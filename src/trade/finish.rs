//! Finish families: what a surface may carry, and how its owner looks after it.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::{choices, table};
use crate::fields::{Id, Range, Said, Text};

/// The id of the row that stands for wood with nothing on it.
pub const BARE_WOOD: &str = "bare-wood";

/// The id of the row that stands for an old finish of which nothing more is said.
const OLD_FINISH: &str = "old-finish";

/// The id of shellac that is free of wax.
pub const DEWAXED_SHELLAC: &str = "dewaxed-shellac";

choices! {
    /// The chemistry of a finish, as a workshop sorts its shelf.
    pub enum Group {
        /// Drying oils.
        Oil = "oil",
        /// Oil with varnish or resin in it.
        OilVarnish = "oil-varnish",
        /// Waxes.
        Wax = "wax",
        /// Shellac.
        Shellac = "shellac",
        /// Solvent lacquers.
        Lacquer = "lacquer",
        /// Oil and resin varnishes.
        Varnish = "varnish",
        /// Water-borne clear finishes.
        Waterborne = "waterborne",
        /// Paints.
        Paint = "paint",
        /// Stains and dyes.
        Stain = "stain",
        /// Sealers.
        Sealer = "sealer",
        /// Everything else, such as a material that is its own surface.
        Other = "other",
    }
}

choices! {
    /// Where a finish lies.
    pub enum Layer {
        /// In the wood's pores.
        InWood = "in-wood",
        /// As a very thin film on it.
        ThinFilm = "thin-film",
        /// As a film on it.
        Film = "film",
        /// As colour in or on it.
        Colour = "colour",
        /// As preparation for what follows.
        Preparation = "preparation",
        /// Nowhere: the material is its own surface.
        Surface = "surface",
    }
}

choices! {
    /// Whether the owner can mend a small fault alone.
    pub enum OwnerRepair {
        /// With care, yes.
        Yes = "yes",
        /// Small faults only.
        Partly = "partly",
        /// It is work for a finisher.
        No = "no",
    }
}

table! {
    /// A fact about a finish, with its own source.
    pub struct FinishFact ("fact") {
        /// The fact.
        "text" => text: Said<Text>,
        /// Title, edition and table; or `common practice, no source`.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// One finish family.
    pub struct Finish ("[[finish]]") {
        /// The id that steps call it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// What it is, in everyday words.
        "plain" => plain: Said<Text>,
        /// Its chemistry.
        "group" => group: Said<Group>,
        /// Where it lies.
        "layer" => layer: Said<Layer>,
        /// Whether it protects what lies below.
        "protective" => protective: Said<bool>,
        /// Editorial rating from 1 to 5, 0 where it means nothing: water.
        "water" => water: Option<Said<Range>>,
        /// The same: dry heat.
        "dry-heat" => dry_heat: Option<Said<Range>>,
        /// The same: wet heat.
        "wet-heat" => wet_heat: Option<Said<Range>>,
        /// The same: alcohol.
        "alcohol" => alcohol: Option<Said<Range>>,
        /// The same: rubbing.
        "abrasion" => abrasion: Option<Said<Range>>,
        /// The same: sunlight.
        "sunlight" => sunlight: Option<Said<Range>>,
        /// Hours until dust no longer sticks, at 20 °C and about 50 % RH.
        "dust-dry-hours" => dust_dry_hours: Option<Said<Range>>,
        /// Hours until the next coat.
        "recoat-hours" => recoat_hours: Option<Said<Range>>,
        /// Days until light use with mats.
        "light-use-days" => light_use_days: Option<Said<Range>>,
        /// Days until it is fully hard.
        "full-cure-days" => full_cure_days: Option<Said<Range>>,
        /// How to dust it.
        "dust" => dust: Said<Text>,
        /// How to clean it.
        "clean" => clean: Said<Text>,
        /// What to do about a spill.
        "spill" => spill: Said<Text>,
        /// What to do about a ring.
        "ring" => ring: Said<Text>,
        /// How to renew it.
        "renew" => renew: Said<Text>,
        /// Months between renewals.
        "renew-months" => renew_months: Option<Said<Range>>,
        /// What never to do; each follows the word "Never".
        "never" => never: Vec<Said<Text>>,
        /// How it comes off, for the next restorer.
        "undo" => undo: Said<Text>,
        /// Whether the owner can mend a small fault.
        "owner-repair" => owner_repair: Said<OwnerRepair>,
        /// Hazards of applying it.
        "bench-hazards" => bench_hazards: Vec<Said<Text>>,
        /// Whether its rags can heat up and ignite by themselves.
        "rags-self-heat" => rags_self_heat: Said<bool>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// The row of the table of introductions that tells its age, where there is one.
        "introduced" => introduced: Option<Said<Id>>,
        /// Facts with sources of their own.
        "facts" => facts: Vec<Said<FinishFact>>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
}

trade_table! {
    /// The table of finishes.
    pub struct FinishTable ("finish.toml") {
        /// The rows.
        "finish" => rows: Vec<Said<Finish>>,
    }
}

impl Finish {
    /// Whether it is an old finish of which nothing more is said, and so may be any, lead paint too.
    pub fn is_old(&self) -> bool {
        self.id.0 == OLD_FINISH
    }
}

impl Trade {
    /// Where words for a finish are looked up.
    pub fn finish_words(&self) -> Words<'_, Finish> {
        self.words_of(WordTable::Finish, &self.finishes.rows, &self.words.finish)
    }

    /// The finish family of this id, name or spoken word.
    pub fn finish(&self, word: &str) -> Option<&Finish> {
        self.finish_words().taken(word).row()
    }
}
