//! Hazards of working on old furniture and of selling it, with the usual cautions.

use super::Trade;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
use crate::fields::{Figure, Id, Said, Text, Year};

choices! {
    /// Where a hazard's rule holds.
    pub enum HazardRegion {
        /// Everywhere.
        All = "all",
        /// The United Kingdom.
        UnitedKingdom = "united-kingdom",
        /// The European Union.
        Europe = "european-union",
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
    pub enum HazardState {
        /// A finish was applied whose cloths heat up by themselves.
        DryingOil = "drying-oil",
        /// An old coat that may be paint is or was there.
        OldCoating = "old-coating",
        /// An old clear coat is or was there that may hold lead.
        OldClearCoating = "old-clear-coating",
        /// A test for it was made, or declared not made: the question was asked.
        Asked = "asked",
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
    /// How much a hazard matters to the buyer where no test found it.
    pub enum HazardWeight {
        /// The build or the finding confirms it.
        Danger = "danger",
        /// It harms in ordinary use.
        DangerInUse = "danger-in-use",
        /// It may be there, and harms whoever works on it or lives close to it.
        UntestedDanger = "untested-danger",
        /// It is told.
        Plain = "plain",
    }
}

choices! {
    /// By what means a test was made; what proves least stands first.
    pub enum TestMeans {
        /// A rub of the surface, or a kit that changes its colour.
        Rub = "rub",
        /// X-ray fluorescence, with an instrument.
        XRay = "x-ray",
        /// Analysis in a laboratory.
        Laboratory = "laboratory",
    }
}

choices! {
    /// A place of the record where words are looked for.
    pub enum HazardPlace {
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

trade_row! {
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
        "when" => when: Option<Said<Text>>,
        /// The same, as far as the program has to know it.
        "implied-by" => implied_by: Option<Said<HazardState>>,
        /// Finish families that raise it when they are applied.
        "finishes" => finishes: Vec<Said<Id>>,
        /// Treatments that raise it when they are used.
        "treatments" => treatments: Vec<Said<Id>>,
        /// Words that raise it, or say which parts or kinds of piece the state is about.
        "words" => words: Vec<Said<Text>>,
        /// Where the words are looked for.
        "places" => places: Vec<Said<HazardPlace>>,
        /// Words of what was done and by what means that raise it too.
        "done" => done: Vec<Said<Text>>,
        /// Words by which a test for it is known.
        "tests" => tests: Vec<Said<Text>>,
        /// The means of test that clear it where they find nothing; any where none is said.
        "cleared-by" => cleared_by: Vec<Said<TestMeans>>,
        /// Whether its tests look for what makes it safe, as for a label, so that finding that clears it.
        "sought" => sought: Option<Said<bool>>,
        /// Further words by which a workshop's own caution is known to be about it.
        "said" => said: Vec<Said<Text>>,
        /// It concerns only what may have been made before this year.
        "made-before" => made_before: Option<Said<Year>>,
        /// It concerns only what may have been made in this year or later.
        "made-from" => made_from: Option<Said<Year>>,
        /// It concerns only what is this high in millimetres, or higher.
        "height-mm" => height_mm: Option<Said<Figure>>,
        /// Whether parts that this workshop made or bought new are left out.
        "old-only" => old_only: Option<Said<bool>>,
        /// How much it matters to the buyer; plain where nothing is said.
        "weight" => weight: Option<Said<HazardWeight>>,
        /// What the buyer is told, in a sentence that warns by itself.
        "tell" => tell: Said<Text>,
        /// What the buyer does about it.
        "then" => then: Option<Said<Text>>,
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
        "seen" => seen: Said<Verification>,
    }
}

impl Hazard {
    /// The hazard that this row is about, whatever its region.
    pub fn subject(&self) -> &str {
        self.subject.as_ref().map_or(&self.id.0, |subject| &subject.0)
    }

    /// Whether the program knows this state of a record by it.
    pub fn is_of(&self, state: HazardState) -> bool {
        self.implied_by.as_ref().is_some_and(|of| of.value == state)
    }

    /// How much it matters to the buyer where no test found it.
    pub fn weight(&self) -> HazardWeight {
        self.weight.as_ref().map_or(HazardWeight::Plain, |weight| weight.value)
    }
}

trade_row! {
    /// What tells that a record is in a state, where that takes words.
    pub struct HazardSigns ("[[state]]") {
        /// The state.
        "id" => state: Said<HazardState>,
        /// Words of the kind of piece, or of its title, that go with it.
        "kinds" => kinds: Vec<Said<Text>>,
        /// Words of a part or finding that tell it.
        "words" => words: Vec<Said<Text>>,
        /// Terms of a finding that tell it.
        "terms" => terms: Vec<Said<Id>>,
        /// Words of a part or finding that rule it out.
        "except" => except: Vec<Said<Text>>,
        /// Words of a finding that tell it, and that tell it of a work only beside one of `near`.
        "found" => found: Vec<Said<Text>>,
        /// Words that stand close to one of `found` in a work that tells it.
        "near" => near: Vec<Said<Text>>,
        /// Words of a work that took it off.
        "gone" => gone: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    key = |row| row.state.word();
}

trade_row! {
    /// How a means of test is told in a record, and how far it reached.
    pub struct MeansRow ("[[means]]") {
        /// The means.
        "id" => means: Said<TestMeans>,
        /// Words that tell it.
        "words" => words: Vec<Said<Text>>,
        /// Words that say that it went through all coats.
        "through" => through: Vec<Said<Text>>,
        /// Words that say that it did not.
        "not-through" => not_through: Vec<Said<Text>>,
        /// Words that say that it tells a share of weight, and not only of an area.
        "by-weight" => by_weight: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    key = |row| row.means.word();
}

trade_table! {
    /// The table of hazards.
    pub struct HazardTable ("hazard.toml") {
        /// The rows.
        "hazard" => rows: Vec<Said<Hazard>>,
        /// How means of test are told.
        "means" => means: Vec<Said<MeansRow>>,
        /// What tells that a record is in a state.
        "state" => states: Vec<Said<HazardSigns>>,
    }
}

impl HazardTable {
    /// What tells of a state; `None` where that takes no words.
    pub fn signs(&self, state: HazardState) -> Option<&HazardSigns> {
        by_id(&self.states, state.word())
    }

    /// How a means of test is told.
    pub fn means(&self, means: TestMeans) -> Option<&MeansRow> {
        by_id(&self.means, means.word())
    }
}

impl Trade {
    /// The hazard of this id.
    pub fn hazard(&self, id: &str) -> Option<&Hazard> {
        by_id(&self.hazards.rows, id)
    }
}

#[cfg(test)]
mod tests {
    use super::{HazardState, TestMeans};
    use crate::trade::Trade;

    #[test]
    fn finishes_and_treatments_that_raise_a_hazard_are_in_their_tables() {
        let trade = Trade::built_in();
        for row in &trade.hazards.rows {
            let finishes =
                row.finishes.iter().all(|id| trade.finish(&id.0).is_some_and(|one| one.id.0 == id.0));
            let treatments =
                row.treatments.iter().all(|id| trade.treatment(&id.0).is_some_and(|one| one.id.0 == id.0));
            assert!(finishes && treatments, "{}", row.id.0);
        }
    }

    #[test]
    fn states_that_take_words_have_them() {
        let trade = Trade::built_in();
        let told = [
            HazardState::Board,
            HazardState::FlightHoles,
            HazardState::Glass,
            HazardState::Lid,
            HazardState::OldCoating,
            HazardState::Upholstery,
        ];
        assert!(told.iter().all(|state| trade.hazards.signs(*state).is_some()));
        assert!(TestMeans::ALL.iter().all(|means| trade.hazards.means(*means).is_some()));
        for row in &trade.hazards.states {
            let known = row.terms.iter().all(|term| trade.term(&term.0).is_some());
            assert!(known, "{} names a term that is none", row.state.word());
        }
    }
}
