//! How finishes bear what they meet in a room, and what they keep from the layers below.

use super::Trade;
use super::finish::Finish;
use super::table::{by_id, trade_row, trade_table};
use crate::fields::shape::{choices, table};
use crate::fields::{Id, Said, Text};
use crate::unit::fold::folded_words;

choices! {
    /// How much an agent does to a coat, or how far a coat keeps it out.
    pub enum Rating {
        /// Not at all.
        None = "none",
        /// If it is left standing; for minutes.
        Low = "low",
        /// At once or soon; for hours.
        High = "high",
    }
}

choices! {
    /// How much water a cloth may bring to a surface.
    pub enum DampCloth {
        /// None.
        No = "no",
        /// A well wrung cloth, and the place is dried at once.
        Barely = "barely",
        /// A damp one, and the place is dried.
        Yes = "yes",
    }
}

choices! {
    /// What a surface meets in a room.
    pub enum Agent {
        /// Water.
        Water = "water",
        /// Alcohol, as in drinks, perfume and hand gel.
        Alcohol = "alcohol",
        /// White spirit, turpentine and lighter fuel.
        Hydrocarbon = "hydrocarbon",
        /// Something hot and dry.
        DryHeat = "dry-heat",
        /// Something hot and wet.
        WetHeat = "wet-heat",
        /// Ammonia, washing soda and strong soap.
        Alkali = "alkali",
        /// Vinegar and lemon.
        Acid = "acid",
        /// Scouring and hard rubbing.
        Abrasion = "abrasion",
        /// Sunlight.
        Light = "light",
    }
}

table! {
    /// A rating for each agent.
    pub struct Ratings ("ratings") {
        /// Water.
        "water" => water: Said<Rating>,
        /// Alcohol.
        "alcohol" => alcohol: Said<Rating>,
        /// White spirit and the like.
        "hydrocarbon" => hydrocarbon: Said<Rating>,
        /// Dry heat.
        "dry-heat" => dry_heat: Said<Rating>,
        /// Wet heat.
        "wet-heat" => wet_heat: Said<Rating>,
        /// Ammonia and the like.
        "alkali" => alkali: Said<Rating>,
        /// Vinegar and the like.
        "acid" => acid: Said<Rating>,
        /// Rubbing.
        "abrasion" => abrasion: Said<Rating>,
        /// Light.
        "light" => light: Said<Rating>,
    }
}

impl Ratings {
    /// The rating for an agent.
    fn of(&self, agent: Agent) -> Rating {
        let rating = match agent {
            Agent::Water => &self.water,
            Agent::Alcohol => &self.alcohol,
            Agent::Hydrocarbon => &self.hydrocarbon,
            Agent::DryHeat => &self.dry_heat,
            Agent::WetHeat => &self.wet_heat,
            Agent::Alkali => &self.alkali,
            Agent::Acid => &self.acid,
            Agent::Abrasion => &self.abrasion,
            Agent::Light => &self.light,
        };
        rating.value
    }
}

trade_row! {
    /// How one finish bears what it meets.
    pub struct ResistanceRow ("[[resistance]]") {
        /// The finish's id.
        "id" => id: Said<Id>,
        /// The row whose ratings it has, where it has none of its own.
        "like" => like: Option<Said<Id>>,
        /// What each agent does to it.
        "marks" => marks: Option<Said<Ratings>>,
        /// How far it keeps each from what lies below.
        "shields" => shields: Option<Said<Ratings>>,
        /// How damp a cloth may be.
        "damp-cloth" => damp_cloth: Option<Said<DampCloth>>,
        /// Whether no cloth may touch it at all.
        "brush-only" => brush_only: Option<Said<bool>>,
        /// Whether rubber, soft plastic or what is left standing sticks to it.
        "sticks" => sticks: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_row! {
    /// A finding that opens a coat.
    pub struct Opening ("[[opening]]") {
        /// The term's id.
        "id" => id: Said<Id>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_row! {
    /// Something that a surface meets, by what of it does harm.
    pub struct Met ("[[met]]") {
        /// What it is.
        "id" => id: Said<Id>,
        /// Other words for it.
        "also" => also: Vec<Said<Text>>,
        /// The agents that it brings.
        "brings" => brings: Vec<Said<Agent>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| row.also.iter();
}

trade_table! {
    /// The table of what finishes bear.
    pub struct ResistanceTable ("resistance.toml") {
        /// The rows, by finish.
        "resistance" => rows: Vec<Said<ResistanceRow>>,
        /// Findings that open a coat.
        "opening" => openings: Vec<Said<Opening>>,
        /// Things that people ask about.
        "met" => met: Vec<Said<Met>>,
    }
}

/// How a coat bears what it meets, and what it keeps from the layers below.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Resistance {
    marks: [Rating; Agent::ALL.len()],
    shields: [Rating; Agent::ALL.len()],
    /// How damp a cloth may be.
    pub damp_cloth: DampCloth,
    /// Whether no cloth may touch it at all.
    pub brush_only: bool,
    /// Whether rubber, soft plastic or what is left standing sticks to it.
    pub sticks: bool,
}

impl Resistance {
    /// That of a coat of which nobody knows what it bears: everything may mark it, and it keeps nothing out.
    ///
    /// # Source
    /// Our own rule, after *Care of Wood Furniture*, home maintenance bulletin 01500258, university extension service
    /// (reprint).
    pub const UNKNOWN: Resistance = Resistance {
        marks: [Rating::High; Agent::ALL.len()],
        shields: [Rating::None; Agent::ALL.len()],
        damp_cloth: DampCloth::No,
        brush_only: false,
        sticks: true,
    };

    /// What an agent does to it.
    pub fn marks(&self, agent: Agent) -> Rating {
        self.marks[agent as usize]
    }

    /// How far it keeps an agent from what lies below; heat is kept out by nothing.
    pub fn shields(&self, agent: Agent) -> Rating {
        match agent {
            Agent::DryHeat | Agent::WetHeat => Rating::None,
            _ => self.shields[agent as usize],
        }
    }

    fn of(row: &ResistanceRow) -> Option<Resistance> {
        let (marks, shields) = row.marks.as_ref().zip(row.shields.as_ref())?;
        let each = |ratings: &Ratings| std::array::from_fn(|at| ratings.of(Agent::ALL[at]));
        Some(Resistance {
            marks: each(marks),
            shields: each(shields),
            damp_cloth: row.damp_cloth.as_ref()?.value,
            brush_only: row.brush_only.as_ref().is_some_and(|only| only.value),
            sticks: row.sticks.as_ref().is_some_and(|sticks| sticks.value),
        })
    }

    /// That of a coat which may be either: as tender as the more tender, and shielding as little as the lesser.
    fn or(self, other: Resistance) -> Resistance {
        Resistance {
            marks: std::array::from_fn(|at| self.marks[at].max(other.marks[at])),
            shields: std::array::from_fn(|at| self.shields[at].min(other.shields[at])),
            damp_cloth: self.damp_cloth.min(other.damp_cloth),
            // How wet a cloth may be is told above; that none may touch it is said only of what is surely that frail.
            brush_only: self.brush_only && other.brush_only,
            sticks: self.sticks || other.sticks,
        }
    }
}

impl Trade {
    /// What a coat bears that may be any of these finishes; everything is doubtful where there is none, or one has no row.
    pub fn resistance<'a>(&'a self, may_be: impl IntoIterator<Item = &'a Finish>) -> Resistance {
        let kinds = may_be.into_iter().flat_map(|finish| {
            // A word for several is none of them itself.
            self.finishes_meant(finish).skip(usize::from(finish.is_generic()))
        });
        kinds
            .map(|kind| self.resistance_of(&kind.id.0).unwrap_or(Resistance::UNKNOWN))
            .reduce(Resistance::or)
            .unwrap_or(Resistance::UNKNOWN)
    }

    fn resistance_of(&self, finish: &str) -> Option<Resistance> {
        let row = |id: &str| by_id(&self.resistances.rows, id);
        let found = row(finish)?;
        Resistance::of(found).or_else(|| Resistance::of(row(&found.like.as_ref()?.0)?))
    }

    /// What harms of the things that a text speaks of, in the order of the agents; nothing where no row knows them.
    pub fn agents_of(&self, text: &str) -> Vec<Agent> {
        let words = folded_words(text);
        let spoken = |phrase: &str| {
            let phrase = folded_words(phrase);
            !phrase.is_empty() && words.windows(phrase.len()).any(|window| window == phrase)
        };
        let of_row = |row: &&Said<Met>| spoken(&row.id.0) || row.also.iter().any(|word| spoken(word));
        let rows: Vec<&Said<Met>> = self.resistances.met.iter().filter(of_row).collect();
        let brought = |agent: &Agent| {
            spoken(agent.word())
                || rows.iter().any(|row| row.brings.iter().any(|brought| brought.value == *agent))
        };
        Agent::ALL.iter().copied().filter(brought).collect()
    }

    /// Whether a finding of this word opens the coat that it is seen in.
    pub fn opens_coat(&self, seen: &str) -> bool {
        self.term(seen).is_some_and(|term| by_id(&self.resistances.openings, &term.id.0).is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_finish_has_its_ratings_and_every_row_its_finish() {
        let trade = Trade::built_in();
        for finish in trade.finishes.rows.iter().filter(|finish| !finish.is_generic()) {
            assert!(trade.resistance_of(&finish.id.0).is_some(), "{}", finish.id.0);
        }
        for row in &trade.resistances.rows {
            let finish = by_id(&trade.finishes.rows, &row.id.0);
            assert!(finish.is_some_and(|finish| !finish.is_generic()), "{}", row.id.0);
            assert_ne!(row.like.is_some(), Resistance::of(row).is_some(), "{}: either, not both", row.id.0);
        }
        for opening in &trade.resistances.openings {
            assert!(trade.term(&opening.id.0).is_some(), "{}", opening.id.0);
        }
    }

    #[test]
    fn what_no_damp_cloth_may_touch_is_nowhere_said_to_be_wiped_damp() {
        let trade = Trade::built_in();
        for finish in &trade.finishes.rows {
            let bears = trade.resistance([&finish.value]).damp_cloth;
            let told = [&finish.dust, &finish.clean, &finish.ring].map(|text| text.to_lowercase());
            let wet = |text: &String| {
                let words = ["damp cloth", "damp one", "damp brush", "barely damp", "wrung", "soap"];
                words.iter().any(|word| text.contains(word))
                    && !text.contains("not ")
                    && !text.contains("lets in")
            };
            assert!(bears > DampCloth::No || !told.iter().any(wet), "{}: {told:?}", finish.id.0);
        }
    }

    #[test]
    fn a_word_for_several_is_as_tender_as_the_tenderest() {
        let trade = Trade::built_in();
        let of = |id: &str| trade.resistance([trade.finish(id).unwrap()]);
        let varnish = of("varnish-unknown");
        assert_eq!(varnish.marks(Agent::Alcohol), Rating::High, "it may be shellac");
        assert_eq!(varnish.shields(Agent::Water), Rating::Low);
        assert_eq!(varnish.damp_cloth, DampCloth::Barely);
        assert_eq!(of("oil-polyurethane").shields(Agent::WetHeat), Rating::None);
        assert_eq!(trade.resistance([]), Resistance::UNKNOWN);
        assert_eq!(of("old-finish").marks(Agent::Light), Rating::High);
    }
}
