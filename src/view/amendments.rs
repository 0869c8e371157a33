//! The seal as papers print it, and what changed since, in words.

use serde::Serialize;

use super::Source;
use super::words;

/// The seal of a piece's papers.
#[derive(Debug, Clone, Serialize)]
pub struct SealView {
    /// Whether the record was ever sealed; papers of one that was not are drafts.
    pub sealed: bool,
    /// The last seal's number, counted from 1; 0 where there is none.
    pub number: u32,
    /// The day of the last seal; may be empty.
    pub day: String,
    /// The first 16 digits of its fingerprint, in groups of four; empty for the public and where there is none.
    pub short: String,
    /// The whole fingerprint, as `sha256sum` prints it; empty where `short` is.
    pub fingerprint: String,
    /// Whether the papers are sealed, when, and whether anything changed since, in a sentence or two.
    pub words: String,
    /// How to check it; empty where `short` is.
    pub check: String,
    /// What changed since, a sentence each.
    pub amendments: Vec<String>,
    /// Why, a sentence with its day each.
    pub reasons: Vec<String>,
}

/// Who reads of a seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum SealFor {
    /// Everybody: no fingerprint, since the buyer's name could be guessed at with it, and nothing that is the buyer's.
    Public,
    /// The buyer and the archive.
    Buyer,
}

/// The seal of one piece.
pub(super) fn seal_view(source: &Source<'_>, reader: SealFor) -> SealView {
    let amendments: Vec<String> = source
        .facts
        .amendments
        .iter()
        .filter(|amendment| reader == SealFor::Buyer || !amendment.personal)
        .map(|amendment| words::sentence(&amendment.words))
        .collect();
    let reasons = source.record.amendments.iter();
    let reasons: Vec<String> = reasons
        .map(|amended| {
            format!("{}: {}", words::day(amended.on.value), words::sentence(&words::said(&amended.because)))
        })
        .collect();
    let Some(seal) = source.piece.seals.last() else {
        return SealView {
            sealed: false,
            number: 0,
            day: String::new(),
            short: String::new(),
            fingerprint: String::new(),
            words: "A draft: this record has not been sealed, and may still change.".to_owned(),
            check: String::new(),
            amendments,
            reasons,
        };
    };
    let day = words::day(seal.on);
    let times = match source.piece.seals.as_slice() {
        [first, .., _] => {
            format!(", for the {} time; the first seal is of {}", nth(seal.number), words::day(first.on))
        }
        _ => String::new(),
    };
    let since = match amendments.len() {
        0 => "The record has not been changed since.".to_owned(),
        1 => "One thing in the record was changed since:".to_owned(),
        changes => format!("{changes} things in the record were changed since:"),
    };
    let (short, fingerprint, check) = match reader {
        SealFor::Public => Default::default(),
        SealFor::Buyer => (
            seal.short(),
            seal.print.clone(),
            "The seal is the beginning of the SHA-256 fingerprint of the file record.toml in the buyer’s pack."
                .to_owned(),
        ),
    };
    let words = format!("Sealed on {day}{times}. {since}");
    SealView { sealed: true, number: seal.number, day, short, fingerprint, words, check, amendments, reasons }
}

/// `second`, `third`, `4th` …
fn nth(number: u32) -> String {
    match number {
        2 => "second".to_owned(),
        3 => "third".to_owned(),
        number => {
            let ending = match (number % 100, number % 10) {
                (11..=13, _) => "th",
                (_, 1) => "st",
                (_, 2) => "nd",
                (_, 3) => "rd",
                _ => "th",
            };
            format!("{number}{ending}")
        }
    }
}
