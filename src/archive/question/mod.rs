//! The questions that the archive is asked. Each answer names the pieces that it rests on; how it is worded is for
//! whoever prints it.

mod before;
mod care;
mod colour;
mod due;
mod faults;
mod lessons;
mod money;
mod quote;
mod spread;
mod stock;
mod time;
mod wording;
mod words;

use std::collections::BTreeMap;
use std::str::FromStr;

use chrono::NaiveDate;
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ValueRef};
use rusqlite::{Params, Row};
use rust_decimal::Decimal;

use super::database::{Archive, ArchiveFault};
use crate::trade::Trade;

pub use before::{BeforeAnswer, BegunAnswer};
pub use care::{Borne, CareAnswer, FaceBorne};
pub use colour::{ColourAnswer, ColourQuestion, MeasuredColour, Recipe, RecipeStep};
pub use due::{Due, DueAnswer, DueKind};
pub use faults::{Fault, FaultKind, FaultsAnswer, LeftFault, Remedy};
pub use lessons::{Lesson, LessonsAnswer};
pub use money::{Earned, MoneyAnswer, MoneyRow, Unsold};
pub use quote::{Case, QuoteAnswer, QuotedTask, Worth};
pub use spread::Spread;
pub use stock::{StockAnswer, StockLine, StockUse, TinLine};
pub use time::{PastWork, TaskTimes, TimeAnswer, TimeRow, TimesAnswer};
pub use wording::Wording;
pub use words::{Found, Hit, WordsAnswer};

/// A piece as an answer names it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PieceName {
    /// The workshop's number for it.
    pub number: String,
    /// What it is.
    pub title: String,
    /// Its folder below `pieces/`.
    pub folder: String,
}

/// How much was looked through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Searched {
    /// How many pieces.
    pub pieces: usize,
    /// How many lines, rows or colours of them.
    pub rows: usize,
}

/// What an answer is asked of.
#[derive(Debug)]
pub struct Asking<'a> {
    /// The archive.
    pub archive: &'a Archive,
    /// The tables of the trade, by which words are widened.
    pub trade: &'a Trade,
    /// The day on which it is asked.
    pub today: NaiveDate,
}

/// A number of a column, as exactly as it was recorded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Amount(Decimal);

impl FromSql for Amount {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let decimal = match value {
            ValueRef::Integer(number) => Some(Decimal::from(number)),
            // The shortest text that is this number is the one it was recorded as.
            ValueRef::Real(number) => Decimal::from_str(&number.to_string()).ok(),
            ValueRef::Text(text) => {
                std::str::from_utf8(text).ok().and_then(|text| Decimal::from_str(text).ok())
            }
            _ => None,
        };
        decimal.map(Amount).ok_or(FromSqlError::InvalidType)
    }
}

/// An amount in a column of a row, where there is one.
fn amount(row: &Row<'_>, column: &str) -> rusqlite::Result<Option<Decimal>> {
    Ok(row.get::<_, Option<Amount>>(column)?.map(|amount| amount.0))
}

/// A day in a column of a row, where there is one.
fn day(row: &Row<'_>, column: &str) -> rusqlite::Result<Option<NaiveDate>> {
    let text: Option<String> = row.get(column)?;
    Ok(text.and_then(|text| text.parse().ok()))
}

impl Asking<'_> {
    /// The rows that a query gives.
    fn rows<T>(
        &self,
        query: &str,
        with: impl Params,
        each: impl FnMut(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, ArchiveFault> {
        let mut rows = self.archive.connection.prepare_cached(query)?;
        Ok(rows.query_map(with, each)?.collect::<Result<_, _>>()?)
    }

    /// A number that a query gives.
    fn count(&self, query: &str, with: impl Params) -> Result<usize, ArchiveFault> {
        let count: i64 = self.archive.connection.query_row(query, with, |row| row.get(0))?;
        Ok(usize::try_from(count).unwrap_or(0))
    }

    /// All pieces by their numbers in the archive.
    fn pieces(&self) -> Result<BTreeMap<i64, PieceName>, ArchiveFault> {
        let named = self.rows("SELECT id, number, title, folder FROM piece", [], |row| {
            Ok((row.get(0)?, PieceName { number: row.get(1)?, title: row.get(2)?, folder: row.get(3)? }))
        })?;
        Ok(named.into_iter().collect())
    }

    /// What each piece is and where its page is, from the archive's folder, by the piece's folder.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn leads(&self) -> Result<BTreeMap<String, (String, String)>, ArchiveFault> {
        let leads = self.rows("SELECT folder, kind, page FROM piece", [], |row| {
            Ok((row.get(0)?, (row.get(1)?, row.get(2)?)))
        })?;
        Ok(leads.into_iter().collect())
    }

    /// How many pieces there are, and how many rows a table has of them.
    fn searched(&self, table: &str) -> Result<Searched, ArchiveFault> {
        let rows = match table {
            "line" => self.lines()?,
            table => self.count(&format!("SELECT count(*) FROM \"{table}\""), [])?,
        };
        Ok(Searched { pieces: self.count("SELECT count(*) FROM piece", [])?, rows })
    }

    /// How many lines there are. The index notes it: the first number of its row of averages, seven bits a byte, the highest
    /// first, each but the last with its eighth bit set.
    fn lines(&self) -> Result<usize, ArchiveFault> {
        let averages =
            self.rows("SELECT block FROM words_data WHERE id = 1", [], |row| row.get::<_, Vec<u8>>(0))?;
        let mut lines = 0_usize;
        for byte in averages.iter().flatten().take(8) {
            lines = lines << 7 | usize::from(byte & 0x7f);
            if byte & 0x80 == 0 {
                break;
            }
        }
        Ok(lines)
    }

    /// The numbers of the rows of one table whose lines have these words, by piece and number, the likeliest first.
    fn lines_of(&self, section: &str, wording: &Wording) -> Result<Vec<(i64, i64)>, ArchiveFault> {
        let Some(query) = wording.widened() else { return Ok(Vec::new()) };
        self.rows(
            "SELECT line.piece, line.no FROM words JOIN line ON line.id = words.rowid
             WHERE words MATCH ?1 AND line.section = ?2 ORDER BY words.rank, line.id",
            [query.as_str(), section],
            |row| Ok((row.get(0)?, row.get(1)?)),
        )
    }

    /// The piece of this number or folder, or with this title.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn piece(&self, named: &str) -> Result<Result<(i64, PieceName), Vec<String>>, ArchiveFault> {
        let bare = named.trim().trim_end_matches('/').trim_start_matches("./").trim_start_matches("pieces/");
        let pieces = self.pieces()?;
        let is = |of: fn(&PieceName) -> &str| {
            let lower = bare.to_lowercase();
            pieces.iter().find(|(_, piece)| of(piece).to_lowercase() == lower)
        };
        let found = is(|piece| &piece.folder)
            .or_else(|| is(|piece| &piece.number))
            .or_else(|| is(|piece| &piece.title));
        Ok(match found {
            Some((id, piece)) => Ok((*id, piece.clone())),
            None => Err(nearest_pieces(bare, pieces.values())),
        })
    }
}

/// The pieces whose numbers, folders or titles come nearest to a name: three at most.
fn nearest_pieces<'p>(named: &str, pieces: impl Iterator<Item = &'p PieceName>) -> Vec<String> {
    let lower = named.to_lowercase();
    let mut near: Vec<(f64, &PieceName)> = pieces
        .map(|piece| {
            let names = [&piece.number, &piece.folder, &piece.title].map(|name| name.to_lowercase());
            let like = |name: &String| match !lower.is_empty()
                && (name.contains(&lower) || lower.contains(name.as_str()))
            {
                true => 0.95,
                false => strsim::jaro_winkler(name, &lower),
            };
            (names.iter().map(like).fold(0.0, f64::max), piece)
        })
        .filter(|(like, _)| *like > 0.75)
        .collect();
    near.sort_by(|(one, a), (other, b)| other.total_cmp(one).then_with(|| a.number.cmp(&b.number)));
    near.into_iter().take(3).map(|(_, piece)| format!("{} ({})", piece.number, piece.title)).collect()
}
