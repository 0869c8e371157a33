//! What the trade knows: finishes, fixings, terms, timbers, each row with its source.
//!
//! The tables are TOML files compiled in and read by the same reader as records. A workshop lays
//! rows of its own over them, in files of the same names and shapes in its `trade/` folder.

mod abrasive;
mod bearing;
mod clause;
mod climate;
mod colour;
mod compatibility;
mod coverage;
mod covering;
mod cutting;
mod density;
mod documentation;
mod edging;
mod finish;
mod fixing;
mod form;
mod hazard;
mod hearing;
mod introduced;
mod lifting;
mod looking;
mod lookup;
#[cfg(test)]
mod measure;
mod overlay;
mod panel;
mod phrase;
mod printed;
mod reading;
mod repair;
mod resistance;
mod sequence;
mod shelf;
mod slip;
mod spoken;
mod stability;
mod stem;
mod table;
mod term;
mod timber;
mod treatment;
mod verification;
mod vocabulary;

use std::sync::LazyLock;

use crate::diag::Diagnostic;
use crate::source::Tree;

pub use lookup::{Taken, Words};
pub use overlay::CODES;
pub use printed::{PRINTED, Texts};
pub(crate) use stem::stem;
pub use stem::stems;
pub use table::TradeRow;
pub use verification::Verification;
pub use vocabulary::{Entry, Sense, Told};

table::tables! {
    abrasives: abrasive::AbrasiveTable,
    bearings: bearing::BearingTable,
    climate: climate::ClimateTable,
    colour: colour::ColourTable,
    compatibility: compatibility::CompatibilityTable,
    coverage: coverage::CoverageTable,
    coverings: covering::CoveringTable,
    cutting: cutting::CuttingTable,
    density: density::DensityTable,
    documentation: documentation::DocumentationTable,
    edgings: edging::EdgingTable,
    finishes: finish::FinishTable,
    fixings: fixing::FixingTable,
    hazards: hazard::HazardTable,
    introduced: introduced::IntroducedTable,
    lifting: lifting::LiftingTable,
    looking: looking::LookingTable,
    panel: panel::PanelTable,
    readings: reading::ReadingTable,
    repairs: repair::RepairTable,
    resistances: resistance::ResistanceTable,
    sequences: sequence::SequenceTable,
    shelf: shelf::ShelfTable,
    spoken: spoken::SpokenTable,
    stability: stability::StabilityTable,
    terms: term::TermTable,
    timbers: timber::TimberTable,
    treatments: treatment::TreatmentTable,
}

impl Trade {
    /// The tables that are compiled in.
    pub fn built_in() -> &'static Trade {
        static BUILT_IN: LazyLock<Trade> = LazyLock::new(Trade::compiled_in);
        &BUILT_IN
    }

    /// The tables that are compiled in, with the workshop's own rows laid over them.
    ///
    /// A row of a file in the workshop's `trade/` folder takes the place of the row of the same id, or is
    /// added; its source says that it is the workshop's. A row that cannot be read is left out, with a
    /// diagnostic at its line, and the row that is compiled in stands. `texts` are those of another language.
    pub fn with(tree: &Tree, texts: Option<Texts<'_>>) -> (Trade, Vec<Diagnostic>) {
        let mut trade = match texts {
            Some(texts) => Trade::built_in().worded(texts),
            None => Trade::built_in().clone(),
        };
        let mut own = overlay::OwnFiles::of(tree);
        trade.lay(&mut own);
        let (rows, problems) = own.finish();
        trade.words.own = rows;
        (trade, problems)
    }
}

#[cfg(test)]
impl Trade {
    /// Every source that a row of the tables names, for tests of what pages cite.
    pub(crate) fn sources(&self) -> Vec<String> {
        let lists = self.listed().into_iter().flat_map(|table| table.lists);
        lists.flat_map(|list| list.rows).map(|(_, source)| source).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_that_is_compiled_in_names_its_source() {
        for table in Trade::built_in().listed() {
            for list in table.lists {
                assert!(!list.rows.is_empty(), "{} has no [[{}]]", table.file, list.key);
                let bare = list.rows.iter().find(|(_, source)| source.is_empty());
                assert_eq!(bare, None, "{}, [[{}]]", table.file, list.key);
            }
        }
    }

    #[test]
    fn rows_are_sorted_and_stand_once() {
        // Checklists stand in the order that they are printed in.
        let printed = [("documentation.toml", "item"), ("looking.toml", "feature"), ("looking.toml", "look")];
        for table in Trade::built_in().listed() {
            for list in table.lists.into_iter().filter(|list| !printed.contains(&(table.file, list.key))) {
                let keys: Vec<&String> = list.rows.iter().map(|(key, _)| key).collect();
                assert!(keys.windows(2).all(|pair| pair[0] < pair[1]), "{}: {keys:?}", table.file);
            }
        }
    }

    #[test]
    fn every_file_of_the_folder_is_a_table() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src/trade");
        let names = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name());
        let mut names: Vec<String> = names.map(|name| name.into_string().unwrap()).collect();
        names.retain(|name| name.ends_with(".toml"));
        names.sort_unstable();
        let known: Vec<&str> = Trade::built_in().listed().iter().map(|table| table.file).collect();
        assert_eq!(names, known);
    }

    #[test]
    fn the_tables_that_were_read_are_whole() {
        let trade = Trade::built_in();
        assert!(trade.finishes.rows.len() >= 20);
        assert!(trade.compatibility.rows.len() >= 60 && trade.introduced.rows.len() >= 95);
        assert!(trade.abrasives.threshold("pass") < trade.abrasives.threshold("warn"));
        assert!(trade.abrasives.threshold("warn").is_finite());
        assert!(trade.coverage.losses.iter().all(|row| row.loss.high < 1.0));
    }

    #[test]
    fn nothing_is_common_before_it_exists() {
        let trade = Trade::built_in();
        for row in &trade.introduced.rows {
            assert!(row.not_before.0 <= row.common_from.0, "{}", row.id.0);
        }
        for row in &trade.fixings.rows {
            let both = row.not_before.as_ref().zip(row.common_from.as_ref());
            assert!(both.is_none_or(|(first, common)| first.0 <= common.0), "{}", row.id.0);
        }
    }

    #[test]
    fn tables_name_rows_of_each_other_that_are_there() {
        let trade = Trade::built_in();
        for finish in &trade.finishes.rows {
            let named = finish.introduced.as_ref().is_none_or(|id| trade.introduced(&id.0).is_some());
            assert!(named, "{}", finish.id.0);
        }
        let known = |id: &str| {
            trade.finish(id).is_some() || ["any", "waxed-shellac", "silicone-contaminated"].contains(&id)
        };
        for row in &trade.compatibility.rows {
            assert!(known(&row.over.0) && known(&row.under.0), "{} over {}", row.over.0, row.under.0);
        }
    }
}
