//! How much of the checklist a piece's papers tell; for the archive.

use serde::Serialize;

use crate::claim::says;
use crate::derive::Completeness;
use crate::view::shared::reckoning::Reckoning;
use crate::words::{Words, capital, sentence};

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
pub(super) fn completeness_view(words: &Words, found: &Completeness) -> CompletenessView {
    let percent = found.percent().to_string();
    CompletenessView {
        headings: found
            .headings
            .iter()
            .map(|heading| HeadingRow {
                heading: capital(&heading.name),
                told: words.say(&says!(
                    "told-of",
                    told = heading.told,
                    all = heading.told + heading.missing.len()
                )),
                whole: heading.missing.is_empty(),
                standard: heading.standard.clone(),
                missing: heading.missing.iter().map(|say| sentence(say)).collect(),
            })
            .collect(),
        next: found
            .additions
            .iter()
            .take(3)
            .map(|addition| AdditionRow { say: sentence(&addition.say), write: addition.write.clone() })
            .collect(),
        basis: vec![Reckoning {
            figure: words.say(&says!("share-percent", figure = percent.as_str())),
            how: words.say(&says!("completeness-how")),
            source: found.sources.join("; "),
        }],
        percent: words.say(&says!("share-percent", figure = percent.as_str())),
        percent_key: percent,
    }
}
