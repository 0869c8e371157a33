//! What the trade knows: finishes, fixings, terms, timbers, each row with its source.
//!
//! The tables are TOML files compiled in and read by the same reader as records. A workshop lays
//! rows of its own over them, in files of the same names and shapes in its `trade/` folder.

mod documentation;
mod finish;
mod fixing;
mod hazard;
mod overlay;
mod term;
mod timber;

use std::sync::LazyLock;

use crate::diag::{Diagnostic, nearest};
use crate::fields::{Fields, Reader, Said, read_text};
use crate::source::Tree;

pub use documentation::{Asked, Item, Told};
pub use finish::Seen;
pub use finish::{Finish, Group, Layer, OwnerRepair};
pub use fixing::{Era, FixingKind};
pub use hazard::{Hazard, HazardRegion, Place, Readers, State};
pub use overlay::CODES;
use overlay::Overlay;
pub use term::Term;
pub use timber::{Cites, Timber};

/// All tables of the trade.
#[derive(Debug, Clone)]
pub struct Trade {
    /// The checklist of what papers should tell, in the order it is printed.
    pub items: Vec<Said<Item>>,
    /// Finish families, by id.
    pub finishes: Vec<Said<Finish>>,
    /// Kinds of fixing, by id.
    pub fixings: Vec<Said<FixingKind>>,
    /// Hazards and the usual cautions, by id.
    pub hazards: Vec<Said<Hazard>>,
    /// Words for what is seen.
    pub terms: Vec<Said<Term>>,
    /// Timbers, by id.
    pub timbers: Vec<Said<Timber>>,
}

impl Trade {
    /// The tables that are compiled in.
    pub fn built_in() -> &'static Trade {
        static BUILT_IN: LazyLock<Trade> = LazyLock::new(|| Trade {
            items: table(
                "documentation.toml",
                include_str!("documentation.toml"),
                documentation::DocumentationTable::read_table,
            )
            .rows,
            finishes: table("finish.toml", include_str!("finish.toml"), finish::FinishTable::read_table).rows,
            fixings: table("fixing.toml", include_str!("fixing.toml"), fixing::FixingTable::read_table).rows,
            hazards: table("hazard.toml", include_str!("hazard.toml"), hazard::HazardTable::read_table).rows,
            terms: table("term.toml", include_str!("term.toml"), term::TermTable::read_table).rows,
            timbers: table("timber.toml", include_str!("timber.toml"), timber::TimberTable::read_table).rows,
        });
        &BUILT_IN
    }

    /// The tables that are compiled in, with the workshop's own rows laid over them.
    ///
    /// A row of a file in the workshop's `trade/` folder takes the place of the row of the same id, or is
    /// added; its source says that it is the workshop's. A row that cannot be read is left out, with a
    /// diagnostic at its line, and the row that is compiled in stands.
    pub fn with(tree: &Tree) -> (Trade, Vec<Diagnostic>) {
        let mut trade = Trade::built_in().clone();
        let mut over = Overlay::of(tree);
        // One line per table; a new table joins here, and its rows in `overlay`.
        over.table("documentation.toml", documentation::DocumentationTable::read_table, |own, lay| {
            lay.rows(&mut trade.items, own.rows)
        });
        over.table("finish.toml", finish::FinishTable::read_table, |own, lay| {
            lay.rows(&mut trade.finishes, own.rows)
        });
        over.table("fixing.toml", fixing::FixingTable::read_table, |own, lay| {
            lay.rows(&mut trade.fixings, own.rows)
        });
        over.table("hazard.toml", hazard::HazardTable::read_table, |own, lay| {
            lay.rows(&mut trade.hazards, own.rows)
        });
        over.table("term.toml", term::TermTable::read_table, |own, lay| lay.rows(&mut trade.terms, own.rows));
        over.table("timber.toml", timber::TimberTable::read_table, |own, lay| {
            lay.rows(&mut trade.timbers, own.rows)
        });
        (trade, over.finish())
    }

    /// The finish family of this id.
    pub fn finish(&self, id: &str) -> Option<&Finish> {
        self.finishes.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
    }

    /// The kind of fixing of this id.
    pub fn fixing(&self, id: &str) -> Option<&FixingKind> {
        self.fixings.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
    }

    /// The hazard of this id.
    pub fn hazard(&self, id: &str) -> Option<&Hazard> {
        self.hazards.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
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
        assert!(trade.items.iter().all(|row| !row.source.is_empty()));
        assert!(trade.finishes.iter().all(|row| !row.source.is_empty()));
        assert!(trade.fixings.iter().all(|row| !row.source.is_empty()));
        assert!(trade.hazards.iter().all(|row| !row.source.is_empty()));
        assert!(trade.terms.iter().all(|row| !row.source.is_empty()));
        assert!(trade.timbers.iter().all(|row| !row.source.is_empty()));
    }

    #[test]
    fn ids_are_sorted_and_stand_once() {
        let trade = Trade::built_in();
        let lists: [Vec<&str>; 5] = [
            trade.finishes.iter().map(|row| row.id.0.as_str()).collect(),
            trade.fixings.iter().map(|row| row.id.0.as_str()).collect(),
            trade.hazards.iter().map(|row| row.id.0.as_str()).collect(),
            trade.terms.iter().map(|row| row.id.0.as_str()).collect(),
            trade.timbers.iter().map(|row| row.id.0.as_str()).collect(),
        ];
        for ids in lists {
            assert!(ids.windows(2).all(|pair| pair[0] < pair[1]), "{ids:?}");
        }
    }

    #[test]
    fn the_checklist_has_the_categories_of_object_id_and_no_weight_twice() {
        let items = &Trade::built_in().items;
        let mut named: Vec<&str> = items
            .iter()
            .filter(|item| item.standard.as_ref().is_some_and(|standard| &***standard == "Object ID"))
            .map(|item| &**item.category)
            .collect();
        named.dedup();
        let categories = [
            "photographs",
            "type of object",
            "materials and techniques",
            "measurements",
            "inscriptions and markings",
            "distinguishing features",
            "title",
            "subject",
            "date or period",
            "maker",
            "description",
        ];
        assert_eq!(named, categories);
        let mut weights: Vec<u32> = items.iter().map(|item| item.weight.0).collect();
        weights.sort_unstable();
        assert!(weights.windows(2).all(|pair| pair[0] < pair[1]), "{weights:?}");
        assert!(items.iter().all(|item| !item.counts.is_empty()));
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
