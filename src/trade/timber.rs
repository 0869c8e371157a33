//! Timbers: how far they move, how stiff and how heavy they are.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
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

trade_row! {
    /// One timber.
    pub struct Timber ("[[timber]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// Its common name, as printed.
        "name" => name: Said<Text>,
        /// Other common names.
        "also" => also: Vec<Said<Text>>,
        /// Its botanical name.
        "botanical" => botanical: Option<Said<Text>>,
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
        "seen" => seen: Said<Verification>,
        /// What is worth knowing about the row.
        "note" => note: Option<Said<Text>>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
}

trade_row! {
    /// How far pieces of one timber stray from its mean.
    pub struct Spread ("[[spread]]") {
        /// What strays: `density` or `moe`.
        "id" => id: Said<Id>,
        /// The coefficient of variation in percent.
        "percent" => percent: Said<Percent>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of timbers.
    pub struct TimberTable ("timber.toml") {
        /// The rows.
        "timber" => rows: Vec<Said<Timber>>,
        /// How far pieces of one timber stray from its mean.
        "spread" => spreads: Vec<Said<Spread>>,
    }
}

impl Trade {
    /// Where words for a timber are looked up.
    pub fn timber_words(&self) -> Words<'_, Timber> {
        self.words_of(WordTable::Timber, &self.timbers.rows, &self.words.timber)
    }

    /// The timber of this id, name or spoken word.
    pub fn timber(&self, word: &str) -> Option<&Timber> {
        self.timber_words().taken(word).row()
    }

    /// How far pieces of one timber stray from its mean in `density` or `moe`, as a fraction; 0 where not known.
    pub fn spread(&self, id: &str) -> f64 {
        by_id(&self.timbers.spreads, id).map_or(0.0, |row| row.percent.value.0 / 100.0)
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn a_timber_is_found_by_any_of_its_names() {
        let trade = Trade::built_in();
        for name in ["canoe birch", "Paper birch", "paper-birch"] {
            assert_eq!(trade.timber(name).map(|row| row.id.0.as_str()), Some("paper-birch"), "{name}");
        }
    }
}
