//! Jotting a line into a piece's day book.

use std::path::{Path, PathBuf};

use chrono::NaiveDate;

use super::{Unfit, keep_clear};
use crate::record::DAY_BOOK;
use crate::record::day_book::begins_with_day;
use crate::source::{FileFault, PlainFile, Tree, limit};
use crate::unit::legible::{is_visible, without_unseen};
use crate::write::{self, WriteError};

/// The day book of a piece, which can be added to.
#[derive(Debug)]
pub struct Book {
    file: PathBuf,
    /// Its path from the workshop.
    pub path: String,
}

impl Book {
    /// The day book of the piece in this folder; it need not be there yet.
    ///
    /// # Errors
    /// [`Unfit::InTheWay`], or [`Unfit::DayBook`] for one that is no readable text.
    pub fn of(root: &Path, tree: &Tree, folder: &str) -> Result<Book, Unfit> {
        let place = format!("pieces/{folder}");
        keep_clear(tree, &["pieces", &place, &format!("{place}/photos")])?;
        let path = format!("{place}/{DAY_BOOK}");
        if let Some(Err(fault)) = tree.text(&path) {
            return Err(Unfit::DayBook { path, why: format!("it {fault}; {}", fault.remedy()) });
        }
        Ok(Book { file: root.join(&path), path })
    }

    /// How long it is now, in bytes, and whether a line stands in it behind a place.
    ///
    /// # Errors
    /// [`Unfit::Write`] where it cannot be read.
    pub fn look(&self, line: &str, from: usize) -> Result<(usize, bool), Unfit> {
        let bytes = match PlainFile::open(&self.file).and_then(|file| file.all(limit::DAY_BOOK)) {
            Ok(bytes) => bytes,
            Err(FileFault::Missing) => Vec::new(),
            Err(fault) => {
                let path = self.file.clone();
                return Err(WriteError::System { doing: "read", path, source: fault.into() }.into());
            }
        };
        // Where it is shorter by now, somebody wrote it anew.
        let behind = bytes.get(from..).unwrap_or(&bytes);
        let mut lines = behind.split(|byte| *byte == b'\n');
        Ok((bytes.len(), lines.any(|there| there.trim_ascii_end() == line.as_bytes())))
    }

    /// Puts a line at its end.
    ///
    /// # Errors
    /// [`Unfit::Write`] where that cannot be done.
    pub fn jot(&self, line: &str) -> Result<(), Unfit> {
        Ok(write::append(&self.file, line, limit::DAY_BOOK)?)
    }
}

/// What was said, as one line with nothing unseen in it.
///
/// # Errors
/// [`Unfit::NothingJotted`] where nothing is left of it.
pub fn one_line_of(said: &str) -> Result<String, Unfit> {
    let said = without_unseen(said).split_whitespace().collect::<Vec<_>>().join(" ");
    if is_visible(&said) { Ok(said) } else { Err(Unfit::NothingJotted) }
}

/// The line of what was said on a day, which may begin with another one.
pub fn dated(said: &str, on: NaiveDate) -> String {
    if begins_with_day(said) { said.to_owned() } else { format!("{on} {said}") }
}
