//! Opening the folder of a piece.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::NaiveDate;

use super::starter::{self, Starter};
use super::{Unfit, folder, keep_clear, number};
use crate::record::{Piece, UNKNOWN};
use crate::source::Tree;
use crate::unit::legible::is_visible;
use crate::write;

/// A piece whose folder is there now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opened {
    /// The folder's name in `pieces/`.
    pub folder: String,
    /// The folder as a path from the workshop.
    pub place: String,
    /// Whether the folder was there before.
    pub there: bool,
    /// The number that a new record was given; nothing where there was a record.
    pub number: Option<String>,
}

/// The piece that is to be opened.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    /// What it is called.
    pub name: &'a str,
    /// What it is, where somebody said so.
    pub kind: Option<&'a str>,
    /// The folder of the set that it is of.
    pub set: Option<&'a str>,
}

/// Opens the folder of the piece called so, with a record, a story and a folder for photographs where there is no
/// record yet.
///
/// # Errors
/// [`Unfit`] where it has no name, or its folders cannot be written into.
pub fn open_piece(
    root: &Path,
    tree: &Tree,
    pieces: &[Arc<Piece>],
    Wanted { name, kind, set }: Wanted<'_>,
    today: NaiveDate,
) -> Result<Opened, Unfit> {
    let title = name.trim();
    if !is_visible(title) {
        return Err(Unfit::NoName);
    }
    let (folder, there) = folder::of(title, pieces);
    let place = format!("pieces/{folder}");
    keep_clear(tree, &["pieces", &place, &format!("{place}/photos")])?;
    // A piece of a set is what the set's pieces are, unless somebody says otherwise.
    let said = kind.map(str::trim).filter(|kind| is_visible(kind));
    let of_set = pieces.iter().find(|piece| Some(&*piece.folder) == set).and_then(|set| set.record.as_ref());
    let kind = said.or(of_set.map(|record| &**record.kind)).unwrap_or(UNKNOWN);
    let records = pieces.iter().filter_map(|piece| piece.record.as_ref());
    let numbers: Vec<(&str, &str)> = records.map(|record| (&**record.kind, &**record.number)).collect();
    let number = number::next(kind, &numbers);
    let home = home(root, &folder);
    for folder in [&home, &home.join("photos")] {
        write::clear_halves(folder);
    }
    if !tree.has(&format!("{place}/record.toml")) {
        write::add(&home.join("story.md"), starter::STORY.as_bytes())?;
        write::folder(&home.join("photos"))?;
    }
    // The record comes last: where the way to it was cut short, the next run goes it again.
    let text = Starter { title, number: &number, kind, set, today }.text();
    let new = write::add(&home.join("record.toml"), text.as_bytes())?;
    Ok(Opened { folder, place, there, number: new.then_some(number) })
}

/// What a piece is, where somebody said so.
pub fn kind_of(kind: Option<&str>) -> &str {
    kind.map(str::trim).filter(|kind| is_visible(kind)).unwrap_or(UNKNOWN)
}

/// The folder of a piece on the disk.
fn home(root: &Path, folder: &str) -> PathBuf {
    root.join("pieces").join(folder)
}
