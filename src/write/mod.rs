//! The only writing of files: a whole tree that is staged beside the old one and then swapped for it, the darkroom of
//! what was made once, and single files that are added to a workshop.
//!
//! What it promises:
//!
//! - **The old tree or the new one, never a mixture.** A [`Stage`] fills a hidden folder beside the target and swaps
//!   it in at the end. Where the system can exchange two folders in one step (Linux), there is no moment without a
//!   whole tree; elsewhere the old one is moved aside first, and the next run moves it back if the swap was cut short.
//! - **Or every file whole, and the new tree in the end.** Where that is asked for, what changed is brought into a tree
//!   that stands, file by file; a run that was killed on the way is carried to its end by the next one.
//! - **Nobody else's files are lost.** A tree lists what it holds in [`MANIFEST`], in the form that `sha256sum -c`
//!   checks. A target that holds anything else, or a listed file that somebody changed since, is refused by name.
//! - **A seal with its pack, or neither.** A [`Sealing`] exchanges the folder `sealed` for one that holds more.
//! - **A file added is a file that was not there.** [`add()`] never overwrites, and never leaves half a file behind.
//! - **A line appended is a line more.** [`append()`] writes at the end alone, one writer after the other.
//! - **A file replaced is the file that was seen.** [`replace()`] leaves one alone that was changed since.
//!
//! It knows nothing of records, pages or photographs: paths and bytes come in finished.

mod add;
mod append;
pub mod darkroom;
mod fault;
mod half;
mod likeness;
mod lock;
mod manifest;
mod ownership;
mod piecemeal;
mod place;
mod replace;
mod sealed;
mod secret;
mod stage;
mod swap;
#[cfg(test)]
mod tests;

use std::path::Path;

pub use add::{add, add_secret, folder};
pub use append::append;
pub use darkroom::{Darkroom, Kept, KeptFile, Key, Receipts};
pub use fault::WriteError;
pub use half::{clear_half, clear_halves};
pub use likeness::Likeness;
pub use manifest::MANIFEST;
pub use place::keep_clear;
pub use replace::replace;
pub use sealed::{SEALED, Sealing};
pub use secret::{FILE as SECRET, Secret};
pub use stage::{Repeated, Stage, TreeSize};

pub use crate::unit::fingerprint;

/// Attaches what was being done, and to what, to an error of the system.
fn cannot(doing: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> WriteError {
    let path = path.to_owned();
    move |source| WriteError::System { doing, path, source }
}
