//! `consult time`: how long work like this took.

use super::{Context, all_kinds, hours};
use crate::archive::{ArchiveFault, PastWork, Spread, TimeAnswer, TimeRow};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;

/// How many works are told, where not all are asked for.
const SHOWN: usize = 12;

pub(super) fn time(context: &Context<'_>, words: &str, all: bool) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.time(words)?;
    let shown = if all { usize::MAX } else { SHOWN };
    Ok(Sheet {
        asked: format!("How long \"{}\" took", answer.wording.typed()),
        said: said(&answer, shown),
        answered: !answer.works.is_empty(),
        pieces: answer.works.iter().map(|work| work.piece.clone()).collect(),
        tables: vec![
            Table {
                name: "hours",
                heading: "Hours for a piece".to_owned(),
                columns: &["kind", "pieces", "least", "lower-quartile", "median", "upper-quartile", "most"],
                rows: answer.rows.iter().map(row).collect(),
                shown: &[
                    (0, "kind"),
                    (1, "pieces"),
                    (2, "least"),
                    (3, "lower ¼"),
                    (4, "median"),
                    (5, "upper ¼"),
                    (6, "most"),
                ],
            },
            Table {
                name: "works",
                heading: "What went into them".to_owned(),
                columns: &[
                    "piece",
                    "kind",
                    "day",
                    "task",
                    "did",
                    "means",
                    "parts",
                    "hours",
                    "turned-out",
                    "done-again",
                ],
                rows: answer.works.iter().take(shown).map(work).collect(),
                shown: &[],
            },
        ],
    })
}

fn said(answer: &TimeAnswer, shown: usize) -> Vec<String> {
    if answer.works.is_empty() {
        let mut said = vec![format!(
            "No work like it was found in {} of {}.",
            count(answer.searched.rows, "work", "works"),
            count(answer.searched.pieces, "piece", "pieces")
        )];
        let tasks: Vec<String> =
            answer.tasks.iter().take(12).map(|(task, works)| format!("{task} ({works})")).collect();
        if !tasks.is_empty() {
            said.push(format!("The tasks on record are: {}.", tasks.join(", ")));
        }
        return said;
    }
    let mut said = Vec::new();
    match answer.rows.first() {
        Some(row) => said.push(format!("{} a piece: {}.", hours(row.hours.median), spread(&row.hours))),
        None => said.push("No hours are recorded for any of them.".to_owned()),
    }
    if answer.without_hours > 0 && !answer.rows.is_empty() {
        said.push(format!(
            "{} no hours and count for none.",
            count(answer.without_hours, "work has", "works have")
        ));
    }
    let failed = answer.works.iter().filter(|work| work.turned_out.as_deref() == Some("failed")).count();
    if failed > 0 {
        said.push(format!(
            "{} among them, with {} hours.",
            count(failed, "failed attempt is", "failed attempts are"),
            if failed == 1 { "its" } else { "their" }
        ));
    }
    if answer.works.len() > shown {
        said.push(format!("The newest {shown} of {} works are told; --all tells all.", answer.works.len()));
    }
    said
}

/// How figures lie, in words.
pub(super) fn spread(hours: &Spread) -> String {
    let (low, high) = hours.likely();
    let pieces = count(hours.count, "piece", "pieces");
    match hours.count {
        1 => "of one piece, so a guess at best".to_owned(),
        enough if enough >= Spread::ENOUGH => {
            format!(
                "median of {pieces}; the middle half took {} to {}",
                Cell::hours(low).shown(),
                Cell::hours(high).shown()
            )
        }
        _ => {
            format!("median of {pieces}, from {} to {}", Cell::hours(low).shown(), Cell::hours(high).shown())
        }
    }
}

/// The cells of hours: how many, and then from the least to the most.
pub(super) fn spread_cells(hours: &Spread) -> Vec<Cell> {
    let figures = [hours.least, hours.lower, hours.median, hours.upper, hours.most].map(Cell::hours);
    std::iter::once(Cell::Count(hours.count)).chain(figures).collect()
}

fn row(row: &TimeRow) -> Row {
    let kind = Cell::Text(all_kinds(&row.sort));
    Row { cells: std::iter::once(kind).chain(spread_cells(&row.hours)).collect(), told: Vec::new() }
}

fn work(work: &PastWork) -> Row {
    let day = work.on.map_or_else(|| "no day".to_owned(), |day| day.to_string());
    let took = work.hours.map_or_else(|| "no hours".to_owned(), hours);
    let means = work.means.as_ref().map_or_else(String::new, |means| format!(", {means}"));
    let ended = work.turned_out.as_ref().map_or_else(String::new, |how| format!("; turned out: {how}"));
    let again = if work.again { "; done again" } else { "" };
    let text = |text: &Option<String>| Cell::maybe(text.clone(), Cell::Text);
    Row {
        told: vec![format!("{day}\t{}{means} ({took}{ended}{again})", work.did)],
        cells: vec![
            Cell::Piece(work.piece.clone()),
            Cell::Text(work.sort.clone()),
            Cell::maybe(work.on, Cell::Day),
            text(&work.task),
            Cell::Text(work.did.clone()),
            text(&work.means),
            Cell::Text(work.parts.clone()),
            Cell::maybe(work.hours, Cell::hours),
            text(&work.turned_out),
            Cell::Is(work.again),
        ],
    }
}
