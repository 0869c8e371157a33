//! What is wrong with a template: which one, where, and what to write instead.

use std::fmt;

use typst::diag::SourceDiagnostic;
use typst::syntax::{DiagSpan, Spanned};
use typst::{World, WorldExt};

use super::Sheet;
use super::world::Desk;

/// Why a sheet could not be set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperFault {
    /// The sheet, such as `care.pdf of Oak gateleg table (TL-007)`.
    pub sheet: String,
    /// What is wrong; at least one.
    pub problems: Vec<PaperProblem>,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperProblem {
    /// Template, line and column, such as `papers/care.typ:12:5`; empty where no place is known.
    pub place: String,
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub hints: Vec<String>,
    /// From where it was called, the innermost first.
    pub calls: Vec<String>,
}

impl PaperFault {
    pub(super) fn of(desk: &Desk<'_>, sheet: &Sheet, problems: &[SourceDiagnostic]) -> PaperFault {
        let problem = |problem: &SourceDiagnostic| PaperProblem {
            place: place(desk, problem.span),
            message: problem.message.to_string(),
            hints: problem.hints.iter().map(|hint: &Spanned<_, _>| hint.v.to_string()).collect(),
            calls: problem
                .trace
                .iter()
                .map(|call| place(desk, call.span.into()))
                .filter(|place| !place.is_empty())
                .collect(),
        };
        PaperFault { sheet: sheet.words(), problems: problems.iter().map(problem).collect() }
    }

    /// Something about a sheet as a whole.
    pub(super) fn without_place(sheet: &Sheet, message: String) -> PaperFault {
        let problem = PaperProblem { place: String::new(), message, hints: Vec::new(), calls: Vec::new() };
        PaperFault { sheet: sheet.words(), problems: vec![problem] }
    }

    /// Whether nothing but letters is at fault that no font could draw.
    pub(super) fn is_of_letters(&self) -> bool {
        let of_letters = ["could not be displayed", "code point", "codepoint"];
        self.problems.iter().all(|problem| of_letters.iter().any(|word| problem.message.contains(word)))
    }
}

/// `papers/care.typ:12:5`, counted from 1.
fn place(desk: &Desk<'_>, span: DiagSpan) -> String {
    let Some(id) = span.id() else { return String::new() };
    let path = format!("papers/{}", id.vpath().get_without_slash());
    let at = desk.range(span).and_then(|range| {
        let source = desk.source(id).ok()?;
        let (line, column) = source.lines().byte_to_line_column(range.start)?;
        Some((line + 1, column + 1))
    });
    match at {
        Some((line, column)) => format!("{path}:{line}:{column}"),
        None => path,
    }
}

impl fmt::Display for PaperFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} cannot be set", self.sheet)?;
        for problem in &self.problems {
            match problem.place.as_str() {
                "" => write!(f, "\n  {}", problem.message)?,
                place => write!(f, "\n  {place}: {}", problem.message)?,
            }
            for hint in &problem.hints {
                write!(f, "\n    hint: {hint}")?;
            }
            for call in &problem.calls {
                write!(f, "\n    called from {call}")?;
            }
        }
        Ok(())
    }
}
