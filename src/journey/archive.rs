//! The archive's database: written with the papers, and opened for questions.

use std::path::Path;
use std::sync::Arc;

use chrono::NaiveDate;
use rayon::prelude::*;

use super::{Error, Progress, Survey, most_pixels, survey};
use crate::archive::{Archive, ArchiveFault, Beside, Entries, FILE, Shared};
use crate::derive::Workpiece;
use crate::derive::colour::Lab;
use crate::derive::swatch;
use crate::diag::nearest;
use crate::photo;
use crate::record::{self, Folder};
use crate::render::{ARCHIVE, LINKED};
use crate::source::{DatabaseFault, Dates, FileFault, SHARED, Tree, TreeError, open_database};
use crate::trade::Trade;
use crate::unit::{Rectangle, fingerprint};
use crate::view;
use crate::write::Stage;

/// How many pieces are made into rows at once.
const AT_ONCE: usize = 64;

/// The archive as it can be asked.
#[derive(Debug)]
pub struct OpenedArchive {
    /// The archive.
    pub archive: Archive,
    /// The tables of the trade, with the workshop's own rows.
    pub trade: Arc<Trade>,
    /// Why it was made from the records and not taken as it was written; `None` where it was.
    pub remade: Option<String>,
}

/// Where the database is in the written tree.
pub(super) fn place() -> String {
    format!("{ARCHIVE}/{FILE}")
}

/// Where the scripts of the search are in the written tree.
fn search() -> String {
    format!("{ARCHIVE}/search")
}

/// Whether the last writing put an archive in place.
pub(super) fn stands(stage: &Stage) -> bool {
    stage.had(&place()) && stage.had(&format!("{ARCHIVE}/index.html"))
}

/// Puts the database and the search of the pages into the tree, and gives the archive for the pages: what did not change
/// since it was last written is not touched.
///
/// # Errors
/// [`Error`] where it cannot be made or put in place.
pub(super) fn write(stage: &Stage, tree: &Tree, survey: &Survey) -> Result<Archive, Error> {
    let before = stage.before(&place());
    let (mut archive, brought) = archive_of(before.as_deref(), tree, survey)?;
    if !brought.anything() && before.is_some() {
        stage.keep(&place());
        stage.carry(&search())?;
        return Ok(archive);
    }
    stage.put_dated(&place(), &archive.bytes()?, tree.dated())?;
    for (name, bytes) in archive.search_scripts()? {
        stage.put(&format!("{}/{name}", search()), &bytes)?;
    }
    Ok(archive)
}

/// Keeps the database as it was last written with the pages that were made from it, and says whether it still tells what the records say.
///
/// # Errors
/// [`Error`] where the system refuses.
pub(super) fn keep(stage: &Stage, tree: &Tree, survey: &Survey) -> Result<bool, Error> {
    stage.keep(&place());
    stage.carry(&search())?;
    let pages =
        stage.names_before(ARCHIVE).into_iter().filter(|name| name.ends_with(".html") || name == LINKED);
    pages.for_each(|page| stage.keep(&format!("{ARCHIVE}/{page}")));
    let written = stage.standing(&place()).and_then(|path| open_database(&path).ok());
    let archive = written.and_then(|opened| Archive::reading(opened.connection, opened.length).ok());
    Ok(archive.is_some_and(|archive| {
        let folders =
            survey.folder.pieces.iter().chain(&survey.folder.sets).map(|piece| piece.folder.as_str());
        is_current(&archive, tree, folders).unwrap_or(false)
    }))
}

/// The archive of a survey, brought up to date from the bytes that were written before.
///
/// # Errors
/// [`ArchiveFault`] where memory does not suffice.
pub fn archive_of(
    before: Option<&[u8]>,
    tree: &Tree,
    survey: &Survey,
) -> Result<(Archive, crate::archive::Brought), ArchiveFault> {
    let folders: Vec<String> = survey.folder.pieces.iter().map(|piece| piece.folder.clone()).collect();
    let shared = shared(&survey.folder, tree);
    let entries = |workpiece: &Workpiece| {
        let beside = Beside {
            page: format!("pieces/{}/index.html", view::slug(&workpiece.record.number)),
            source: piece_source(tree, &workpiece.piece.folder),
        };
        Entries::of(&survey.folder, workpiece, &survey.trade, beside)
    };
    let pieces = || {
        let some = survey.pieces.chunks(AT_ONCE);
        some.flat_map(move |some| some.par_iter().map(entries).collect::<Vec<_>>())
    };
    Archive::brought(before, &shared, &folders, pieces)
}

/// What the archive keeps of the workshop itself and of its sets.
fn shared(folder: &Folder, tree: &Tree) -> Shared {
    let sets = folder.sets.iter().map(|set| (set.folder.clone(), piece_source(tree, &set.folder)));
    Shared::of(folder, shared_source(tree), sets)
}

/// Opens the archive of a workshop that was written to a folder. Where it is missing, damaged, or older than the
/// records, it is made from the records in memory, and nothing is written.
///
/// # Errors
/// [`Error`] where there is no workshop, or its records make no archive.
pub fn open_archive(
    root: &Path,
    written: &Path,
    today: NaiveDate,
    progress: &dyn Progress,
) -> Result<OpenedArchive, OpenError> {
    let why = match standing(root, &written.join(ARCHIVE).join(FILE))? {
        Ok((archive, trade)) => return Ok(OpenedArchive { archive, trade: Arc::new(trade), remade: None }),
        Err(why) => why,
    };
    remade(root, why, today, progress)
}

/// The archive as it is at hand while something new is begun: as it was last written, however long ago that was, and else
/// from the records without a look at their photographs. `None` where neither can be had.
pub fn archive_at_hand(root: &Path, written: &Path) -> Option<OpenedArchive> {
    let opened = open_database(&written.join(ARCHIVE).join(FILE)).ok();
    let archive = opened.and_then(|opened| Archive::reading(opened.connection, opened.length).ok());
    if let Some(archive) = archive {
        let (trade, _) = Trade::with(&Tree::open_some(root, []).ok()?, None);
        return Some(OpenedArchive { archive, trade: Arc::new(trade), remade: None });
    }
    let tree = Tree::open(root).ok()?;
    let (folder, _) = record::read(&tree);
    let (trade, _) = Trade::with(&tree, None);
    let folders: Vec<String> = folder.pieces.iter().map(|piece| piece.folder.clone()).collect();
    let pieces = || {
        let unopened = folder.pieces.iter().filter_map(|piece| Workpiece::unopened(&folder, piece, &trade));
        unopened.map(|workpiece| Entries::of(&folder, &workpiece, &trade, Beside::default()))
    };
    let (archive, _) =
        Archive::brought(None, &Shared::of(&folder, String::new(), []), &folders, pieces).ok()?;
    Some(OpenedArchive {
        archive,
        trade: Arc::new(trade),
        remade: Some("nothing was written yet".to_owned()),
    })
}

/// The archive of a workshop, made from its records in memory.
///
/// # Errors
/// As [`open_archive`].
pub fn remade(
    root: &Path,
    why: String,
    today: NaiveDate,
    progress: &dyn Progress,
) -> Result<OpenedArchive, OpenError> {
    let tree = Tree::open(root)?;
    let survey = survey(&tree, today, progress);
    let (archive, _) = archive_of(None, &tree, &survey)?;
    Ok(OpenedArchive { archive, trade: survey.trade, remade: Some(why) })
}

/// Why there is no archive to ask.
#[derive(Debug, thiserror::Error)]
pub enum OpenError {
    /// There is no workshop.
    #[error(transparent)]
    Tree(#[from] TreeError),
    /// The database could not be made.
    #[error("the archive cannot be made: {0}")]
    Archive(#[from] ArchiveFault),
}

/// The archive as it was written, where it tells what the records say today; or why it is not taken.
fn standing(root: &Path, database: &Path) -> Result<Result<(Archive, Trade), String>, TreeError> {
    let name = database.display();
    let opened = match open_database(database) {
        Ok(opened) => opened,
        Err(DatabaseFault::File(FileFault::Missing)) => return Ok(Err(format!("`{name}` is not there yet"))),
        Err(fault) => return Ok(Err(format!("`{name}` is of no use: {fault}"))),
    };
    let modified = opened.modified;
    let archive = match Archive::reading(opened.connection, opened.length) {
        Ok(archive) => archive,
        Err(fault) => return Ok(Err(format!("`{name}` is of no use: {fault}"))),
    };
    let dates = Dates::of(root);
    // What was changed at the very moment that the records were read is looked at too.
    let known = archive.sources().unwrap_or_default();
    let newer =
        dates.pieces.iter().filter(|(folder, date)| **date >= modified || !known.contains_key(*folder));
    let newer: Vec<&str> = newer.map(|(folder, _)| folder.as_str()).collect();
    let tree = Tree::open_some(root, newer.iter().copied())?;
    let (trade, _) = Trade::with(&tree, None);
    let current = || -> Result<Option<String>, ArchiveFault> {
        if archive.about("source")?.as_deref() != Some(&shared_source(&tree)) {
            return Ok(Some("workshop.toml, stock.toml or trade/".to_owned()));
        }
        let sources = archive.sources()?;
        let gone = sources.keys().find(|folder| !dates.pieces.contains_key(*folder));
        if let Some(gone) = gone {
            return Ok(Some(format!("the folder pieces/{gone}, which is gone")));
        }
        let known = |folder: &str, source: &str| sources.get(folder).is_some_and(|known| known == source);
        let changed = newer.into_iter().find(|folder| {
            tree.below(&format!("pieces/{folder}")).next().is_some()
                && !known(folder, &piece_source(&tree, folder))
        });
        Ok(changed.map(|folder| format!("pieces/{folder}")))
    };
    Ok(match current() {
        Ok(None) => Ok((archive, trade)),
        Ok(Some(changed)) => Err(format!("`{name}` was written before {changed} changed")),
        Err(fault) => Err(format!("`{name}` is of no use: {fault}")),
    })
}

/// Whether an archive was made from just these files.
fn is_current<'f>(
    archive: &Archive,
    tree: &Tree,
    folders: impl Iterator<Item = &'f str>,
) -> Result<bool, ArchiveFault> {
    let sources = archive.sources()?;
    let mut folders: Vec<&str> = folders.collect();
    folders.dedup();
    let same = folders.len() == sources.len()
        && folders
            .iter()
            .all(|folder| sources.get(*folder).is_some_and(|known| *known == piece_source(tree, folder)));
    Ok(same && archive.about("source")?.as_deref() == Some(&shared_source(tree)))
}

/// A fingerprint of the files of a piece: its texts, and the names and sizes of its photographs.
fn piece_source(tree: &Tree, folder: &str) -> String {
    let mut source = Vec::new();
    for path in tree.below(&format!("pieces/{folder}")) {
        source.extend(path.as_bytes());
        source.push(0);
        match tree.text(path) {
            Some(Ok(text)) => source.extend(text.as_bytes()),
            Some(Err(fault)) => source.extend(fault.to_string().as_bytes()),
            None => {
                let length = tree.identity(path).map_or(0, |identity| identity.length);
                source.extend(length.to_le_bytes());
            }
        }
        source.push(0);
    }
    fingerprint(&source)
}

/// A fingerprint of the files that all pieces share.
fn shared_source(tree: &Tree) -> String {
    let mut source = Vec::new();
    for path in tree.paths() {
        if SHARED
            .iter()
            .any(|top| path.strip_prefix(top).is_some_and(|rest| rest.is_empty() || rest.starts_with('/')))
        {
            source.extend(path.as_bytes());
            source.push(0);
            source.extend(tree.text(path).and_then(Result::ok).unwrap_or_default().as_bytes());
            source.push(0);
        }
    }
    fingerprint(&source)
}

/// Why a place on a photograph cannot be measured.
#[derive(Debug, thiserror::Error)]
pub enum NoColour {
    /// There is no such photograph.
    #[error("pieces/{folder}/photos has no `{file}`{}", near.as_ref().map_or_else(String::new, |near| format!(" (perhaps `{near}`)")))]
    NoPhotograph {
        /// The piece's folder.
        folder: String,
        /// The file.
        file: String,
        /// The file that was probably meant.
        near: Option<String>,
    },
    /// It cannot be read.
    #[error("`{0}` cannot be read: {1}")]
    File(String, FileFault),
    /// It cannot be opened as a photograph.
    #[error("`{0}` cannot be opened: {1}")]
    Photograph(String, photo::Fault),
    /// The place covers next to no pixels, or the grey card is black.
    #[error("the place on `{0}` is too small to be measured, or the grey card is black")]
    TooSmall(String),
    /// There is no workshop.
    #[error(transparent)]
    Tree(#[from] TreeError),
}

/// A colour that was read off a photograph.
#[derive(Debug, Clone, Copy)]
pub struct ReadColour {
    /// The colour.
    pub lab: Lab,
    /// How far it may be off.
    pub uncertainty: f64,
    /// Whether a grey card that a swatch of the record names on the same photograph corrected it.
    pub grey_card: bool,
}

/// Measures a place on a photograph of a piece, corrected by the grey card that a swatch of its record names there.
///
/// # Errors
/// [`NoColour`].
pub fn read_colour(root: &Path, folder: &str, file: &str, place: Rectangle) -> Result<ReadColour, NoColour> {
    let tree = record::open_with_sets(root, folder)?;
    let (read, _) = record::read(&tree);
    let piece = read.found_in(folder);
    let path = piece.map_or_else(|| format!("pieces/{folder}/photos/{file}"), |piece| piece.photo_path(file));
    if !tree.has(&path) {
        let files = piece.iter().flat_map(|piece| piece.photos.iter().map(String::as_str));
        let near = nearest(file, files).map(str::to_owned);
        return Err(NoColour::NoPhotograph { folder: folder.to_owned(), file: file.to_owned(), near });
    }
    let bytes = tree.bytes(&path).map_err(|fault| NoColour::File(path.clone(), fault))?;
    let record = piece.and_then(|piece| piece.record.clone());
    let swatch = record
        .iter()
        .flat_map(|record| record.swatches.iter())
        .find(|swatch| **swatch.photo == *file && swatch.grey.is_some());
    let grey = swatch.and_then(|swatch| swatch.grey.as_ref()).map(|grey| grey.value);
    let reflectance =
        swatch.and_then(|swatch| swatch.grey_reflectance.as_ref()).map(|percent| percent.0 / 100.0);
    let places: Vec<Rectangle> = std::iter::once(place).chain(grey).collect();
    let patches = photo::patches(&bytes, most_pixels(read.workshop.as_ref()), &places)
        .map_err(|fault| NoColour::Photograph(path.clone(), fault))?;
    let patch = patches.first().and_then(Option::as_ref);
    let card = patches.get(1).and_then(Option::as_ref);
    let read = patch.and_then(|patch| swatch::read_colour(card, reflectance, patch));
    let (lab, uncertainty) = read.ok_or(NoColour::TooSmall(path))?;
    Ok(ReadColour { lab, uncertainty, grey_card: card.is_some() })
}
