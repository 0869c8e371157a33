//! The pages across all pieces: each answers what somebody looks up while another piece is on the bench.

use std::collections::BTreeMap;

use serde_json::Value;

use super::across::Across;
use super::entry::ArchiveEntry;
use super::faults::{FaultsPage, faults_page};
use super::front::{ArchiveFront, front};
use super::linked::linked_whole;
use super::recipes::{RecipesPage, recipes_page};
use super::stock::{StockPage, stock_page};
use super::times::{TimesPage, times_page};
use super::year::{YearPage, year_pages};
use crate::archive::{ArchiveFault, Asking};
use crate::view::context::HouseStyle;

/// The pages across all pieces.
#[derive(Debug, Clone)]
pub struct ArchivePages {
    /// The one that stands before all others.
    pub front: ArchiveFront,
    /// What coloured which timber.
    pub recipes: RecipesPage,
    /// How long what took.
    pub times: TimesPage,
    /// What was found, and what was done about it.
    pub faults: FaultsPage,
    /// What there is of tins and timber.
    pub stock: StockPage,
    /// A page a year, with its file; the first is the one that is opened.
    pub years: Vec<(String, YearPage)>,
    /// All pieces as linked data.
    pub linked: Value,
}

/// The pages across all pieces: `entries` are what they tell of each piece that has a page, by its folder, and `asking` is
/// the archive of the same records.
///
/// # Errors
/// [`ArchiveFault`] where the archive cannot be read.
pub fn pages(
    entries: &BTreeMap<String, ArchiveEntry>,
    asking: &Asking<'_>,
    house: &HouseStyle,
) -> Result<ArchivePages, ArchiveFault> {
    let across = Across { entries, asking, words: house.words(), today: asking.today };
    Ok(ArchivePages {
        front: front(&across)?,
        recipes: recipes_page(&across)?,
        times: times_page(&across)?,
        faults: faults_page(&across)?,
        stock: stock_page(&across)?,
        years: year_pages(&across)?,
        linked: linked_whole(house, entries.values().map(|entry| &entry.linked)),
    })
}
