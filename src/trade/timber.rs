//! Timbers: how far they move, how stiff and how heavy they are.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
use crate::fields::{Figure, Id, Percent, Range, Said, Text};

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
        /// What it is, where its name does not say so.
        "meaning" => meaning: Option<Said<Text>>,
        /// The timbers that a word without a species may mean; its figures are theirs.
        "may-be" => may_be: Vec<Said<Id>>,
        /// Radial change per percent of moisture content, as a fraction of the dimension, from table to table.
        "radial" => radial: Option<Said<Range>>,
        /// The same, tangential.
        "tangential" => tangential: Option<Said<Range>>,
        /// Radial shrinkage in percent, green to oven-dry, from table to table.
        "radial-shrinkage" => radial_shrinkage: Option<Said<Range>>,
        /// The same, tangential.
        "tangential-shrinkage" => tangential_shrinkage: Option<Said<Range>>,
        /// Modulus of elasticity in GPa, clear wood at 12 % moisture content.
        "moe" => moe: Option<Said<Figure>>,
        /// Oven-dry mass over volume at 12 % moisture content, relative to water.
        "specific-gravity" => specific_gravity: Option<Said<Figure>>,
        /// Whether the specific gravity is over the green volume instead.
        "green-volume" => green_volume: Option<Said<bool>>,
        /// The timber whose movement stands in, where it has no figures of its own.
        "moves-like" => moves_like: Option<Said<Id>>,
        /// Control of trade in it; left out where the word does not tell.
        "cites" => cites: Option<Said<Cites>>,
        /// Whether only some of the species of that name are listed.
        "listed-in-part" => listed_in_part: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
        /// What is worth knowing about the row.
        "note" => note: Option<Said<Text>>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
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

/// In which appendix a timber is listed, and whether all that its word may mean is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Listing {
    /// The strictest appendix.
    pub appendix: Cites,
    /// Whether nothing that it may be is listed otherwise or not at all.
    pub certain: bool,
}

impl Timber {
    /// Whether its word tells no species.
    pub fn is_generic(&self) -> bool {
        !self.may_be.is_empty() || self.specific_gravity.is_none() && self.cites.is_none()
    }
}

impl Trade {
    /// The timbers that a row may be, each once: itself, where its word tells one.
    pub fn timbers_of<'a>(&'a self, timber: &'a Timber) -> Vec<&'a Timber> {
        let (mut open, mut passed, mut found) = (vec![timber], Vec::new(), Vec::new());
        // A workshop's rows may name one another in a ring.
        while let Some(timber) = open.pop() {
            if passed.contains(&&*timber.id.0) {
                continue;
            }
            passed.push(&*timber.id.0);
            let named = timber.may_be.iter().filter_map(|id| by_id(&self.timbers.rows, &id.0));
            match timber.may_be.is_empty() {
                true => found.push(timber),
                false => open.extend(named.rev()),
            }
        }
        found
    }

    /// How trade in a timber is controlled: for a word that tells no species, by the strictest of what it may be.
    ///
    /// `None` where nothing that it may be is listed, or nobody can know.
    pub fn listing(&self, timber: &Timber) -> Option<Listing> {
        let may_be = self.timbers_of(timber);
        let listed = |timber: &&Timber| timber.cites.as_ref().map_or(Cites::None, |cites| cites.value);
        let appendices: Vec<Cites> = may_be.iter().map(listed).collect();
        let strictest = [Cites::One, Cites::Two, Cites::Three];
        let appendix = strictest.into_iter().find(|appendix| appendices.contains(appendix))?;
        let in_part = may_be.iter().any(|row| row.listed_in_part.as_ref().is_some_and(|part| part.value));
        let certain = !in_part && appendices.iter().all(|each| *each == appendix);
        Some(Listing { appendix, certain })
    }

    /// Where words for a timber are looked up.
    pub fn timber_words(&self) -> Words<'_, Timber> {
        self.words_of(WordTable::Timber, &self.timbers.rows)
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
    use super::Cites;
    use crate::trade::Trade;
    use crate::trade::table::by_id;

    #[test]
    fn a_timber_is_found_by_any_of_its_names() {
        let trade = Trade::built_in();
        for name in ["canoe birch", "Paper birch", "paper-birch"] {
            assert_eq!(trade.timber(name).map(|row| row.id.0.as_str()), Some("paper-birch"), "{name}");
        }
    }

    #[test]
    fn every_timber_that_a_word_may_mean_is_there_and_tells_a_species() {
        let trade = Trade::built_in();
        for row in &trade.timbers.rows {
            for id in &row.may_be {
                let member = by_id(&trade.timbers.rows, &id.0).expect("it is in the table");
                assert!(member.may_be.is_empty(), "{} names {}", row.id.0, id.0);
            }
            assert!(row.may_be.is_empty() || row.cites.is_none(), "{}: its listing follows", row.id.0);
        }
    }

    #[test]
    fn a_word_that_tells_no_species_is_listed_as_the_strictest_that_it_may_be() {
        let trade = Trade::built_in();
        let listing = |word: &str| {
            let listing = trade.listing(trade.timber(word).expect("it is in the table"))?;
            Some((listing.appendix, listing.certain))
        };
        assert_eq!(listing("rosewood"), Some((Cites::One, false)));
        assert_eq!(listing("Brazilian rosewood"), Some((Cites::One, true)));
        assert_eq!(listing("mahogany type"), Some((Cites::Two, false)));
        assert_eq!(listing("ebony"), Some((Cites::Two, false)));
        assert_eq!(listing("oak"), None);
        assert_eq!(listing("hardwood"), None);
    }

    #[test]
    fn words_that_name_one_another_end() {
        let mut trade = Trade::built_in().clone();
        let at = |trade: &Trade, id: &str| trade.timbers.rows.iter().position(|row| row.id.0 == id);
        let (oak, ash) = (at(&trade, "oak").expect("a row"), at(&trade, "ash").expect("a row"));
        let of_ash = trade.timbers.rows[ash].id.clone();
        trade.timbers.rows[oak].value.may_be = vec![of_ash];
        trade.timbers.rows[ash].value.may_be = vec![trade.timbers.rows[oak].id.clone()];
        assert_eq!(trade.timbers_of(trade.timber("oak").expect("a row")), Vec::<&super::Timber>::new());
    }
}
