//! `inspect`: reads everything, and says what is wrong, what is missing and what would help most.
//!
//! The report is what was asked for, so it goes to the standard output, as text or as JSON.

mod json;
mod text;
mod verdict;

pub(super) use verdict::{Said, Told};

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::bar::Bar;
use super::voice::Voice;
use super::{Outcome, Trouble, today};
use crate::diag::Diagnostic;
use crate::inspect::Outlook;
use crate::journey::{self, Progress, Quiet, Survey};
use crate::record::Piece;
use crate::source::Tree;

#[derive(Debug, Args)]
pub(super) struct Inspect {
    /// The workshop's folder
    #[arg(default_value = ".")]
    workshop: PathBuf,
    /// The form of the report
    #[arg(long = "as", value_name = "FORM", default_value = "text")]
    form: ReportForm,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum ReportForm {
    /// For reading
    Text,
    /// One JSON document, for other programs
    Json,
}

impl Inspect {
    pub(super) fn run(self) -> Result<Outcome, Trouble> {
        let tree = Tree::open(&self.workshop)?;
        let bar = Bar::new("Looking at");
        let shown = self.form == ReportForm::Text && Voice::err().terminal();
        let progress: &dyn Progress = if shown { &bar } else { &Quiet };
        let survey = journey::survey(&tree, today(), progress);
        let report = Report::of(&survey);
        match self.form {
            ReportForm::Text => text::print(&report, &tree)?,
            ReportForm::Json => Voice::out().say(json::document(&report, &tree))?,
        }
        Ok(Outcome::of(&survey.diagnostics))
    }
}

/// A survey, piece by piece.
struct Report<'a> {
    pieces: Vec<PieceReport<'a>>,
    /// What concerns the records of sets, of each that anything is told of.
    sets: Vec<PieceReport<'a>>,
    /// What concerns no single piece or set.
    workshop: Vec<&'a Diagnostic>,
}

/// What there is to say about one piece.
struct PieceReport<'a> {
    folder: &'a str,
    /// Title and number; `None` where the record could not be read.
    name: Option<(&'a str, &'a str)>,
    diagnostics: Vec<&'a Diagnostic>,
    /// Whether it may be handed over, and what is to be done; `None` where the record could not be read.
    outlook: Option<Outlook>,
    /// How much of the checklist is told, in percent; `None` where the record could not be read.
    told: Option<u64>,
}

impl<'a> Report<'a> {
    /// Sorts a survey's diagnostics to their pieces, keeping their order.
    fn of(survey: &'a Survey) -> Report<'a> {
        let mut by_piece: BTreeMap<Option<&str>, Vec<&Diagnostic>> = BTreeMap::new();
        let all = survey.folder.pieces.iter().chain(&survey.folder.sets);
        let known: BTreeSet<&str> = all.map(|piece| piece.folder.as_str()).collect();
        for diagnostic in &survey.diagnostics {
            let piece = diagnostic.place.piece().filter(|folder| known.contains(folder));
            by_piece.entry(piece).or_default().push(diagnostic);
        }
        let sheet = |piece: &'a Arc<Piece>| {
            let workpiece = survey.piece(&piece.folder);
            PieceReport {
                folder: &piece.folder,
                name: piece.record.as_ref().map(|record| (&**record.title, &**record.number)),
                diagnostics: by_piece.get(&Some(piece.folder.as_str())).cloned().unwrap_or_default(),
                outlook: workpiece.map(|workpiece| survey.outlook(workpiece)),
                told: workpiece.map(|workpiece| workpiece.facts.completeness.percent()),
            }
        };
        let pieces = survey.folder.pieces.iter().map(sheet).collect();
        let sets = survey.folder.sets.iter().map(sheet).filter(|set| !set.diagnostics.is_empty()).collect();
        Report { pieces, sets, workshop: by_piece.remove(&None).unwrap_or_default() }
    }
}
