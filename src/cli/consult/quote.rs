//! `consult quote`: what a new piece is likely to take.

use rust_decimal::Decimal;

use super::sheet::{Cell, Row, Sheet, Table};
use super::time::{spread, spread_cells};
use super::{Context, hours};
use crate::archive::{ArchiveFault, PieceName, QuoteAnswer, QuotedTask, Spread};
use crate::cli::words::count;

pub(super) fn quote(context: &Context<'_>, kind: &str, tasks: &[String]) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.quote(kind, tasks)?;
    let mut rows = Vec::new();
    if let Some(hours) = answer.hours.filter(|_| answer.tasks.is_empty()) {
        rows.push(row("the whole piece", &hours, true));
    }
    rows.extend(answer.tasks.iter().filter_map(|task| Some(row(&task.task, &task.hours?, task.of_kind))));
    let materials = answer.materials.map(|spread| {
        let cells = [spread.least, spread.lower, spread.median, spread.upper, spread.most].map(Cell::money);
        Row { cells: std::iter::once(Cell::Count(spread.count)).chain(cells).collect(), told: Vec::new() }
    });
    let answered = answer.expected().is_some() || answer.materials.is_some();
    let pieces: Vec<PieceName> = match answer.tasks.is_empty() {
        true => answer.pieces.clone(),
        false => {
            answer.tasks.iter().flat_map(|task| task.pieces.clone()).chain(answer.pieces.clone()).collect()
        }
    };
    Ok(Sheet {
        asked: match tasks {
            [] => format!("What a piece of the kind \"{kind}\" is likely to take"),
            tasks => {
                format!("What a piece of the kind \"{kind}\" is likely to take for {}", tasks.join(", "))
            }
        },
        said: said(&answer, context),
        answered,
        pieces: if answered { pieces } else { Vec::new() },
        tables: vec![
            Table {
                name: "hours",
                heading: "Hours for a piece".to_owned(),
                columns: &[
                    "task",
                    "of-kind",
                    "pieces",
                    "least",
                    "lower-quartile",
                    "median",
                    "upper-quartile",
                    "most",
                ],
                rows,
                shown: &[
                    (0, "task"),
                    (1, "of kind"),
                    (2, "pieces"),
                    (3, "least"),
                    (4, "lower ¼"),
                    (5, "median"),
                    (6, "upper ¼"),
                    (7, "most"),
                ],
            },
            Table {
                name: "materials",
                heading: "Materials for a piece, beyond what was paid for it".to_owned(),
                columns: &["pieces", "least", "lower-quartile", "median", "upper-quartile", "most"],
                rows: materials.into_iter().collect(),
                shown: &[
                    (0, "pieces"),
                    (1, "least"),
                    (2, "lower ¼"),
                    (3, "median"),
                    (4, "upper ¼"),
                    (5, "most"),
                ],
            },
        ],
    })
}

fn row(task: &str, hours: &Spread, of_kind: bool) -> Row {
    let lead = [Cell::Text(task.to_owned()), Cell::Is(of_kind)];
    Row { cells: lead.into_iter().chain(spread_cells(hours)).collect(), told: Vec::new() }
}

fn said(answer: &QuoteAnswer, context: &Context<'_>) -> Vec<String> {
    if answer.looked_through == 0 {
        return vec!["There is no piece in the archive yet.".to_owned()];
    }
    let mut said = Vec::new();
    match &answer.by {
        Some(by) if *by == answer.kind => {}
        Some(by) => {
            said.push(format!("Too few pieces are of just that kind, so these are all of the kind \"{by}\"."))
        }
        None => said.push(format!(
            "No piece is of that kind; these are all {}.",
            count(answer.looked_through, "piece", "pieces")
        )),
    }
    for QuotedTask { task, hours, of_kind, .. } in &answer.tasks {
        match hours {
            None => said.push(format!("For \"{task}\" no hours are on record, so no sum can be given.")),
            Some(_) if !of_kind => said.push(format!("\"{task}\" is reckoned by pieces of all kinds.")),
            Some(_) => {}
        }
    }
    match answer.expected() {
        Some((low, middle, high)) => {
            let behind = match answer.hours.filter(|_| answer.tasks.is_empty()) {
                Some(whole) => format!(" ({})", spread(&whole)),
                None => String::new(),
            };
            said.push(format!(
                "Expect {} to {}, {} in the middle{behind}.",
                Cell::hours(low).shown(),
                hours(high),
                Cell::hours(middle).shown()
            ));
            if let Some(rate) = answer.rate {
                let at = |hours: Decimal| context.money(hours * rate);
                said.push(format!("At {} an hour that is {} to {}.", context.money(rate), at(low), at(high)));
            }
        }
        None if answer.tasks.is_empty() => said.push("No hours are recorded for any of them.".to_owned()),
        None => {}
    }
    match answer.materials {
        Some(materials) => {
            let (low, high) = materials.likely();
            said.push(format!(
                "Materials: {} to {}, {} in the middle.",
                context.money(low),
                context.money(high),
                context.money(materials.median)
            ));
        }
        None => said
            .push("No piece of them has all of its costs on record, so materials cannot be told.".to_owned()),
    }
    if !answer.often.is_empty() {
        let often: Vec<String> =
            answer.often.iter().map(|(what, pieces)| format!("{what} ({pieces})")).collect();
        said.push(format!("Bought for them: {}.", often.join(", ")));
    }
    said
}
