//! The day book of a piece as its maker wrote it, private lines and times included.

use serde::Serialize;

use crate::daybook::same;
use crate::record::Jotting;
use crate::unit::Hours;
use crate::view::context::PieceContext;
use crate::view::shared::photograph::{Gallery, PhotoView, Sees};

/// A line of the day book.
#[derive(Debug, Clone, Serialize)]
pub struct JottedRow {
    /// The day; empty where none is told.
    pub day: String,
    /// Its words.
    pub words: String,
    /// How long it took; empty where it tells no time.
    pub time: String,
    /// Whether only the archive has it.
    pub private: bool,
    /// The tables of the rows that were entered from it, such as `work`; empty where none were.
    pub entered: String,
    /// The photographs that were taken on its day, beside the first line of that day.
    pub photographs: Vec<PhotoView>,
}

/// The day book of a piece.
#[derive(Debug, Clone, Serialize)]
pub struct DayBookView {
    /// Its lines, the earliest first.
    pub lines: Vec<JottedRow>,
    /// Lines from which rows of the record say that they were entered, and which no day book has.
    pub gone: Vec<String>,
}

/// The day book of a piece, as the archive shows it.
pub(super) fn day_book_view(context: &PieceContext<'_>) -> DayBookView {
    let mut jottings: Vec<&Jotting> = context.piece.jottings.iter().collect();
    jottings.sort_by_key(|jotting| (jotting.on.is_none(), jotting.on));
    let (entered, said) = (context.record.entered(), context.house.words());
    let gallery = Gallery::of(context, Sees::Everything);
    let mut last_day = None;
    let mut row = |jotting: &Jotting| {
        let first_of_day = jotting.on.is_some() && jotting.on != last_day;
        last_day = jotting.on;
        let name = jotting.name.for_archive();
        let tables: Vec<String> = entered
            .iter()
            .filter(|row| same(&row.from.value.0, name))
            .map(|row| row.table.to_owned())
            .collect();
        let minutes = jotting.minutes.for_archive();
        let hours = minutes.and_then(|minutes| {
            Hours::new(rust_decimal::Decimal::from(minutes) / rust_decimal::Decimal::from(60))
        });
        JottedRow {
            day: jotting.on.map_or(String::new(), |on| said.day(on)),
            words: jotting.words.for_archive().clone(),
            time: hours.map_or(String::new(), |hours| said.hours(hours)),
            private: jotting.said.is_err(),
            entered: said.list(&tables),
            photographs: jotting.on.filter(|_| first_of_day).map_or(Vec::new(), |on| gallery.taken_on(on)),
        }
    };
    let lines = jottings.iter().map(|jotting| row(jotting)).collect();
    let is_gone = |from: &str| !jottings.iter().any(|jotting| same(from, jotting.name.for_archive()));
    let gone = entered.iter().map(|row| row.from.to_string()).filter(|from| is_gone(from)).collect();
    DayBookView { lines, gone }
}
