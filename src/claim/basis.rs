//! What a claim rests on.

use crate::diag::Place;
use crate::fields::{Row, Said};

/// One thing that a claim rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Basis {
    /// What a file of the workshop says.
    Said {
        /// Where.
        place: Place,
        /// Under which key, from the outermost table: `part.standing`.
        key: String,
    },
    /// That a file says nothing under a key.
    Unsaid {
        /// The file, from the workshop's root.
        file: String,
        /// The key.
        key: String,
    },
    /// A row of a table of the trade.
    Table {
        /// The table, by the name of its file without the ending.
        table: &'static str,
        /// The row's id; empty where the table as a whole is meant.
        row: String,
    },
}

impl Basis {
    /// A row of a table of the trade.
    pub fn table(table: &'static str, row: impl Into<String>) -> Basis {
        Basis::Table { table, row: row.into() }
    }
}

/// The file that bases are found in.
#[derive(Debug, Clone)]
pub struct Ground {
    file: String,
}

impl Ground {
    /// A file, by its path from the workshop's root.
    pub fn of(file: impl Into<String>) -> Ground {
        Ground { file: file.into() }
    }

    /// What the file says at a value, under this key.
    pub fn said<T>(&self, said: &Said<T>, key: impl Into<String>) -> Basis {
        Basis::Said { place: Place::at(&self.file, &said.span), key: key.into() }
    }

    /// A row of one of the file's lists, as a whole.
    pub fn row<T>(&self, row: &Row<T>, key: impl Into<String>) -> Basis {
        self.said(row, key)
    }

    /// What it says at a value where there is one, and else that it says nothing there.
    pub fn either<T>(&self, said: Option<&Said<T>>, key: &str) -> Basis {
        said.map_or_else(|| self.unsaid(key), |said| self.said(said, key))
    }

    /// That the file says nothing under this key.
    pub fn unsaid(&self, key: impl Into<String>) -> Basis {
        Basis::Unsaid { file: self.file.clone(), key: key.into() }
    }
}
