//! What the trade knows: finishes, fixings, terms, timbers, each row with its source.
//!
//! The tables are TOML files compiled in and read by the same reader as records. A workshop lays
//! rows of its own over them, in files of the same names and shapes in its `trade/` folder.

mod abrasive;
mod climate;
mod colour;
mod compatibility;
mod coverage;
mod density;
mod documentation;
mod finish;
mod fixing;
mod hazard;
mod introduced;
mod lifting;
mod overlay;
mod panel;
mod shelf;
mod stability;
mod term;
mod timber;

use std::sync::LazyLock;

use crate::diag::{Diagnostic, nearest};
use crate::fields::{Fields, Reader, Said, read_text};
use crate::source::Tree;

pub use abrasive::{AbrasiveTable, Scale};
pub use climate::{AtTwenty, ClimateTable, Coefficient, Limit, Room};
pub use colour::{Band, ColourTable};
pub use compatibility::{Ruling, Verdict};
pub use coverage::CoverageTable;
pub use density::{DensityTable, Material, Shape};
pub use documentation::{Asked, Item, Told};
pub use finish::{BARE_WOOD, DEWAXED_SHELLAC};
pub use finish::{Finish, Group, Layer, OwnerRepair, Seen};
pub use fixing::{Era, FixingKind, Sort};
pub use hazard::{Hazard, HazardRegion, Place, Readers, State};
pub use introduced::{Introduced, Sureness};
pub use lifting::{LiftingFigure, LiftingTable, Team};
pub use overlay::CODES;
use overlay::Overlay;
pub use panel::{Board, Panel, PanelBasis, PanelKind, PanelTable, ThickRule};
pub use shelf::{Creep, SagLimit, ShelfLoad, ShelfTable, StandIn};
pub use stability::{
    Advice, SecondHand, StabilityTable, TippingKind, TippingLimit, TippingLoad, TippingRule,
};
pub use term::Term;
pub use timber::{Cites, Spread, Timber};

/// All tables of the trade.
#[derive(Debug, Clone)]
pub struct Trade {
    /// Grades of abrasive.
    pub abrasives: AbrasiveTable,
    /// What may go over what, by the upper and the lower finish.
    pub compatibility: Vec<Said<Ruling>>,
    /// What differences between colours mean, and when a patch is fit to be measured.
    pub colour: ColourTable,
    /// Coating arithmetic.
    pub coverage: CoverageTable,
    /// The checklist of what papers should tell, in the order it is printed.
    pub items: Vec<Said<Item>>,
    /// Finish families, by id.
    pub finishes: Vec<Said<Finish>>,
    /// Kinds of fixing, by id.
    pub fixings: Vec<Said<FixingKind>>,
    /// Earliest plausible dates, by id.
    pub introduced: Vec<Said<Introduced>>,
    /// Hazards and the usual cautions, by id.
    pub hazards: Vec<Said<Hazard>>,
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
                abrasives: table("abrasive.toml", include_str!("abrasive.toml"), AbrasiveTable::read_table),
                compatibility: table(
                    "compatibility.toml",
                    include_str!("compatibility.toml"),
                    compatibility::CompatibilityTable::read_table,
                )
                .rows,
                colour: table("colour.toml", include_str!("colour.toml"), ColourTable::read_table),
                coverage: table("coverage.toml", include_str!("coverage.toml"), CoverageTable::read_table),
                items: table(
                    "documentation.toml",
                    include_str!("documentation.toml"),
                    documentation::DocumentationTable::read_table,
                )
                .rows,
                finishes: table("finish.toml", include_str!("finish.toml"), finish::FinishTable::read_table)
                    .rows,
                fixings: table("fixing.toml", include_str!("fixing.toml"), fixing::FixingTable::read_table)
                    .rows,
                hazards: table("hazard.toml", include_str!("hazard.toml"), hazard::HazardTable::read_table)
                    .rows,
                introduced: table(
                    "introduced.toml",
                    include_str!("introduced.toml"),
                    introduced::IntroducedTable::read_table,
                )
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

    /// The tables that are compiled in, with the workshop's own rows laid over them.
    ///
    /// A row of a file in the workshop's `trade/` folder takes the place of the row of the same id, or is
    /// added; its source says that it is the workshop's. A row that cannot be read is left out, with a
    /// diagnostic at its line, and the row that is compiled in stands.
    pub fn with(tree: &Tree) -> (Trade, Vec<Diagnostic>) {
        let mut trade = Trade::built_in().clone();
        let mut over = Overlay::of(tree);
        // One line per table; a new table joins here, and its rows in `overlay`.
        over.table("abrasive.toml", AbrasiveTable::read_table, |own, lay| {
            lay.rows(&mut trade.abrasives.grades, own.grades);
            lay.rows(&mut trade.abrasives.wools, own.wools);
            lay.rows(&mut trade.abrasives.thresholds, own.thresholds);
            lay.rows(&mut trade.abrasives.rules, own.rules);
        });
        over.table("compatibility.toml", compatibility::CompatibilityTable::read_table, |own, lay| {
            lay.rows(&mut trade.compatibility, own.rows)
        });
        over.table("colour.toml", ColourTable::read_table, |own, lay| {
            lay.rows(&mut trade.colour.bands, own.bands);
            lay.rows(&mut trade.colour.limits, own.limits);
        });
        over.table("coverage.toml", CoverageTable::read_table, |own, lay| {
            lay.rows(&mut trade.coverage.films, own.films);
            lay.rows(&mut trade.coverage.losses, own.losses);
            lay.rows(&mut trade.coverage.cuts, own.cuts);
            lay.rows(&mut trade.coverage.limits, own.limits);
            lay.rows(&mut trade.coverage.cold, own.cold);
        });
        over.table("documentation.toml", documentation::DocumentationTable::read_table, |own, lay| {
            lay.rows(&mut trade.items, own.rows)
        });
        over.table("finish.toml", finish::FinishTable::read_table, |own, lay| {
            lay.rows(&mut trade.finishes, own.rows)
        });
        over.table("fixing.toml", fixing::FixingTable::read_table, |own, lay| {
            lay.rows(&mut trade.fixings, own.rows)
        });
        over.table("introduced.toml", introduced::IntroducedTable::read_table, |own, lay| {
            lay.rows(&mut trade.introduced, own.rows)
        });
        over.table("hazard.toml", hazard::HazardTable::read_table, |own, lay| {
            lay.rows(&mut trade.hazards, own.rows)
        });
        over.table("term.toml", term::TermTable::read_table, |own, lay| lay.rows(&mut trade.terms, own.rows));
        over.table("timber.toml", timber::TimberTable::read_table, |own, lay| {
            lay.rows(&mut trade.timbers, own.rows);
            lay.rows(&mut trade.spreads, own.spreads);
        });
        over.table("climate.toml", ClimateTable::read_table, |own, lay| {
            lay.rows(&mut trade.climate.coefficients, own.coefficients);
            lay.rows(&mut trade.climate.rooms, own.rooms);
            lay.rows(&mut trade.climate.limits, own.limits);
        });
        over.table("density.toml", DensityTable::read_table, |own, lay| {
            lay.rows(&mut trade.density.materials, own.materials);
            lay.rows(&mut trade.density.shapes, own.shapes);
        });
        over.table("lifting.toml", LiftingTable::read_table, |own, lay| {
            lay.rows(&mut trade.lifting.figures, own.figures);
            lay.rows(&mut trade.lifting.teams, own.teams);
        });
        over.table("panel.toml", PanelTable::read_table, |own, lay| {
            lay.rows(&mut trade.panel.panels, own.panels);
            lay.rows(&mut trade.panel.boards, own.boards);
        });
        over.table("shelf.toml", ShelfTable::read_table, |own, lay| {
            lay.rows(&mut trade.shelf.creeps, own.creeps);
            lay.rows(&mut trade.shelf.stand_ins, own.stand_ins);
            lay.rows(&mut trade.shelf.limits, own.limits);
            lay.rows(&mut trade.shelf.loads, own.loads);
        });
        over.table("stability.toml", StabilityTable::read_table, |own, lay| {
            lay.rows(&mut trade.stability.rules, own.rules);
            lay.rows(&mut trade.stability.loads, own.loads);
            lay.rows(&mut trade.stability.advice, own.advice);
            lay.rows(&mut trade.stability.kinds, own.kinds);
            lay.rows(&mut trade.stability.limits, own.limits);
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

    /// The ruling on one finish over another, by their ids.
    ///
    /// The exact pair counts first, then any finish over the lower one, then the upper one over any, then any
    /// over any. Bare wood, and a finish over itself, have rulings of their own pairs alone.
    pub fn ruling(&self, over: &str, under: &str) -> Option<&Ruling> {
        compatibility::ruling(&self.compatibility, over, under)
    }

    /// The introduction of this id.
    pub fn introduced(&self, id: &str) -> Option<&Introduced> {
        self.introduced.iter().find(|row| &*row.id.0 == id).map(|row| &row.value)
    }

    /// The introduction that a text names by its words; of several the one with the longest.
    pub fn introduced_as(&self, text: &str) -> Option<&Introduced> {
        let words = |text: &str| {
            let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
            words.map(str::to_lowercase).collect::<Vec<_>>()
        };
        let text = words(text);
        let longest = |row: &Introduced| {
            let named = row.words.iter().map(|name| words(name));
            let fits = named.filter(|name| text.windows(name.len()).any(|run| run == name.as_slice()));
            fits.map(|name| name.concat().len()).max()
        };
        let rows = self.introduced.iter().map(|row| &row.value);
        rows.filter_map(|row| Some((longest(row)?, row)))
            .max_by_key(|(length, _)| *length)
            .map(|(_, row)| row)
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
        let lists: [Vec<&str>; 18] = [
            trade.colour.bands.iter().map(|row| row.id.0.as_str()).collect(),
            trade.colour.limits.iter().map(|row| row.id.0.as_str()).collect(),
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
            trade.hazards.iter().map(|row| row.id.0.as_str()).collect(),
            trade.terms.iter().map(|row| row.id.0.as_str()).collect(),
            trade.timbers.iter().map(|row| row.id.0.as_str()).collect(),
        ];
        for ids in lists {
            assert!(ids.windows(2).all(|pair| pair[0] < pair[1]), "{ids:?}");
        }
    }

    #[test]
    fn the_tables_that_were_read_are_whole_and_sourced() {
        let trade = Trade::built_in();
        assert!(trade.compatibility.len() >= 60 && trade.introduced.len() >= 95);
        assert!(trade.compatibility.iter().all(|row| !row.source.is_empty()));
        assert!(trade.introduced.iter().all(|row| !row.source.is_empty()));
        assert!(trade.abrasives.grades.iter().all(|row| !row.source.is_empty()));
        assert!(trade.coverage.films.iter().all(|row| !row.source.is_empty()));
        assert!(trade.abrasives.threshold("pass") < trade.abrasives.threshold("warn"));
        assert!(trade.abrasives.threshold("warn").is_finite());
        assert!(trade.coverage.losses.iter().all(|row| row.loss.high < 1.0));
        let ids: Vec<&str> = trade.introduced.iter().map(|row| row.id.0.as_str()).collect();
        assert!(ids.is_sorted(), "{ids:?}");
        let pairs: Vec<(&str, &str)> =
            trade.compatibility.iter().map(|row| (row.over.0.as_str(), row.under.0.as_str())).collect();
        assert!(pairs.windows(2).all(|pair| pair[0] < pair[1]), "{pairs:?}");
    }

    #[test]
    fn nothing_is_common_before_it_exists() {
        let trade = Trade::built_in();
        for row in &trade.introduced {
            assert!(row.not_before.0 <= row.common_from.0, "{}", row.id.0);
        }
        for row in &trade.fixings {
            let both = row.not_before.as_ref().zip(row.common_from.as_ref());
            assert!(both.is_none_or(|(first, common)| first.0 <= common.0), "{}", row.id.0);
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
    fn tables_name_rows_of_each_other_that_are_there() {
        let trade = Trade::built_in();
        for finish in &trade.finishes {
            let named = finish.introduced.as_ref().is_none_or(|id| trade.introduced(&id.0).is_some());
            assert!(named, "{}", finish.id.0);
        }
        let known = |id: &str| {
            trade.finish(id).is_some() || ["any", "waxed-shellac", "silicone-contaminated"].contains(&id)
        };
        for row in &trade.compatibility {
            assert!(known(&row.over.0) && known(&row.under.0), "{} over {}", row.over.0, row.under.0);
        }
    }

    #[test]
    fn a_number_is_finer_than_a_lower_one_of_its_scale() {
        let abrasives = &Trade::built_in().abrasives;
        for scale in [Scale::FepaP, Scale::Cami] {
            let mut grades: Vec<(u32, f64)> = abrasives
                .grades
                .iter()
                .filter(|row| row.scale.value == scale)
                .map(|row| (row.grade.0, row.size_um.0))
                .collect();
            grades.sort_by_key(|(grade, _)| *grade);
            assert!(grades.windows(2).all(|pair| pair[0].1 > pair[1].1), "{grades:?}");
        }
    }

    #[test]
    fn rulings_are_looked_up_from_the_pair_to_anything() {
        let trade = Trade::built_in();
        let ruling = |over: &str, under: &str| {
            let row = trade.ruling(over, under);
            row.map_or("none".to_owned(), |row| {
                format!("{}/{} {}", row.over.0, row.under.0, row.verdict.word())
            })
        };
        assert_eq!(ruling("chalk-paint", "paste-wax"), "chalk-paint/paste-wax no");
        assert_eq!(ruling("dewaxed-shellac", "paste-wax"), "any/paste-wax clean-first");
        assert_eq!(ruling("dewaxed-shellac", "old-finish"), "dewaxed-shellac/any good");
        assert_eq!(ruling("gel-stain", "old-finish"), "any/any scuff-first");
        // A ruling on shellac covers its dewaxed kind, and one on wax both kinds of wax.
        assert_eq!(ruling("oil-polyurethane", "dewaxed-shellac"), "oil-polyurethane/shellac dewaxed-only");
        assert_eq!(ruling("wax-over-film", "alkyd-varnish"), "paste-wax/alkyd-varnish after-cure");
        // A further coat of the same, and bare wood, have no ruling but their own.
        assert_eq!(ruling("shellac", "shellac"), "shellac/shellac good");
        assert_eq!(ruling("oil-polyurethane", "oil-polyurethane"), "none");
        assert_eq!(ruling("paste-wax", "wax-over-film"), "none");
        assert_eq!(ruling("paste-wax", "bare-wood"), "paste-wax/bare-wood risky");
        assert_eq!(ruling("tung-oil", "bare-wood"), "none");
    }

    #[test]
    fn a_material_is_known_by_its_words() {
        let trade = Trade::built_in();
        let id = |text: &str| trade.introduced_as(text).map(|row| row.id.0.as_str());
        assert_eq!(id("plywood"), Some("plywood"));
        assert_eq!(id("Birch plywood, 6 mm"), Some("plywood"));
        assert_eq!(id("melamine-faced chipboard"), Some("melamine-chipboard"));
        assert_eq!(id("medium-density fibreboard"), Some("mdf"));
        assert_eq!(id("fibreboard"), Some("fibreboard-early"));
        assert_eq!(id("supply"), None);
        assert_eq!(id(""), None);
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
