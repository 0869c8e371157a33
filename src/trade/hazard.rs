//! Hazards of working on old furniture and of selling it, with the usual cautions.

use super::finish::Seen;
use crate::fields::shape::{choices, table};
use crate::fields::{Figure, Id, Said, Text, Year};

choices! {
    /// Where a hazard's rule holds.
    pub enum HazardRegion {
        /// Everywhere.
        All = "all",
        /// The United Kingdom.
        UnitedKingdom = "united-kingdom",
        /// The United Kingdom and the European Union.
        UnitedKingdomAndEurope = "united-kingdom-and-europe",
        /// The United States.
        UnitedStates = "united-states",
    }
}

choices! {
    /// Who is told of a hazard.
    pub enum Readers {
        /// Whoever works on the piece.
        Bench = "bench",
        /// The buyer.
        Buyer = "buyer",
        /// Both.
        Both = "both",
    }
}

choices! {
    /// A state of a record that raises a hazard and that words alone cannot tell.
    pub enum State {
        /// A finish was applied whose cloths heat up by themselves.
        DryingOil = "drying-oil",
        /// An old coat that may be paint is or was there.
        OldCoating = "old-coating",
        /// Something was abraded.
        Abraded = "abraded",
        /// A solvent was used, by itself or in a finish.
        Solvent = "solvent",
        /// A part is of glass.
        Glass = "glass",
        /// It is a kind that can tip, and tall.
        Tall = "tall",
        /// A part is upholstered.
        Upholstery = "upholstery",
        /// A part is of a timber whose trade is controlled.
        ListedTimber = "listed-timber",
        /// A part is of wood-based board.
        Board = "board",
        /// Flight holes or frass were found.
        FlightHoles = "flight-holes",
        /// It is a chest with a lid.
        Lid = "lid",
    }
}

choices! {
    /// A place of the record where words are looked for.
    pub enum Place {
        /// The kind of piece, and its title.
        Kind = "kind",
        /// Parts and fixings.
        Parts = "parts",
        /// What was done and by what means.
        Bench = "bench",
        /// What was found.
        Findings = "findings",
    }
}

table! {
    /// One hazard by the rules of one region.
    pub struct Hazard ("[[hazard]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// The hazard that rows of several regions share; the row's own id if none is said.
        "subject" => subject: Option<Said<Id>>,
        /// Who is told.
        "readers" => readers: Said<Readers>,
        /// Where its rule holds.
        "region" => region: Said<HazardRegion>,
        /// The state of a record that raises it, in words.
        "when" => when: Said<Text>,
        /// The same, as far as the program has to know it.
        "implied-by" => implied_by: Option<Said<State>>,
        /// Finish families that raise it when they are applied.
        "finishes" => finishes: Vec<Said<Id>>,
        /// Words that raise it, or say which parts or kinds of piece the state is about.
        "words" => words: Vec<Said<Text>>,
        /// Where the words are looked for.
        "places" => places: Vec<Said<Place>>,
        /// Words by which a test for it is known.
        "tests" => tests: Vec<Said<Text>>,
        /// It concerns only what may have been made before this year.
        "made-before" => made_before: Option<Said<Year>>,
        /// It concerns only what may have been made in this year or later.
        "made-from" => made_from: Option<Said<Year>>,
        /// It concerns only what is this high in millimetres, or higher.
        "height-mm" => height_mm: Option<Said<Figure>>,
        /// Whether parts that this workshop made or bought new are left out.
        "old-only" => old_only: Option<Said<bool>>,
        /// What the buyer is told.
        "tell" => tell: Said<Text>,
        /// The caution at the bench.
        "do" => r#do: Said<Text>,
        /// The rule of law or of a standard, as read.
        "rule" => rule: Option<Said<Text>>,
        /// What was not settled.
        "note" => note: Option<Said<Text>>,
        /// Year and month when the row was written, such as `2026-11`.
        "as-of" => as_of: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

impl Hazard {
    /// The hazard that this row is about, whatever its region.
    pub fn subject(&self) -> &str {
        self.subject.as_ref().map_or(&self.id.0, |subject| &subject.0)
    }
}

table! {
    /// The table of hazards.
    pub struct HazardTable ("hazard.toml") {
        /// The rows.
        "hazard" => rows: Vec<Said<Hazard>>,
    }
}
