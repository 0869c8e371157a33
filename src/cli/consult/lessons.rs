//! `consult lessons`: what was to be remembered.

use super::Context;
use crate::archive::{ArchiveFault, Lesson};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;

pub(super) fn lessons(context: &Context<'_>, words: Option<&str>) -> Result<Sheet, ArchiveFault> {
    let answer = context.asking.lessons(words)?;
    let of = |answer: usize| count(answer, "lesson", "lessons");
    let said = match answer.lessons.len() {
        0 => format!(
            "None was found in {} of {}.",
            of(answer.searched.rows),
            count(answer.searched.pieces, "piece", "pieces")
        ),
        found => format!("{} of {}.", of(found), answer.searched.rows),
    };
    Ok(Sheet {
        asked: words.map_or_else(|| "All lessons".to_owned(), |words| format!("Lessons for \"{words}\"")),
        said: vec![said],
        answered: !answer.lessons.is_empty(),
        pieces: answer.lessons.iter().map(|lesson| lesson.piece.clone()).collect(),
        tables: vec![Table {
            name: "lessons",
            heading: String::new(),
            columns: &["piece", "lesson", "for"],
            rows: answer.lessons.iter().map(row).collect(),
            shown: &[],
        }],
    })
}

fn row(lesson: &Lesson) -> Row {
    let words = lesson.words.join(", ");
    let of = if words.is_empty() { String::new() } else { format!(" ({words})") };
    Row {
        cells: vec![Cell::Piece(lesson.piece.clone()), Cell::Text(lesson.lesson.clone()), Cell::Text(words)],
        told: vec![format!("{}{of}", lesson.lesson)],
    }
}
