//! What the trade knows: finishes, fixings, terms, timbers, each row with its source.
//!
//! The tables are TOML files compiled in and read by the same reader as records.

mod climate;
mod density;
mod finish;
mod fixing;
mod lifting;
mod panel;
mod shelf;
mod stability;
mod term;
mod timber;

use std::sync::LazyLock;

use crate::diag::nearest;
use crate::fields::{Fields, Reader, Said, read_text};

pub use climate::{AtTwenty, ClimateTable, Coefficient, Limit, Room};
pub use density::{DensityTable, Material, Shape};
pub use finish::{Finish, Group, Layer, OwnerRepair, Seen};
pub use fixing::{Era, FixingKind};
pub use lifting::{LiftingFigure, LiftingTable, Team};
pub use panel::{Board, Panel, PanelBasis, PanelKind, PanelTable, ThickRule};
pub use shelf::{Creep, SagLimit, ShelfLoad, ShelfTable, StandIn};
pub use stability::{
    Advice, SecondHand, StabilityTable, TippingKind, TippingLimit, TippingLoad, TippingRule,
};
pub use term::Term;
pub use timber::{Spread, Timber};

/// All tables of the trade.
#[derive(Debug)]
pub struct Trade {
    /// Finish families, by id.
    pub finishes: Vec<Said<Finish>>,
    /// Kinds of fixing, by id.
    pub fixings: Vec<Said<FixingKind>>,
    /// Words for what is seen.
    pub terms: Vec<Said<Term>>,
    /// Timbers, by id.
    pub timbers: Vec<Said<Timber>>,
    /// How far pieces of one timber stray from its mean.
    pub spreads: Vec<Said<Spread>>,
    /// Rooms, and how moist wood becomes in their air.
    pub climate: ClimateTable,
    /// What parts weigh that are neither timber nor board.
    pub density: DensityTable,
    /// How much people lift.
    pub lifting: LiftingTable,
    /// Boards.
    pub panel: PanelTable,
    /// Shelves.
    pub shelf: ShelfTable,
    /// Tipping.
    pub stability: StabilityTable,
}

impl Trade {
    /// The tables that are compiled in.
    pub fn built_in() -> &'static Trade {
        static BUILT_IN: LazyLock<Trade> = LazyLock::new(|| {
            let timber = table("timber.toml", include_str!("timber.toml"), timber::TimberTable::read_table);
            Trade {
                finishes: table("finish.toml", include_str!("finish.toml"), finish::FinishTable::read_table)
                    .rows,
                fixings: table("fixing.toml", include_str!("fixing.toml"), fixing::FixingTable::read_table)
                    .rows,
                terms: table("term.toml", include_str!("term.toml"), term::TermTable::read_table).rows,
                timbers: timber.rows,
                spreads: timber.spreads,
                climate: table("climate.toml", include_str!("climate.toml"), ClimateTable::read_table),
                density: table("density.toml", include_str!("density.toml"), DensityTable::read_table),
                lifting: table("lifting.toml", include_str!("lifting.toml"), LiftingTable::read_table),
                panel: table("panel.toml", include_str!("panel.toml"), PanelTable::read_table),
                shelf: table("shelf.toml", include_str!("shelf.toml"), ShelfTable::read_table),
                stability: table(
                    "stability.toml",
                    include_str!("stability.toml"),
                    StabilityTable::read_table,
                ),
            }
        });
        &BUILT_IN
    }

    /// The finish family of this id.
    pub fn finish(&self, id: &str) -> Option<&Finish> {
        self.finishes.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
    }

    /// The kind of fixing of this id.
    pub fn fixing(&self, id: &str) -> Option<&FixingKind> {
        self.fixings.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
    }

    /// The term of this id, label or other name.
    pub fn term(&self, word: &str) -> Option<&Term> {
        self.terms.iter().map(|row| &row.value).find(|row| {
            *row.id.0 == *word || **row.label == *word || row.also.iter().any(|also| ***also == *word)
        })
    }

    /// The timber of this id or common name.
    pub fn timber(&self, word: &str) -> Option<&Timber> {
        let by_id = self.timbers.iter().map(|row| &row.value).find(|row| *row.id.0 == *word);
        by_id.or_else(|| {
            self.timbers
                .iter()
                .map(|row| &row.value)
                .find(|row| **row.name == *word || row.also.iter().any(|also| ***also == *word))
        })
    }

    /// How far pieces of one timber stray from its mean in `density` or `moe`, as a fraction; 0 where not known.
    pub fn spread(&self, id: &str) -> f64 {
        let row = self.spreads.iter().find(|row| row.id.0 == id);
        row.map_or(0.0, |row| row.percent.value.0 / 100.0)
    }

    /// The finish id nearest to a mistyped one.
    pub fn nearest_finish(&self, word: &str) -> Option<&str> {
        nearest(word, self.finishes.iter().map(|row| row.id.0.as_str()))
    }

    /// The fixing id nearest to a mistyped one.
    pub fn nearest_fixing(&self, word: &str) -> Option<&str> {
        nearest(word, self.fixings.iter().map(|row| row.id.0.as_str()))
    }

    /// The timber id nearest to a mistyped one.
    pub fn nearest_timber(&self, word: &str) -> Option<&str> {
        nearest(word, self.timbers.iter().map(|row| row.id.0.as_str()))
    }
}

/// A name of the tables as it stands within a sentence: small letters, but for names of places and people and for
/// letters that stand for words.
pub fn in_text(name: &str) -> String {
    const NAMES: [&str; 10] = [
        "African",
        "American",
        "Brazilian",
        "Douglas",
        "English",
        "European",
        "Indian",
        "Norway",
        "Scots",
        "Sitka",
    ];
    let word = |word: &str| {
        let kept = NAMES.contains(&word) || (word.len() > 1 && word.chars().all(char::is_uppercase));
        if kept { word.to_owned() } else { word.to_lowercase() }
    };
    name.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

/// Reads a compiled-in table.
fn table<T>(name: &str, text: &str, read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>) -> T {
    let reading = read_text(name, text, read);
    assert!(
        reading.problems.is_empty(),
        "{name} is compiled in, and a test reads it: {:?}",
        reading.problems
    );
    reading.table.expect("a table without problems was read")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_compiled_in_row_reads_and_names_its_source() {
        let trade = Trade::built_in();
        assert!(trade.finishes.len() >= 20);
        assert!(trade.finishes.iter().all(|row| !row.source.is_empty()));
        assert!(trade.fixings.iter().all(|row| !row.source.is_empty()));
        assert!(trade.terms.iter().all(|row| !row.source.is_empty()));
        assert!(trade.timbers.iter().all(|row| !row.source.is_empty()));
    }

    #[test]
    fn ids_are_sorted_and_stand_once() {
        let trade = Trade::built_in();
        let lists: [Vec<&str>; 15] = [
            trade.spreads.iter().map(|row| row.id.0.as_str()).collect(),
            trade.climate.rooms.iter().map(|row| row.id.0.as_str()).collect(),
            trade.climate.limits.iter().map(|row| row.id.0.as_str()).collect(),
            trade.density.materials.iter().map(|row| row.id.0.as_str()).collect(),
            trade.panel.panels.iter().map(|row| row.id.0.as_str()).collect(),
            trade.panel.boards.iter().map(|row| row.id.0.as_str()).collect(),
            trade.shelf.creeps.iter().map(|row| row.id.0.as_str()).collect(),
            trade.shelf.stand_ins.iter().map(|row| row.id.0.as_str()).collect(),
            trade.shelf.limits.iter().map(|row| row.id.0.as_str()).collect(),
            trade.stability.rules.iter().map(|row| row.id.0.as_str()).collect(),
            trade.stability.kinds.iter().map(|row| row.id.0.as_str()).collect(),
            trade.finishes.iter().map(|row| row.id.0.as_str()).collect(),
            trade.fixings.iter().map(|row| row.id.0.as_str()).collect(),
            trade.terms.iter().map(|row| row.id.0.as_str()).collect(),
            trade.timbers.iter().map(|row| row.id.0.as_str()).collect(),
        ];
        for ids in lists {
            assert!(ids.windows(2).all(|pair| pair[0] < pair[1]), "{ids:?}");
        }
    }

    #[test]
    fn names_of_places_keep_their_capitals_within_a_sentence() {
        for (name, wanted) in [
            ("Scots pine", "Scots pine"),
            ("White oak", "white oak"),
            ("MDF", "MDF"),
            ("American elm", "American elm"),
        ] {
            assert_eq!(in_text(name), wanted);
        }
    }

    #[test]
    fn a_timber_is_found_by_any_of_its_names() {
        let trade = Trade::built_in();
        assert_eq!(
            trade.timber("birch").map(|row| row.id.0.as_str()),
            trade.timber("paper-birch").map(|row| row.id.0.as_str())
        );
    }
}
