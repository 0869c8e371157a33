//! What the buyer of one piece sees: its papers, and nothing of any other piece.

use serde::Serialize;

use super::Source;
use super::amendments::SealView;
use super::build_record::{BuildRecord, build_record};
use super::calendar::{Calendar, calendar};
use super::care::{Care, care};
use super::disclosure::{Disclosure, disclosure};
use super::label::{Label, label};
use super::shown::Sees;
use super::undo::{UndoSheet, undo};

/// One buyer's papers.
#[derive(Debug, Clone, Serialize)]
pub struct Papers {
    /// The build record.
    pub record: BuildRecord,
    /// The disclosure sheet.
    pub disclosure: Disclosure,
    /// The care sheet.
    pub care: Care,
    /// The undo sheet.
    pub undo: UndoSheet,
    /// The label that stays with the piece.
    pub label: Label,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// The days to keep; none where no day is known.
    pub calendar: Option<Calendar>,
    /// The same papers as files to print, in the order of the page; empty where none were made.
    pub printed: Vec<Printed>,
}

/// A paper as a file to print.
#[derive(Debug, Clone, Serialize)]
pub struct Printed {
    /// Its address beside the page.
    pub href: String,
    /// What it is called.
    pub name: String,
}

/// The papers of one piece.
pub(super) fn papers(source: &Source<'_>) -> Papers {
    let record = build_record(source, Sees::Public);
    Papers {
        disclosure: disclosure(source, &record),
        care: care(source),
        calendar: calendar(source),
        undo: undo(source, &record),
        label: label(source, &record),
        seal: source.seal(),
        printed: Vec::new(),
        record,
    }
}
