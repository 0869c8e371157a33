//! How far the work went, as far as anything is recorded of it.

use crate::daybook::DayBook;
use crate::record::{Level, Record};

/// The word for a piece of whose work nothing is recorded.
pub const NOTHING_DONE: &str = "nothing";

/// The word for how far the work went: the record's own, or that it is not known, or [`NOTHING_DONE`].
pub fn level_word(record: &Record, day_book: &DayBook) -> &'static str {
    let worked = !record.works.is_empty()
        || !record.fixings.is_empty()
        || !day_book.works.is_empty()
        || record.surfaces.iter().any(|surface| !surface.steps.is_empty());
    match &record.level {
        Some(level) => level.value.word(),
        None if worked => Level::Unknown.word(),
        None => NOTHING_DONE,
    }
}
