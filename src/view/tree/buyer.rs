//! What the buyer of one piece sees: its papers, and nothing of any other piece.

use serde::Serialize;

use crate::view::context::PieceContext;
use crate::view::shared::photograph::{Gallery, Sees};
use crate::view::shared::row::Rows;
use crate::view::shared::seal::{SealFor, SealView, seal_view};
use crate::view::sheet::build_record::{BuildRecord, build_record};
use crate::view::sheet::calendar::{Calendar, calendar};
use crate::view::sheet::care::{Care, care};
use crate::view::sheet::disclosure::{Disclosure, disclosure};
use crate::view::sheet::label::{Label, label};
use crate::view::sheet::undo::{UndoSheet, undo};

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
pub fn papers(context: &PieceContext<'_>) -> Papers {
    let (rows, gallery) = (Rows::of(context, Sees::Public), Gallery::of(context, Sees::Public));
    Papers {
        disclosure: disclosure(context, &rows),
        care: care(context),
        calendar: calendar(context),
        undo: undo(context, &rows, &gallery),
        label: label(context),
        seal: seal_view(context, SealFor::Buyer),
        printed: Vec::new(),
        record: build_record(context, &gallery, rows),
    }
}
