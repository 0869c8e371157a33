//! The report for reading.

use super::super::voice::Voice;
use super::super::words::{count, one_line, wrapped};
use super::super::{Trouble, drawn, tally};
use super::{Report, Sheet};
use crate::diag::Diagnostic;
use crate::source::Tree;

/// Prints the report, piece by piece, and a closing line.
pub(super) fn print(report: &Report<'_>, tree: &Tree, voice: &Voice) -> Result<(), Trouble> {
    if !report.workshop.is_empty() {
        voice.say(format!("{}\n{}", voice.strong("The workshop"), listed(&report.workshop, tree, voice)))?;
    }
    for sheet in &report.pieces {
        if !sheet.diagnostics.is_empty() || !sheet.additions.is_empty() {
            voice.say(piece(sheet, tree, voice))?;
        }
    }
    voice.say(closing(report))
}

/// Heading, diagnostics and additions of one piece.
fn piece(sheet: &Sheet<'_>, tree: &Tree, voice: &Voice) -> String {
    let folder = voice.faint(format!("pieces/{}", sheet.folder));
    let heading = match sheet.name {
        Some((title, number)) => {
            format!("{}  {}\n{folder}", voice.strong(one_line(title)), one_line(number))
        }
        None => voice.strong(format!("pieces/{}", sheet.folder)),
    };
    format!("{heading}\n{}{}", listed(&sheet.diagnostics, tree, voice), additions(sheet, voice))
}

/// Diagnostics, each with an empty line after it.
fn listed(diagnostics: &[&Diagnostic], tree: &Tree, voice: &Voice) -> String {
    diagnostics.iter().map(|diagnostic| format!("\n{}\n", drawn(diagnostic, tree, voice))).collect()
}

fn additions(sheet: &Sheet<'_>, voice: &Voice) -> String {
    let heading = match sheet.additions.len() {
        0 => return String::new(),
        1 => "One addition that would help most:",
        2 => "Two additions that would help most:",
        3 => "Three additions that would help most:",
        _ => "Additions that would help most:",
    };
    let mut text = format!("\n{heading}\n");
    for (index, addition) in sheet.additions.iter().enumerate() {
        let line = wrapped(&format!("{}: {}", addition.what, addition.why), voice.text_width() - 5, "     ");
        text.push_str(&format!("  {}. {line}\n", index + 1));
    }
    text
}

fn closing(report: &Report<'_>) -> String {
    if report.pieces.is_empty() && report.workshop.is_empty() {
        return "There are no pieces yet: `witnessmark intake NAME` opens the first.".to_owned();
    }
    let all = report.pieces.iter().flat_map(|sheet| &sheet.diagnostics).chain(&report.workshop);
    let pieces = count(report.pieces.len(), "piece", "pieces");
    match tally(all.copied()) {
        None => format!("Nothing is wrong in {pieces}."),
        Some(counts) => format!("{counts} in {pieces}."),
    }
}
