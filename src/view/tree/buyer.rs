//! What the buyer of one piece sees: its papers, and nothing of any other piece.

use serde::Serialize;

use crate::view::context::PieceContext;
use crate::view::shared::photograph::{Gallery, Sees};
use crate::view::shared::row::Rows;
use crate::view::shared::seal::{SealFor, SealView, seal_view};
use crate::view::sheet::calendar::{Calendar, calendar};
use crate::view::sheet::label::{Label, label};
use crate::view::sheet::{Making, SHEETS, SheetName, SheetViews};

/// One buyer's papers.
#[derive(Debug, Clone, Serialize)]
pub struct Papers {
    /// The sheets.
    #[serde(flatten)]
    pub sheets: SheetViews,
    /// What each sheet is called, in their order.
    #[serde(rename = "sheets")]
    pub kinds: Vec<SheetName>,
    /// The label that stays with the piece.
    pub label: Label,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// The days to keep; none where no day is known.
    pub calendar: Option<Calendar>,
    /// The same papers as files to print, in the order of the page; empty where none were made.
    pub printed: Vec<Printed>,
    /// Whether the receipts of its sale stand in the archive as a paper to print, too.
    #[serde(skip)]
    pub receipts_printed: bool,
}

/// A paper as a file to print.
#[derive(Debug, Clone, Serialize)]
pub struct Printed {
    /// Its address beside the page.
    pub href: String,
    /// What it is called.
    pub name: String,
}

impl Papers {
    /// Leaves out a paper to print that could not be made.
    pub fn forget_printed(&mut self, href: &str) {
        self.printed.retain(|paper| paper.href != href);
    }
}

/// The papers of one piece.
pub fn papers(context: &PieceContext<'_>) -> Papers {
    let (rows, gallery) = (Rows::of(context, Sees::Public), Gallery::of(context, Sees::Public));
    Papers {
        sheets: SheetViews::of(&Making { context, rows: &rows, gallery: &gallery }),
        kinds: SHEETS.iter().map(|sheet| sheet.named(context.house.words())).collect(),
        calendar: calendar(context),
        label: label(context),
        seal: seal_view(context, SealFor::Buyer),
        printed: Vec::new(),
        receipts_printed: false,
    }
}
