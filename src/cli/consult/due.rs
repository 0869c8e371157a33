//! `consult due`: what waits for the workshop.

use chrono::NaiveDate;

use super::Context;
use crate::archive::{ArchiveFault, Due, DueAnswer, DueKind};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;

pub(super) fn due(context: &Context<'_>, until: NaiveDate) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.due(until)?;
    let table = |kind: &DueKind| Table {
        name: kind.word(),
        heading: heading(*kind, &answer),
        columns: &["piece", "what", "task", "before", "day", "late", "who", "asking", "spent"],
        rows: answer.due.iter().filter(|due| due.kind == *kind).map(|due| row(due, context)).collect(),
        shown: &[],
    };
    Ok(Sheet {
        asked: format!("What waits until {until}"),
        said: vec![match answer.due.len() {
            0 => format!("Nothing: {} looked through.", count(answer.pieces, "piece was", "pieces were")),
            _ => said(&answer, context.asking.today),
        }],
        answered: !answer.due.is_empty(),
        pieces: answer.due.iter().map(|due| due.piece.clone()).collect(),
        tables: DueKind::ALL.iter().map(table).collect(),
    })
}

fn said(answer: &DueAnswer, today: NaiveDate) -> String {
    let late = answer.due.iter().filter(|due| due.is_late(today)).count();
    let late = if late == 0 { String::new() } else { format!(", {late} of them late") };
    format!("{}{late}.", count(answer.due.len(), "thing waits", "things wait"))
}

fn heading(kind: DueKind, answer: &DueAnswer) -> String {
    match kind {
        DueKind::Open => "Still to do or to decide".to_owned(),
        DueKind::CallBack => "Promised to the owner".to_owned(),
        DueKind::Reserved => "Kept for somebody".to_owned(),
        DueKind::Collection => "Sold, to be collected".to_owned(),
        DueKind::Curing => "Hardening in the workshop".to_owned(),
        DueKind::Renewal => "To be looked at by the owner".to_owned(),
        DueKind::Unsold => format!(
            "Unsold for more than {}",
            count(usize::try_from(answer.unsold_after).unwrap_or(0), "day", "days")
        ),
        DueKind::DayBook => "In the day book, and not entered".to_owned(),
    }
}

fn row(due: &Due, context: &Context<'_>) -> Row {
    let today = context.asking.today;
    let who = due.who.as_ref().map_or_else(String::new, |who| format!(": {who}"));
    let asking = due.asking.map_or_else(String::new, |asking| format!(", asking {}", context.money(asking)));
    let spent = due.spent.map_or_else(String::new, |spent| format!(", {} spent on it", context.money(spent)));
    let late = due.is_late(today);
    let day = match due.on {
        None => "no day".to_owned(),
        Some(on) if late => format!("{on}!"),
        Some(on) => on.to_string(),
    };
    let (label, words) = match due.kind {
        DueKind::Reserved if due.on.is_none() => {
            (day, format!("kept for somebody, until no day in particular{who}{asking}"))
        }
        DueKind::Reserved => (day, format!("kept until then{who}{asking}")),
        DueKind::Collection => (day, format!("to be collected{who}")),
        DueKind::Unsold => {
            let days = due.on.map_or(0, |on| (today - on).num_days());
            (day, format!("unsold since then, {days} days{asking}{spent}"))
        }
        DueKind::Curing | DueKind::Renewal => (day, format!("{}{who}", task(due))),
        DueKind::Open | DueKind::CallBack | DueKind::DayBook => {
            let before = due.before.as_ref().map_or_else(String::new, |before| format!(" (before {before})"));
            (day, format!("{}{before}{who}", due.what))
        }
    };
    let words = if late { format!("{words} (due since then)") } else { words };
    Row {
        told: vec![format!("{label}\t{words}")],
        cells: vec![
            Cell::Piece(due.piece.clone()),
            Cell::Text(due.what.clone()),
            Cell::maybe(due.task.clone(), Cell::Text),
            Cell::maybe(due.before.clone(), Cell::Text),
            Cell::maybe(due.on, Cell::Day),
            Cell::Is(late),
            Cell::maybe(due.who.clone(), Cell::Text),
            Cell::maybe(due.asking, Cell::money),
            Cell::maybe(due.spent, Cell::money),
        ],
    }
}

/// What is looked at, in words; the surface stays as the record has it.
fn task(due: &Due) -> String {
    let task = match due.task.as_deref().unwrap_or_default() {
        "light-use" => "may be used lightly",
        "full-cure" => "is fully hard",
        "renewing" => "look whether the finish wants renewing",
        "fixings" => "look at screws, hinges and joints",
        other => other,
    };
    if due.what.is_empty() { task.to_owned() } else { format!("{task}: {}", due.what) }
}
