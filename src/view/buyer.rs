//! What the buyer of one piece sees: its papers, and nothing of any other piece.

use serde::Serialize;

use super::Source;
use super::amendments::{SealFor, SealView, seal_view};
use super::build_record::{BuildRecord, Sees, build_record};
use super::calendar::{Calendar, calendar};
use super::care::{Care, care};
use super::disclosure::{Disclosure, disclosure};

/// One buyer's papers.
#[derive(Debug, Clone, Serialize)]
pub struct Papers {
    /// The build record.
    pub record: BuildRecord,
    /// The disclosure sheet.
    pub disclosure: Disclosure,
    /// The care sheet.
    pub care: Care,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// The days to keep; none where no day is known.
    pub calendar: Option<Calendar>,
}

/// The papers of one piece.
pub(super) fn papers(source: &Source<'_>) -> Papers {
    let record = build_record(source, Sees::Public);
    Papers {
        disclosure: disclosure(source, &record),
        care: care(source),
        calendar: calendar(source),
        seal: seal_view(source, SealFor::Buyer),
        record,
    }
}
