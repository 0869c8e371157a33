//! What was left unmended, and why.

use serde::Serialize;

use crate::view::context::PieceContext;
use crate::words::sentence;

/// What was left unmended.
#[derive(Debug, Clone, Serialize)]
pub struct UndoneRow {
    /// What.
    pub what: String,
    /// Why.
    pub why: String,
    /// What it means for the buyer; may be empty.
    pub effect: String,
}

/// What was left unmended.
pub(super) fn undone(context: &PieceContext<'_>) -> Vec<UndoneRow> {
    let words = context.house.words();
    context
        .record
        .undone
        .iter()
        .map(|undone| UndoneRow {
            what: sentence(&words.said(&undone.what)),
            why: words.word("why", undone.why.value.word()),
            effect: undone.effect.as_ref().map_or(String::new(), |effect| sentence(&words.said(effect))),
        })
        .collect()
}
