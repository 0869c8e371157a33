//! What comes into a workshop: a new piece, photographs, a jotted line.
//!
//! It only ever adds: what has a name already is left as it is, and no line that stands there is touched. The commands
//! and the bench page bring things in by the same way.

mod days;
mod folder;
mod line;
mod number;
mod once;
mod photographs;
mod piece;
mod starter;

use std::path::PathBuf;

pub use days::WorkDays;
pub use line::{Book, dated, one_line_of};
pub use once::{Before, Once, is_mark};
pub use photographs::{Arrival, Passed, PhotoFolder, Shot};
pub use piece::{Opened, Wanted, kind_of, open_piece};
pub use starter::workshop as starter_workshop;

use crate::source::{MOST_IN_FOLDER, Tree};
use crate::write::WriteError;

/// Why something does not come in.
#[derive(Debug, thiserror::Error)]
pub enum Unfit {
    /// A new piece was given no name.
    #[error("the piece needs a name, such as \"Oak gateleg table\"")]
    NoName,
    /// A folder that is to be written into is a link, or cannot be looked into.
    #[error("nothing can be brought into `{path}`: this {why}")]
    InTheWay {
        /// The folder, as a path from the workshop.
        path: String,
        /// Why, in words that go on after "this".
        why: String,
    },
    /// A piece would get more photographs than are looked at.
    #[error("`{}` would hold more than {MOST_IN_FOLDER} files, and none of so many is looked at; bring in fewer", .0.display())]
    Full(PathBuf),
    /// There is nothing in what was to be jotted.
    #[error("there is nothing to jot: say what was done, such as \"closed the split, hide glue, 1.5h\"")]
    NothingJotted,
    /// A line cannot be put into a day book that is not readable text.
    #[error("nothing was jotted: `{path}` cannot be added to, since {why}")]
    DayBook {
        /// The day book.
        path: String,
        /// What is wrong with it, and what to do.
        why: String,
    },
    /// A file was not written.
    #[error(transparent)]
    Write(#[from] WriteError),
}

/// Makes sure that the folders which are about to be written into are the workshop's own, and were looked into.
///
/// # Errors
/// [`Unfit::InTheWay`].
pub fn keep_clear(tree: &Tree, folders: &[&str]) -> Result<(), Unfit> {
    match tree.faults().iter().find(|(path, _)| folders.contains(&path.as_str())) {
        Some((path, why)) => Err(Unfit::InTheWay { path: path.clone(), why: why.clone() }),
        None => Ok(()),
    }
}
