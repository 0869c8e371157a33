//! The report for reading.

use super::{PieceReport, Report, Told};
use crate::cli::voice::Voice;
use crate::cli::words::count;
use crate::cli::{Trouble, drawn, tally};
use crate::diag::Diagnostic;
use crate::source::Tree;
use crate::unit::legible::one_line;
use crate::unit::wrapped;

/// Prints the diagnostics on the standard error, and what would help and a closing line as the result.
pub(super) fn print(report: &Report<'_>, tree: &Tree) -> Result<(), Trouble> {
    let (out, err) = (Voice::out(), Voice::err());
    if !report.workshop.is_empty() {
        err.say(format!("{}\n{}", err.strong("The workshop"), listed(&report.workshop, tree, &err)))?;
    }
    for sheet in &report.sets {
        err.say(format!("{}\n{}", heading(sheet, &err), listed(&sheet.diagnostics, tree, &err)))?;
    }
    for sheet in &report.pieces {
        if !sheet.diagnostics.is_empty() {
            err.say(format!("{}\n{}", heading(sheet, &err), listed(&sheet.diagnostics, tree, &err)))?;
        }
        // On one terminal, the heading stands above the diagnostics already.
        let headed = !sheet.diagnostics.is_empty() && out.terminal() && err.terminal();
        let heading = if headed { String::new() } else { format!("{}\n\n", heading(sheet, &out)) };
        out.say(heading + &closing_of(sheet, &out))?;
    }
    out.say(closing(report))
}

/// A piece's title, number and folder; its folder alone where the record could not be read.
fn heading(sheet: &PieceReport<'_>, voice: &Voice) -> String {
    let folder = voice.faint(format!("pieces/{}", sheet.folder));
    match sheet.name {
        Some((title, number)) => format!("{}  {}\n{folder}", voice.strong(one_line(title)), one_line(number)),
        None => voice.strong(format!("pieces/{}", sheet.folder)),
    }
}

/// Diagnostics, each with an empty line after it.
fn listed(diagnostics: &[&Diagnostic], tree: &Tree, voice: &Voice) -> String {
    let drawing = voice.drawing();
    diagnostics.iter().map(|diagnostic| format!("\n{}\n", drawn(diagnostic, tree, &drawing))).collect()
}

/// How much of the checklist is told, whether the piece may go, and what would help most.
fn closing_of(sheet: &PieceReport<'_>, voice: &Voice) -> String {
    let told = sheet
        .told
        .map_or_else(String::new, |told| format!("The record tells {told} % of the checklist.\n\n"));
    let Told { head, keeps, besides, helps } = Told::of(sheet.outlook.as_ref());
    let mut text = format!("{told}{}\n", wrapped(&head, voice.text_width(), ""));
    let first = keeps.len();
    for (place, said) in keeps.iter().chain(&helps).enumerate() {
        if place == first && !besides.is_empty() {
            text.push_str(&format!("{besides}\n"));
        }
        let colon = if said.write.is_empty() { "" } else { ":" };
        let say = wrapped(&format!("{}{colon}", said.say), voice.text_width() - 5, "     ");
        text.push_str(&format!("  {}. {say}\n", place + 1));
        said.write.lines().for_each(|line| text.push_str(&format!("       {line}\n")));
    }
    text
}

fn closing(report: &Report<'_>) -> String {
    if report.pieces.is_empty() && report.workshop.is_empty() {
        return "There are no pieces yet: `witnessmark intake NAME` opens the first.".to_owned();
    }
    let all = report.pieces.iter().chain(&report.sets).flat_map(|sheet| &sheet.diagnostics);
    let all = all.chain(&report.workshop);
    let pieces = count(report.pieces.len(), "piece", "pieces");
    match tally(all.copied()) {
        None => format!("Nothing is wrong in {pieces}."),
        Some(counts) => format!("{counts} in {pieces}."),
    }
}
