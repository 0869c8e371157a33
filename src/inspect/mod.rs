//! Rules that look at a record and never change it.
//!
//! One file per rule; [`RULES`] lists them all, and `explain`, the table in the docs and
//! the tests walk that list. A rule gets one piece with its facts, and says what it sees.

use std::collections::BTreeMap;

use crate::derive::Facts;
use crate::diag::{Code, Diagnostic, Place};
use crate::record::{Folder, Piece, Record};
use crate::trade::Trade;

/// One piece as a rule sees it.
pub struct Case<'a> {
    /// The whole workshop.
    pub folder: &'a Folder,
    /// The piece's folder.
    pub piece: &'a Piece,
    /// Its record.
    pub record: &'a Record,
    /// What follows from the record.
    pub facts: &'a Facts,
    /// How its photographs answered when they were opened.
    pub looks: &'a Looks,
    /// The tables of the trade.
    pub trade: &'a Trade,
    /// The day of the inspection.
    pub today: chrono::NaiveDate,
    /// The record's path from the workshop's root.
    pub path: String,
}

impl Case<'_> {
    /// A diagnostic at a byte range of the piece's record.
    pub fn at(
        &self,
        code: &'static Code,
        span: &std::ops::Range<usize>,
        message: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::new(code, Place::at(&self.path, span), message)
    }

    /// A diagnostic about the record as a whole.
    pub fn whole(&self, code: &'static Code, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, Place::file(&self.path), message)
    }

    /// A diagnostic about one of the piece's photographs.
    pub fn photo(&self, code: &'static Code, file: &str, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, Place::file(&self.piece.photo_path(file)), message)
    }
}

/// A rule: the fault it names, and how it looks for it.
pub struct Rule {
    /// The fault.
    pub code: &'static Code,
    /// Looks at one piece, and pushes what it sees.
    pub check: fn(&Case<'_>, &mut Vec<Diagnostic>),
    /// Whether it looks up names that a table left out while reading may have had.
    pub needs_whole: bool,
}

/// How each photograph of one piece answered when it was opened, by file name.
pub type Looks = BTreeMap<String, Result<crate::photo::Checked, crate::photo::Fault>>;
