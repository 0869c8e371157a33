//! Entries that are sent again because their answer was lost, and must not come in twice.
//!
//! Each entry has a mark of its own. It is noted before the entry's line is written, with how long the day book was, and
//! once more when all is done: so a run that was cut short in between is told from one that wrote the line.

use std::path::{Path, PathBuf};

use super::Unfit;
use crate::source::{FileFault, PlainFile, limit};
use crate::write::{self, WriteError};

/// The file of the marks, in the workshop's folder.
const FILE: &str = ".bench-entries";

/// The marks of the entries that came in.
#[derive(Debug)]
pub struct Once {
    file: PathBuf,
    text: String,
}

/// How far an entry came before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Before {
    /// It was never seen.
    New,
    /// It was begun when the day book was so long.
    Begun(usize),
    /// All of it is there.
    Done,
}

impl Once {
    /// Reads the marks of a workshop.
    ///
    /// # Errors
    /// [`Unfit::Write`] where they cannot be read.
    pub fn of(root: &Path) -> Result<Once, Unfit> {
        let file = root.join(FILE);
        let text = match PlainFile::open(&file).and_then(|found| found.all(limit::RECORD)) {
            Ok(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
            Err(FileFault::Missing) => String::new(),
            Err(fault) => {
                return Err(WriteError::System { doing: "read", path: file, source: fault.into() }.into());
            }
        };
        Ok(Once { file, text })
    }

    /// How far the entry with this mark came.
    pub fn before(&self, mark: &str) -> Before {
        let told = self.text.lines().filter_map(|line| line.split_once(' ')).filter(|(own, _)| *own == mark);
        told.fold(Before::New, |before, (_, far)| match (before, far) {
            (Before::Done, _) | (_, "done") => Before::Done,
            (Before::New, length) => length.parse().map_or(Before::New, Before::Begun),
            (begun, _) => begun,
        })
    }

    /// Notes that an entry is begun while the day book is so long.
    ///
    /// # Errors
    /// [`Unfit::Write`].
    pub fn begins(&self, mark: &str, length: usize) -> Result<(), Unfit> {
        Ok(write::append(&self.file, &format!("{mark} {length}"), limit::RECORD)?)
    }

    /// Notes that all of an entry is there.
    ///
    /// # Errors
    /// [`Unfit::Write`].
    pub fn done(&self, mark: &str) -> Result<(), Unfit> {
        Ok(write::append(&self.file, &format!("{mark} done"), limit::RECORD)?)
    }
}

/// Whether text is a mark: a few small letters, digits and hyphens.
pub fn is_mark(text: &str) -> bool {
    let plain = |byte: u8| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-';
    (8..=64).contains(&text.len()) && text.bytes().all(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_is_new_then_begun_then_done() {
        let home = tempfile::tempdir().unwrap();
        let before = |mark: &str| Once::of(home.path()).unwrap().before(mark);
        let marks = Once::of(home.path()).unwrap();
        assert_eq!(before("mark-one"), Before::New);
        marks.begins("mark-one", 120).unwrap();
        marks.begins("mark-two", 150).unwrap();
        marks.begins("mark-one", 180).unwrap();
        assert_eq!((before("mark-one"), before("mark-two")), (Before::Begun(120), Before::Begun(150)));
        marks.done("mark-one").unwrap();
        assert_eq!((before("mark-one"), before("mark-two")), (Before::Done, Before::Begun(150)));
        assert_eq!(before("mark-three"), Before::New);
    }

    #[test]
    fn a_mark_is_plain() {
        assert!(is_mark("0a1b2c3d-1") && is_mark(&"a".repeat(64)));
        for text in ["", "short", "has space", "UPPERCASE", "line\nbreak", &"a".repeat(65), "../../etc"] {
            assert!(!is_mark(text), "{text:?}");
        }
    }
}
