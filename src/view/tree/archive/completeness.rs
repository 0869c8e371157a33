//! How much of the checklist a piece's papers tell; for the archive.

use serde::Serialize;

use crate::derive::Completeness;
use crate::view::shared::reckoning::Reckoning;
use crate::words;

/// One heading of the checklist.
#[derive(Debug, Clone, Serialize)]
pub struct HeadingRow {
    /// Its words.
    pub heading: String,
    /// `1 of 3`.
    pub told: String,
    /// Whether all of it is told.
    pub whole: bool,
    /// The standard that asks for it; may be empty.
    pub standard: String,
    /// What is missing.
    pub missing: Vec<String>,
}

/// Something that would improve the papers.
#[derive(Debug, Clone, Serialize)]
pub struct AdditionRow {
    /// What to do.
    pub say: String,
    /// What to write, as TOML, or the path of a file.
    pub write: String,
}

/// How much of the checklist is told.
#[derive(Debug, Clone, Serialize)]
pub struct CompletenessView {
    /// In whole percent, rounded down: `72 %`.
    pub percent: String,
    /// The same as a bare number, for a drawing or for sorting.
    pub percent_key: String,
    /// The checklist, heading by heading.
    pub headings: Vec<HeadingRow>,
    /// The next best additions, at most three.
    pub next: Vec<AdditionRow>,
    /// Why the percentage is what it is.
    pub basis: Vec<Reckoning>,
}

/// Prints how much of the checklist is told.
pub(super) fn completeness_view(found: &Completeness) -> CompletenessView {
    let percent = found.percent().to_string();
    CompletenessView {
        headings: found
            .headings
            .iter()
            .map(|heading| HeadingRow {
                heading: words::capital(&heading.name),
                told: format!("{} of {}", heading.told, heading.told + heading.missing.len()),
                whole: heading.missing.is_empty(),
                standard: heading.standard.clone(),
                missing: heading.missing.iter().map(|say| words::sentence(say)).collect(),
            })
            .collect(),
        next: found
            .additions
            .iter()
            .take(3)
            .map(|addition| AdditionRow {
                say: words::sentence(&addition.say),
                write: addition.write.clone(),
            })
            .collect(),
        basis: vec![Reckoning {
            figure: format!("{percent} %"),
            how: "the weights of the lines that are told, over the weights of all; rounded down. The weights are \
                  our own choice, not a standard's"
                .to_owned(),
            source: found.sources.join("; "),
        }],
        percent: format!("{percent} %"),
        percent_key: percent,
    }
}
