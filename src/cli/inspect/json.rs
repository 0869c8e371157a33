//! The report for other programs.

use serde_json::{Value, json};

use super::{PieceReport, Report, verdict};
use crate::diag::{Diagnostic, line_and_column};
use crate::source::Tree;
use crate::unit::legible::escaped_json;

/// The whole report as one JSON document.
pub(super) fn document(report: &Report<'_>, tree: &Tree) -> String {
    let listed = |diagnostics: &[&Diagnostic]| -> Vec<Value> {
        diagnostics.iter().map(|diagnostic| entry(diagnostic, tree)).collect()
    };
    let pieces: Vec<Value> = report
        .pieces
        .iter()
        .map(|sheet| {
            let todo = sheet.outlook.as_ref().map_or(&[][..], |outlook| &outlook.todo);
            let helps = todo.iter().filter(|todo| todo.keeps.is_none());
            let additions: Vec<Value> = helps
                .filter_map(|todo| todo.addition.as_ref())
                .map(|addition| json!({ "what": addition.say, "write": addition.write, "heading": addition.heading }))
                .collect();
            let verdict = sheet.outlook.as_ref().map(|outlook| &outlook.verdict);
            json!({
                "folder": sheet.folder,
                "title": sheet.name.map(|(title, _)| title),
                "number": sheet.name.map(|(_, number)| number),
                "diagnostics": listed(&sheet.diagnostics),
                "told_percent": sheet.told,
                "handover": verdict::word(verdict),
                "keeps_it": verdict::reasons(verdict),
                "additions": additions,
            })
        })
        .collect();
    let set = |set: &PieceReport<'_>| {
        json!({
            "folder": set.folder,
            "title": set.name.map(|(title, _)| title),
            "number": set.name.map(|(_, number)| number),
            "diagnostics": listed(&set.diagnostics),
        })
    };
    let sets: Vec<Value> = report.sets.iter().map(set).collect();
    let workshop = listed(&report.workshop);
    let document = format!("{:#}", json!({ "pieces": pieces, "sets": sets, "workshop": workshop }));
    escaped_json(&document).into_owned()
}

/// One diagnostic; `line`, `column` and `source_line` are null where the file as a whole is meant.
fn entry(diagnostic: &Diagnostic, tree: &Tree) -> Value {
    let text = tree.text(&diagnostic.place.path).and_then(Result::ok);
    let place = diagnostic.place.span.zip(text).map(|((start, _), text)| {
        let (line, column) = line_and_column(text, start);
        (line, column, text.lines().nth(line - 1).unwrap_or_default())
    });
    json!({
        "code": diagnostic.code.name,
        "rank": diagnostic.rank().word(),
        "file": diagnostic.place.path,
        "line": place.map(|(line, _, _)| line),
        "column": place.map(|(_, column, _)| column),
        "source_line": place.map(|(_, _, source)| source),
        "message": diagnostic.message,
        "to_mend": diagnostic.help,
    })
}
