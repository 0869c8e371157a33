//! From a buyer who wants to be forgotten to what of them leaves the workshop, what stays for its people to look at, and
//! what nobody can reach from here.

use std::path::Path;

use chrono::NaiveDate;

use super::{Error, Progress, Survey, Wanted, Written, archive, writeup};
use crate::record::{Piece, looks_like_photograph};
use crate::source::{Tree, is_versioned, lies_in, texts_below};
use crate::unit::mention::{Mention, Names};
use crate::viewing::{self, Refused};
use crate::write::{SEALED, Secret, Stage};

/// Folders of the workshop that are made anew, or that only another program may change.
const MADE: [&str; 3] = ["written", ".darkroom", ".git"];

/// Somewhere that a name stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mentioned {
    /// The file's path from the workshop.
    pub path: String,
    /// The line, counted from 1.
    pub line: usize,
    /// What the line says.
    pub text: String,
    /// How surely it is the buyer.
    pub mention: Mention,
}

/// Something beside a record that was sealed with it, by its path from the workshop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sealed {
    /// A pack as it was handed over: its papers name whoever it was made for.
    Pack(String),
    /// A seal of an older program, which holds the name: without it, it would fit no longer.
    Seal(String),
}

/// What forgetting a buyer does, before any of it is done.
#[derive(Debug)]
pub struct Forgetting {
    /// The piece's title and number.
    pub title: String,
    /// The path of its record from the workshop.
    pub record: String,
    /// What leaves the record: key, line counted from 1, and text.
    pub leaves: Vec<(String, usize, String)>,
    /// The record as it would be.
    pub text: String,
    /// The fingerprint of the record as it is.
    pub was: String,
    /// Where else the name stands, in files that are for people to change.
    pub mentions: Vec<Mentioned>,
    /// Files that could not be looked into.
    pub unread: Vec<String>,
    /// What was sealed with the piece and cannot be changed.
    pub sealed: Vec<Sealed>,
    /// How many seals the piece has.
    pub seals: usize,
    /// Whether a program keeps every version of the workshop's files, as far as that shows.
    pub versioned: bool,
    /// The names that are looked for.
    pub names: Names,
}

/// Why nothing can be forgotten.
#[derive(Debug, thiserror::Error)]
pub enum NotForgotten {
    /// The record is not read whole, so that its papers would stay as they are.
    #[error(
        "the record has mistakes, with which its papers cannot be made anew; `witnessmark inspect` says which"
    )]
    Mistakes,
    /// The record's text does not take it.
    #[error("line {line} of the record stays as it is: {why}")]
    Refused {
        /// The line of the first text that would leave it, counted from 1.
        line: usize,
        /// Why.
        why: Refused,
    },
}

/// What forgetting the buyer of a piece would do; `None` where its record names nobody.
///
/// # Errors
/// [`NotForgotten`] where it cannot be done.
pub fn forgetting(root: &Path, tree: &Tree, piece: &Piece) -> Result<Option<Forgetting>, NotForgotten> {
    let text = tree.text(&piece.record_path()).and_then(Result::ok);
    let (Some(record), Some(text), true) = (&piece.record, text, piece.lacks.is_empty()) else {
        return Err(NotForgotten::Mistakes);
    };
    let held = record.of_its_buyer();
    let line = |at: usize| crate::diag::line_and_column(text, at).0;
    let Some(first) = held.first() else { return Ok(None) };
    let keys: Vec<(&str, &str)> = held.iter().map(|of| (of.table, of.key)).collect();
    let refused = |why| NotForgotten::Refused { line: line(first.said.span.start), why };
    let proposal = viewing::forgotten(text, &keys).map_err(refused)?;
    let names = Names::of(held.iter().map(|of| of.said.value.0.as_str()));
    let leaves = held
        .iter()
        .map(|of| (format!("{}.{}", of.table, of.key), line(of.said.span.start), of.said.value.0.clone()))
        .collect();
    let (mentions, unread) = elsewhere(root, &names, (&piece.record_path(), text, &proposal.text));
    Ok(Some(Forgetting {
        title: format!("{} ({})", record.title.value, record.number.value),
        record: piece.record_path(),
        leaves,
        text: proposal.text,
        was: proposal.was,
        mentions,
        unread,
        sealed: sealed(root, piece, &names),
        seals: piece.seals.len(),
        versioned: is_versioned(root),
        names,
    }))
}

/// Where else names stand in a workshop's own files, and which of those could not be looked into. Of the record only what
/// stays is looked at; its lines are counted as they are now.
fn elsewhere(
    root: &Path,
    names: &Names,
    (record, is, becomes): (&str, &str, &str),
) -> (Vec<Mentioned>, Vec<String>) {
    let pass_by = |path: &str| {
        let within: Vec<&str> = path.split('/').collect();
        MADE.contains(&path)
            || matches!(*within, ["pieces", _, SEALED])
            || matches!(*within, ["pieces", _, "photos", ..] if looks_like_photograph(path))
    };
    let (mut mentions, mut unread) = (Vec::new(), Vec::new());
    for found in texts_below(root, &pass_by) {
        let text = match found.text {
            _ if found.path == record => becomes.to_owned(),
            Some(text) => text,
            None => {
                unread.push(found.path);
                continue;
            }
        };
        let now = (found.path == record).then(|| lines_before(is, becomes));
        for (line, mention) in names.lines_of(&text) {
            let said = text.lines().nth(line - 1).unwrap_or_default().trim().to_owned();
            let line = now.as_ref().and_then(|now| now.get(line - 1)).copied().unwrap_or(line);
            mentions.push(Mentioned { path: found.path.clone(), line, text: said, mention });
        }
    }
    (mentions, unread)
}

/// The number of each line of a text in the one that it was made from by taking out or shortening lines.
fn lines_before(before: &str, text: &str) -> Vec<usize> {
    let before: Vec<&str> = before.lines().collect();
    let mut next = 0;
    let number = |line: &str| {
        let same = before.iter().skip(next).position(|known| *known == line);
        let at = next + same.unwrap_or(0);
        next = at + 1;
        next
    };
    text.lines().map(number).collect()
}

/// What was sealed with a piece.
fn sealed(root: &Path, piece: &Piece, names: &Names) -> Vec<Sealed> {
    let folder = format!("pieces/{}/{SEALED}", piece.folder);
    let place = root.join(&folder);
    let entries = lies_in(&place);
    let is_folder = |path: &str| entries.iter().any(|(name, is_folder)| *is_folder && name == path);
    let texts = texts_below(&place, &is_folder);
    let names = |path: &str| {
        texts
            .iter()
            .any(|found| found.path == path && found.text.as_ref().is_some_and(|text| names.are_in(text)))
    };
    let sealed = |(name, is_folder): &(String, bool)| {
        let path = format!("{folder}/{name}");
        match *is_folder || name.ends_with(".zip") {
            true => Some(Sealed::Pack(path)),
            false => names(name).then_some(Sealed::Seal(path)),
        }
    };
    entries.iter().filter_map(sealed).collect()
}

/// Writes a workshop up from its records alone: the archive's database keeps nothing of the one that was there, of which
/// rows that were deleted may still stand in the file.
///
/// # Errors
/// As [`writeup()`].
pub fn written_afresh(
    tree: &Tree,
    today: NaiveDate,
    mut stage: Stage,
    secret: &Secret,
    progress: &dyn Progress,
) -> Result<(Survey, Option<Written>), Error> {
    stage.disregard(&archive::place());
    writeup(tree, stage, Wanted::everything(today, secret), progress)
}

/// The files of a written folder that still have one of the names.
pub fn still_named(written: &Path, names: &Names) -> Vec<String> {
    let found = texts_below(written, &|_| false);
    let named = found.into_iter().filter(|found| found.text.as_ref().is_some_and(|text| names.are_in(text)));
    named.map(|found| found.path).collect()
}
