//! What the day book proposes, beside the record.

use serde::Serialize;

use super::Open;
use crate::daybook::{Bench, Waiting, waiting};
use crate::trade::Trade;
use crate::viewing::address::encoded;
use crate::viewing::entering::{Unplaced, entering, surfaces};
use crate::viewing::proposal::Proposal;

/// A line that waits.
#[derive(Debug, Serialize)]
pub(super) struct LineShown {
    line: String,
    rows: Vec<RowShown>,
}

/// A row that it proposes.
#[derive(Debug, Serialize)]
struct RowShown {
    /// The row as TOML.
    toml: String,
    /// Which table it is of.
    of: String,
    /// What it would say, each key with its value.
    pairs: Vec<(String, String)>,
    /// The words of the line that it rests on.
    words: String,
    unsure: Vec<String>,
    /// The surfaces that it may be on, where the line does not say.
    surfaces: Vec<String>,
    /// Parts that the record does not have, as the line calls them, and as addresses have that.
    missing: Vec<(String, String)>,
    /// Why it cannot be entered.
    why: String,
}

fn lines(open: &Open, trade: &Trade) -> Vec<Waiting> {
    let Some(record) = &open.piece.record else { return Vec::new() };
    let bench = Bench::of(trade, Some(record)).stocked(&open.folder.stock.items);
    waiting(&open.piece, record, &bench)
}

/// What waits, line by line.
pub(super) fn shown(open: &Open, trade: &Trade) -> Vec<LineShown> {
    let Some(record) = &open.piece.record else { return Vec::new() };
    let line = |line: Waiting| {
        let row = |proposal: &crate::daybook::Proposal| {
            let made = entering(&open.text, record, &line.jotting, proposal, None);
            let (surfaces, why) = match made {
                Ok(_) => (Vec::new(), String::new()),
                Err(Unplaced::WhichSurface(names)) if !names.is_empty() => (names, String::new()),
                Err(why) => (Vec::new(), why.to_string()),
            };
            RowShown {
                toml: proposal.toml(),
                of: match proposal.table {
                    "" => "the record itself".to_owned(),
                    "surface.steps" => "a step on a surface".to_owned(),
                    table => table.to_owned(),
                },
                pairs: proposal.keys.iter().map(|(key, value)| ((*key).to_owned(), plain(value))).collect(),
                words: proposal.words.clone(),
                unsure: proposal.unsure.clone(),
                surfaces,
                missing: proposal.lacks().into_iter().map(|part| (part.to_owned(), encoded(part))).collect(),
                why,
            }
        };
        LineShown { line: line.jotting.name_of_line(), rows: line.proposals.iter().map(row).collect() }
    };
    lines(open, trade).into_iter().map(line).collect()
}

/// A value without its quotation marks.
fn plain(value: &toml_edit::Value) -> String {
    value.as_str().map_or_else(|| value.to_string().trim().to_owned(), str::to_owned)
}

/// The record with one of the rows that wait.
///
/// # Errors
/// Why it cannot be entered, in words.
pub(super) fn taken(
    open: &Open,
    trade: &Trade,
    line: &str,
    row: &str,
    surface: Option<usize>,
) -> Result<Proposal, String> {
    let gone = || "this line does not propose that any more; look at it again".to_owned();
    let record = open.piece.record.as_ref().ok_or_else(gone)?;
    let surface = surface.filter(|surface| *surface < surfaces(record).len());
    let waits = lines(open, trade).into_iter().filter(|known| known.jotting.name_of_line() == line);
    let row = row.trim();
    let mut found = waits.flat_map(|known| {
        let mine: Vec<_> =
            known.proposals.iter().filter(|proposal| proposal.toml().trim() == row).cloned().collect();
        mine.into_iter().map(move |proposal| (known.jotting.clone(), proposal))
    });
    let (jotting, proposal) = found.next().ok_or_else(gone)?;
    entering(&open.text, record, &jotting, &proposal, surface).map_err(|why| match why {
        Unplaced::WhichSurface(names) if names.is_empty() => {
            "the record has no surface yet; add the parts that it is on first".to_owned()
        }
        why => why.to_string(),
    })
}
