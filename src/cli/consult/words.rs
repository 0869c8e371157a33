//! `consult words`: every line that has some words.

use super::Context;
use crate::archive::{ArchiveFault, Found, Hit, WordsAnswer};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::{count, grouped};
use crate::unit::capital;

/// How many lines are shown, and how many of one piece, where not all are asked for.
const SHOWN: (usize, usize) = (40, 5);

/// How many where all are asked for.
const MOST: (usize, usize) = (100_000, 100_000);

pub(super) fn words(context: &Context<'_>, text: &str, all: bool) -> Result<Sheet, ArchiveFault> {
    let (most, of_each) = if all { MOST } else { SHOWN };
    let answer = context.asking.words(text, most, of_each)?;
    let row = |hit: &Hit| Row {
        cells: vec![
            Cell::Piece(hit.piece.clone()),
            Cell::Text(hit.section.clone()),
            Cell::Count(usize::try_from(hit.no).unwrap_or(0)),
            Cell::Text(hit.plain()),
            Cell::Is(hit.direct),
        ],
        told: vec![format!("{}\t{}", hit.section.replace('_', "-"), hit.sentence)],
    };
    Ok(Sheet {
        asked: format!("\"{}\" in everything", answer.wording.typed()),
        said: said(&answer),
        pieces: answer.hits.iter().map(|hit| hit.piece.clone()).collect(),
        answered: answer.found != Found::Nothing,
        tables: vec![Table {
            name: "lines",
            heading: String::new(),
            columns: &["piece", "section", "row", "sentence", "as-said"],
            rows: answer.hits.iter().map(row).collect(),
            shown: &[],
        }],
    })
}

fn said(answer: &WordsAnswer) -> Vec<String> {
    let searched = format!(
        "{} of {}",
        count(answer.searched.rows, "line", "lines"),
        count(answer.searched.pieces, "piece", "pieces")
    );
    let (more, least) = if answer.more { ("more than ", "at least ") } else { ("", "") };
    let found = format!(
        "{more}{} in {least}{}",
        count(answer.lines, "line", "lines"),
        count(answer.pieces, "piece", "pieces")
    );
    let mut said = match answer.found {
        Found::Nothing if answer.wording.typed().is_empty() => vec!["Nothing was asked.".to_owned()],
        Found::Nothing => vec![format!("Nothing was found in {searched}.")],
        Found::AllWords | Found::Characters => vec![capital(&format!("{found}."))],
        Found::Beginnings => vec![format!("No line has just these words; {found} have words that begin so.")],
        Found::SomeWords => vec![format!("No line has all of these words; {found} have some of them.")],
    };
    if answer.hits.len() < answer.lines || answer.more {
        let all = if answer.hits.len() < MOST.0 { "; --all tells all" } else { "" };
        said.push(format!("{} of them are told{all}.", grouped(answer.hits.len())));
    }
    let common: Vec<String> = answer.wording.common().map(|word| format!("\"{word}\"")).collect();
    if !common.is_empty() && answer.wording.tells_something() {
        said.push(format!("Left out, since so many lines have it: {}.", common.join(", ")));
    } else if !common.is_empty() && !answer.wording.tells_something() {
        said.push(format!(
            "So many lines have {} that none of them is likelier than another; a rarer word beside it would tell more.",
            common.join(" and ")
        ));
    }
    for (word, others) in answer.wording.widened_by() {
        const NAMED: usize = 6;
        let more = if others.len() > NAMED { " and others" } else { "" };
        let others: Vec<&str> = others.iter().take(NAMED).map(String::as_str).collect();
        said.push(format!("For \"{word}\" these count too: {}{more}.", others.join(", ")));
    }
    if !answer.near.is_empty() {
        said.push(format!("Perhaps: {}?", answer.near.join(", ")));
    }
    said
}
