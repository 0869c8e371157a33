//! What the archive keeps of the workshop itself: its stock, its tins, and what the rows are made from.

use rusqlite::types::Value;
use rusqlite::{OptionalExtension, Transaction, params, params_from_iter};

use super::database::{ArchiveFault, places};
use super::entry::{StockEntry, TinEntry};
use super::table::Entry;
use crate::derive::Overhead;
use crate::fields::Said;
use crate::record::{Folder, PartSize};
use crate::unit::{Length, fingerprint};

/// After how many days a piece that is still for sale is called to mind, where the workshop says nothing.
pub const UNSOLD_AFTER_DAYS: u32 = 90;

/// Under which keys it is told how overhead is reckoned.
pub(super) const OVERHEAD_PER_HOUR: &str = "overhead-per-hour";
pub(super) const OVERHEAD_PERCENT: &str = "overhead-percent";

/// Before the folder of a set, whose record is kept with no piece: the fingerprint of its files.
pub(super) const SET: &str = "set ";

/// What the archive keeps of the workshop itself.
#[derive(Debug, Clone, PartialEq)]
pub struct Shared {
    about: Vec<(String, String)>,
    stock: Vec<Vec<Value>>,
    tins: Vec<Vec<Value>>,
}

impl Shared {
    /// What a workshop's folder says of it; `source` is a fingerprint of the files that all pieces share, and `sets` has
    /// one of the files of each set, by its folder.
    pub fn of(folder: &Folder, source: String, sets: impl IntoIterator<Item = (String, String)>) -> Shared {
        let workshop = folder.workshop.as_ref();
        let stock = folder.stock.items.iter().map(|item| {
            let size = item.size.for_archive().as_ref();
            let mm = |of: fn(&PartSize) -> &Option<Said<Length>>| {
                size.and_then(|size| Some(of(size).as_ref()?.mm()))
            };
            StockEntry {
                id: item.id.0.clone(),
                what: item.what.to_string(),
                origin: item.origin.as_ref().map(|origin| origin.to_string()),
                timber: item.timber.for_archive().as_ref().map(|timber| timber.to_string()),
                paid: item.paid.for_archive().as_ref().map(|paid| paid.value),
                count: item.count.for_archive().as_ref().map(|count| count.0),
                unit: item.unit.for_archive().as_ref().map(|unit| unit.to_string()),
                length: mm(|size| &size.length),
                width: mm(|size| &size.width),
                thick: mm(|size| &size.thick),
                note: item.note.for_archive().as_ref().map(|note| note.to_string()),
            }
            .values()
        });
        let tins = workshop.map_or(&[][..], |workshop| &workshop.tins).iter().map(|tin| {
            TinEntry {
                id: tin.id.0.clone(),
                finish: tin.is.to_string(),
                name: tin.name.as_ref().map(|name| name.to_string()),
                litres: tin.litres.as_ref().map(|litres| litres.0),
                price: tin.price.for_archive().as_ref().map(|price| price.value),
                note: tin.note.for_archive().as_ref().map(|note| note.to_string()),
            }
            .values()
        });
        let days = workshop.and_then(|workshop| workshop.unsold_after_days.as_ref()).map(|days| days.0);
        let mut about = vec![
            ("source".to_owned(), source),
            ("unsold-after-days".to_owned(), days.unwrap_or(UNSOLD_AFTER_DAYS).to_string()),
        ];
        about.extend(sets.into_iter().map(|(set, source)| (format!("{SET}{set}"), source)));
        let mut add = |key: &str, said: String| about.push((key.to_owned(), said));
        if let Some(workshop) = workshop {
            add("workshop", workshop.name.to_string());
            workshop.currency.iter().for_each(|currency| add("currency", currency.to_string()));
            let rate = workshop.hourly_rate.for_archive().as_ref();
            rate.into_iter().for_each(|rate| add("hourly-rate", rate.value.0.to_string()));
            match Overhead::of(workshop) {
                Overhead::None => {}
                Overhead::PerHour(each) => add(OVERHEAD_PER_HOUR, each.0.to_string()),
                Overhead::Percent(percent) => add(OVERHEAD_PERCENT, percent.to_string()),
            }
        }
        Shared { about, stock: stock.collect(), tins: tins.collect() }
    }

    /// Writes it, and says whether it differs from what was there.
    pub(super) fn write(&self, transaction: &Transaction<'_>) -> Result<bool, ArchiveFault> {
        let content = fingerprint(format!("{self:?}").as_bytes());
        let before: Option<String> = transaction
            .query_row("SELECT value FROM about WHERE key = 'content'", [], |row| row.get(0))
            .optional()?;
        if before.as_ref() == Some(&content) {
            return Ok(false);
        }
        transaction.execute_batch("DELETE FROM about; DELETE FROM stock; DELETE FROM tin;")?;
        let mut about = transaction.prepare("INSERT INTO about VALUES (?1, ?2)")?;
        about.execute(params!["content", content])?;
        for (key, value) in &self.about {
            about.execute(params![key, value])?;
        }
        for (table, rows) in [(StockEntry::TABLE, &self.stock), (TinEntry::TABLE, &self.tins)] {
            let into = format!("INSERT INTO \"{}\" VALUES ({})", table.name, places(table.columns.len() + 1));
            let mut into = transaction.prepare(&into)?;
            for (row, no) in rows.iter().zip(1_i64..) {
                into.execute(params_from_iter(std::iter::once(&Value::Integer(no)).chain(row)))?;
            }
        }
        Ok(true)
    }
}
