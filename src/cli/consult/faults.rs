//! `consult faults`: what was found like it, and what became of it.

use super::time::spread;
use super::{Context, hours};
use crate::archive::{ArchiveFault, Fault, FaultsAnswer, LeftFault, Remedy};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;

const SHOWN: usize = 15;

pub(super) fn faults(context: &Context<'_>, words: &str, all: bool) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.faults(words)?;
    let shown = if all { usize::MAX } else { SHOWN };
    let faults: Vec<&Fault> = answer.faults.iter().take(shown).collect();
    Ok(Sheet {
        asked: format!("Faults like \"{}\"", answer.wording.typed()),
        said: said(&answer, shown),
        answered: !answer.faults.is_empty(),
        pieces: answer.faults.iter().map(|fault| fault.piece.clone()).collect(),
        tables: vec![
            Table {
                name: "faults",
                heading: String::new(),
                columns: &[
                    "piece",
                    "seen",
                    "parts",
                    "extent",
                    "severity",
                    "outcome",
                    "hours",
                    "done-again",
                    "left",
                ],
                rows: faults.iter().map(|fault| row(fault)).collect(),
                shown: &[],
            },
            Table {
                name: "remedies",
                heading: String::new(),
                columns: &[
                    "piece",
                    "seen",
                    "day",
                    "did",
                    "means",
                    "hours",
                    "turned-out",
                    "done-again",
                    "shared",
                ],
                // They are told with their faults.
                rows: faults
                    .iter()
                    .flat_map(|fault| fault.remedies.iter().map(|remedy| remedy_row(fault, remedy)))
                    .collect(),
                shown: &[],
            },
        ],
    })
}

fn said(answer: &FaultsAnswer, shown: usize) -> Vec<String> {
    if answer.faults.is_empty() {
        return vec![format!(
            "Nothing like it was found in {} of {}.",
            count(answer.searched.rows, "finding", "findings"),
            count(answer.searched.pieces, "piece", "pieces")
        )];
    }
    let of = |is: &dyn Fn(&&Fault) -> bool| answer.faults.iter().filter(|fault| is(fault)).count();
    let ended = |word: &'static str| move |fault: &&Fault| fault.outcome.as_deref() == Some(word);
    let parts = [
        (of(&ended("held")), "mended and held"),
        (of(&ended("partly")), "mended in part"),
        (of(&ended("failed")), "mending failed"),
        (of(&|fault| fault.outcome.is_none() && !fault.left.is_empty()), "left as it was"),
        (of(&|fault| fault.outcome.is_none() && fault.left.is_empty()), "nothing recorded"),
    ];
    let parts: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, what)| format!("{what}: {count}"))
        .collect();
    let mut said =
        vec![format!("{}. {}.", count(answer.faults.len(), "such fault", "such faults"), parts.join(", "))];
    let again = of(&|fault| fault.redone());
    if again > 0 {
        said.push(format!("Work was done again on {}.", count(again, "of them", "of them")));
    }
    match &answer.hours {
        Some(took) => said.push(format!("Mending one took {}: {}.", hours(took.median), spread(took))),
        None => said.push("How long one took cannot be told: no hours are its own.".to_owned()),
    }
    if answer.faults.len() > shown {
        said.push(format!("The likeliest {shown} are told; --all tells all."));
    }
    said
}

fn row(fault: &Fault) -> Row {
    let extent = fault.extent.as_ref().map_or_else(String::new, |extent| format!(", {extent}"));
    let mut told = vec![format!(
        "found\t{} on {}{extent}",
        fault.seen.replace('-', " "),
        or(&fault.parts, "no part named")
    )];
    for remedy in &fault.remedies {
        let means = remedy.means.as_ref().map_or_else(String::new, |means| format!(", {means}"));
        let took = remedy.hours.map_or_else(|| "no hours".to_owned(), hours);
        let shared = if remedy.shared { ", with other faults" } else { "" };
        let ended = remedy.turned_out.as_ref().map_or_else(String::new, |how| format!("; turned out: {how}"));
        let label = if remedy.again { "done again" } else { "done" };
        told.push(format!("{label}\t{}{means} ({took}{shared}{ended})", remedy.did));
    }
    let why = |left: &LeftFault| format!("{} ({})", left.what, left.why);
    for left in &fault.left {
        let effect = left.effect.as_ref().map_or_else(String::new, |effect| format!(". {effect}"));
        told.push(format!("left\t{}{effect}", why(left)));
    }
    if fault.remedies.is_empty() && fault.left.is_empty() {
        told.push("\tWhat was done is not recorded.".to_owned());
    }
    let left: Vec<String> = fault.left.iter().map(why).collect();
    let text = |text: &Option<String>| Cell::maybe(text.clone(), Cell::Text);
    Row {
        told,
        cells: vec![
            Cell::Piece(fault.piece.clone()),
            Cell::Text(fault.seen.clone()),
            Cell::Text(fault.parts.clone()),
            text(&fault.extent),
            text(&fault.severity),
            text(&fault.outcome),
            Cell::maybe(fault.hours(), Cell::hours),
            Cell::Is(fault.redone()),
            if left.is_empty() { Cell::Nothing } else { Cell::Text(left.join("; ")) },
        ],
    }
}

fn remedy_row(fault: &Fault, remedy: &Remedy) -> Row {
    let text = |text: &Option<String>| Cell::maybe(text.clone(), Cell::Text);
    Row {
        told: Vec::new(),
        cells: vec![
            Cell::Piece(fault.piece.clone()),
            Cell::Text(fault.seen.clone()),
            Cell::maybe(remedy.on, Cell::Day),
            Cell::Text(remedy.did.clone()),
            text(&remedy.means),
            Cell::maybe(remedy.hours, Cell::hours),
            text(&remedy.turned_out),
            Cell::Is(remedy.again),
            Cell::Is(remedy.shared),
        ],
    }
}

fn or<'a>(text: &'a str, other: &'a str) -> &'a str {
    if text.is_empty() { other } else { text }
}
