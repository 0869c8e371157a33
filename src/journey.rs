//! The whole way: from a folder that was listed to papers that stand in place.
//!
//! [`survey`] reads, derives and inspects; [`writeup`] does the same and goes on to view, render and write.
//! Both open every photograph on the way, several at once, since what a page may say of a picture and
//! what `inspect` says of it must be the same.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use chrono::NaiveDate;
use rayon::prelude::*;

use crate::derive::{self, Facts, Photograph};
use crate::diag::{self, Diagnostic, Severity};
use crate::inspect::{self, Addition, Case, Looks};
use crate::photo::{self, Checked, Fault, Patch};
use crate::record::{self, Folder, Piece, Workshop};
use crate::render;
use crate::source::Tree;
use crate::trade::Trade;
use crate::unit::Rectangle;
use crate::view::{self, Household, Source, picture_name};
use crate::write::{self, Secret, Stage, WriteError};

/// The most pixels of a photograph that is opened, where the workshop says nothing.
pub const MOST_PIXELS: u64 = 120_000_000;

/// The quality that photographs are developed with, of 100.
const QUALITY: u8 = 80;

/// Told how far the photographs are, by several threads at once.
pub trait Progress: Sync {
    /// So many photographs are to be opened.
    fn begin(&self, photographs: usize);
    /// One more was.
    fn tick(&self);
    /// All were.
    fn end(&self);
}

/// A workshop, read and inspected.
#[derive(Debug)]
pub struct Survey {
    /// What its folder says.
    pub folder: Folder,
    /// What follows from each piece's record; parallel to the folder's pieces.
    pub facts: Vec<Option<Facts>>,
    /// How each piece's photographs answered; parallel to the folder's pieces.
    pub looks: Vec<Looks>,
    /// The tables of the trade, with the workshop's own rows laid over them.
    pub trade: Trade,
    /// What is wrong or missing, the most serious first.
    pub diagnostics: Vec<Diagnostic>,
    /// What would improve each piece's papers most; parallel to the folder's pieces.
    pub additions: Vec<Vec<Addition>>,
}

impl Survey {
    /// Whether a file of the piece has an error, so that its papers would be wrong.
    pub fn unsound(&self, piece: &Piece) -> bool {
        let folder = format!("pieces/{}", piece.folder);
        let within = |path: &str| {
            path == folder || path.strip_prefix(&folder).is_some_and(|rest| rest.starts_with('/'))
        };
        self.diagnostics.iter().any(|found| found.severity() == Severity::Error && within(&found.place.path))
    }
}

/// What a writing put in place.
#[derive(Debug)]
pub struct Written {
    /// Titles and numbers of the pieces that were written.
    pub pieces: Vec<String>,
    /// Folders of the pieces that were left out, and why.
    pub left_out: Vec<(String, String)>,
    /// How many photographs were developed.
    pub photographs: usize,
    /// How many files the tree has.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
}

/// Why the papers could not be written at all.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The theme cannot be used.
    #[error(transparent)]
    Render(#[from] render::RenderError),
    /// The files could not be put in place.
    #[error(transparent)]
    Write(#[from] write::WriteError),
}

/// Reads and inspects a workshop; every photograph is decoded to see that it can be.
pub fn survey(tree: &Tree, today: NaiveDate, progress: &dyn Progress) -> Survey {
    let read = Read::of(tree);
    let most_pixels = most_pixels(read.folder.workshop.as_ref());
    let looks = read.looks(tree, progress, |piece, _, photograph| {
        photo::check(&bytes(tree, piece, photograph)?, most_pixels)
    });
    read.inspected(looks, today)
}

/// Reads, inspects and writes a workshop: showroom, buyers' papers and archive.
///
/// `secret` makes the addresses of the buyers' papers unguessable. With `only`, other pieces that were
/// written before are written again with the pictures they have, and the rest are left out.
///
/// # Errors
/// [`Error`] where nothing was written; what stood in the stage's target then still stands.
pub fn writeup(
    tree: &Tree,
    today: NaiveDate,
    stage: Stage,
    secret: &Secret,
    only: Option<&str>,
    progress: &dyn Progress,
) -> Result<(Survey, Option<Written>), Error> {
    let read = Read::of(tree);
    let errand = Errand {
        only,
        stage: &stage,
        settings: settings(read.folder.workshop.as_ref()),
        developed: AtomicUsize::new(0),
    };
    let failed = Mutex::new(None);
    let looks = read.looks(tree, progress, |piece, place, photograph| {
        errand.develop(piece, place, photograph, &bytes(tree, piece, photograph)?, &failed)
    });
    if let Some(error) = failed.into_inner().expect("no thread panics while it notes a failure") {
        return Err(WriteError::into(error));
    }
    let survey = read.inspected(looks, today);
    let Some(workshop) = survey.folder.workshop.as_ref() else { return Ok((survey, None)) };
    let house = Household::of(workshop);
    let theme = render::Theme::load(tree)?;
    let (sources, left_out) = errand.sources(&survey, &house);
    let buyers: Vec<String> = sources
        .iter()
        .map(|source| format!("buyers/{}-{}", source.slug(), secret.token(source.folder())))
        .collect();
    for (source, buyers) in sources.iter().zip(&buyers) {
        errand.hang(source, &format!("archive/pieces/{}", source.slug()), source.all_pictures())?;
        errand.hang(source, buyers, source.public_pictures())?;
        if source.published() {
            errand.hang(source, &format!("showroom/pieces/{}", source.slug()), source.public_pictures())?;
        }
    }
    let mut files = render::showroom(&theme, &house, &sources)?;
    for (source, folder) in sources.iter().zip(&buyers) {
        files.extend(render::buyers(&theme, &house, source, folder)?);
    }
    files.extend(render::archive(&theme, &house, &sources, &buyers, &survey.folder.stock)?);
    for file in files {
        stage.put(&file.path, &file.bytes)?;
    }
    let pieces = sources.iter().map(Source::title).collect();
    let photographs = errand.developed.into_inner();
    let tree = stage.commit()?;
    let written = Written { pieces, left_out, photographs, files: tree.files, bytes: tree.bytes };
    Ok((survey, Some(written)))
}

/// What one writing is to do, and where its pictures go.
struct Errand<'a> {
    only: Option<&'a str>,
    stage: &'a Stage,
    settings: photo::Settings,
    developed: AtomicUsize,
}

impl Errand<'_> {
    /// Whether a piece's photographs are developed anew.
    fn wants(&self, piece: &Piece) -> bool {
        self.only.is_none_or(|only| piece.folder == only)
    }

    /// Whether a piece that is not wanted was written before, so that it can be written again as it is.
    fn wrote_before(&self, piece: &Piece) -> bool {
        let slug = piece.record.as_ref().map(|record| view::slug(&record.number));
        slug.is_some_and(|slug| self.stage.had(&format!("archive/pieces/{slug}/index.html")))
    }

    /// Develops a photograph and stows its pictures, unless the old tree has them and the piece is not wanted.
    fn develop(
        &self,
        piece: &Piece,
        place: usize,
        photograph: &Photograph,
        bytes: &[u8],
        failed: &Mutex<Option<WriteError>>,
    ) -> Result<Checked, Fault> {
        if !self.wants(piece) {
            let header = photo::header(bytes, self.settings.max_pixels)?;
            let slug = piece.record.as_ref().map_or_else(String::new, |record| view::slug(&record.number));
            let sizes = photo::sizes(header.width, header.height, &self.settings.widths);
            let stands = |(width, _): (u32, u32)| {
                self.stage.had(&format!(
                    "archive/pieces/{slug}/pictures/{}",
                    picture_name(photograph, place, width)
                ))
            };
            if !self.wrote_before(piece) || sizes.into_iter().all(stands) {
                return Ok(Checked { header, defects: Vec::new(), patches: Vec::new() });
            }
        }
        let developed = photo::develop(bytes, &self.settings)?;
        for picture in &developed.pictures {
            let name = format!("{}/{}", piece.folder, picture_name(photograph, place, picture.width));
            if let Err(error) = self.stage.stow(&name, &picture.bytes) {
                failed.lock().expect("no thread panics while it notes a failure").get_or_insert(error);
            }
        }
        self.developed.fetch_add(1, Ordering::Relaxed);
        Ok(Checked { header: developed.header, defects: developed.defects, patches: Vec::new() })
    }

    /// The pieces that are written, and those that are left out with the reason.
    fn sources<'s>(
        &self,
        survey: &'s Survey,
        house: &'s Household,
    ) -> (Vec<Source<'s>>, Vec<(String, String)>) {
        let (mut sources, mut left_out) = (Vec::new(), Vec::new());
        for ((piece, facts), looks) in survey.folder.pieces.iter().zip(&survey.facts).zip(&survey.looks) {
            let source = Source::of(&survey.folder, piece, facts.as_ref(), looks, &survey.trade, house);
            let why = match source {
                Some(_) if survey.unsound(piece) => "its record has errors",
                None => "its record could not be read",
                Some(_) if !self.wants(piece) && !self.wrote_before(piece) => {
                    "not asked for, and not written before"
                }
                Some(source) => {
                    sources.push(source);
                    continue;
                }
            };
            left_out.push((piece.folder.clone(), why.to_owned()));
        }
        (sources, left_out)
    }

    /// Hangs a piece's pictures into one of its folders: the stowed ones, else those of the old tree.
    fn hang(&self, source: &Source<'_>, folder: &str, names: Vec<String>) -> Result<(), WriteError> {
        for name in names {
            let path = format!("{folder}/pictures/{name}");
            let stowed = format!("{}/{name}", source.folder());
            let archived = format!("archive/pieces/{}/pictures/{name}", source.slug());
            self.stage.hang(&stowed, &archived, &path)?;
        }
        Ok(())
    }
}

/// A workshop that has been read, before its photographs are looked at.
struct Read {
    folder: Folder,
    trade: Trade,
    facts: Vec<Option<Facts>>,
    diagnostics: Vec<Diagnostic>,
}

impl Read {
    fn of(tree: &Tree) -> Read {
        let (folder, mut diagnostics) = record::read(tree);
        let (trade, problems) = Trade::with(tree);
        diagnostics.extend(problems);
        let facts =
            |piece: &Piece| piece.record.as_ref().map(|record| derive::facts(&folder, piece, record, &trade));
        let facts = folder.pieces.iter().map(facts).collect();
        Read { folder, trade, facts, diagnostics }
    }

    /// Opens every photograph, several at once, and gathers how each answered.
    fn looks(
        &self,
        tree: &Tree,
        progress: &dyn Progress,
        open: impl Fn(&Piece, usize, &Photograph) -> Result<Checked, Fault> + Sync,
    ) -> Vec<Looks> {
        let photographs: Vec<(usize, usize, &Photograph)> = self
            .facts
            .iter()
            .enumerate()
            .flat_map(|(piece, facts)| facts.iter().map(move |facts| (piece, facts)))
            .flat_map(|(piece, facts)| {
                facts
                    .photographs
                    .all
                    .iter()
                    .enumerate()
                    .map(move |(place, photograph)| (piece, place, photograph))
            })
            .collect();
        progress.begin(photographs.len());
        let opened: Vec<(usize, String, Result<Checked, Fault>)> = photographs
            .into_par_iter()
            .map(|(piece, place, photograph)| {
                let mut look = open(&self.folder.pieces[piece], place, photograph);
                if let Ok(checked) = &mut look {
                    checked.patches = self.patches(tree, &self.folder.pieces[piece], photograph);
                }
                progress.tick();
                (piece, photograph.file.clone(), look)
            })
            .collect();
        progress.end();
        let mut looks: Vec<Looks> = vec![BTreeMap::new(); self.folder.pieces.len()];
        for (piece, file, look) in opened {
            looks[piece].insert(file, look);
        }
        looks
    }

    /// The patches that swatches name on a photograph, measured at its full size; mostly none.
    ///
    /// A photograph that answered before and does not answer now has none.
    fn patches(
        &self,
        tree: &Tree,
        piece: &Piece,
        photograph: &Photograph,
    ) -> Vec<(Rectangle, Option<Patch>)> {
        let named = piece.record.as_ref().map(|record| derive::swatch::rectangles(record, &photograph.file));
        let named = named.filter(|rectangles| !rectangles.is_empty());
        let measured = named.and_then(|rectangles| {
            let bytes = bytes(tree, piece, photograph).ok()?;
            photo::patches(&bytes, most_pixels(self.folder.workshop.as_ref()), &rectangles).ok()
        });
        measured.unwrap_or_default()
    }

    /// Inspects what was read, with its photographs.
    fn inspected(self, looks: Vec<Looks>, today: NaiveDate) -> Survey {
        let Read { folder, trade, mut facts, mut diagnostics } = self;
        for ((piece, facts), looks) in folder.pieces.iter().zip(&mut facts).zip(&looks) {
            if let (Some(record), Some(facts)) = (&piece.record, facts) {
                facts.see(record, looks);
            }
        }
        diagnostics.extend(inspect::inspect(&folder, &facts, &looks, &trade, today));
        diag::sort(&mut diagnostics);
        let parallel = folder.pieces.iter().zip(&facts).zip(&looks);
        let additions = parallel.map(|((piece, facts), looks)| match (&piece.record, facts) {
            (Some(record), Some(facts)) => inspect::additions(&Case {
                folder: &folder,
                piece,
                record,
                facts,
                looks,
                trade: &trade,
                today,
                path: piece.record_path(),
            }),
            _ => Vec::new(),
        });
        let additions = additions.collect();
        Survey { folder, facts, looks, trade, diagnostics, additions }
    }
}

/// How a workshop wants its photographs developed.
fn settings(workshop: Option<&Workshop>) -> photo::Settings {
    photo::Settings {
        widths: workshop.map_or_else(|| view::WIDTHS.to_vec(), view::widths),
        quality: QUALITY,
        max_pixels: most_pixels(workshop),
    }
}

/// The most pixels of a photograph that is opened.
fn most_pixels(workshop: Option<&Workshop>) -> u64 {
    let megapixels = workshop.and_then(|workshop| workshop.photo_megapixels.as_ref());
    megapixels.map_or(MOST_PIXELS, |megapixels| u64::from(megapixels.0) * 1_000_000)
}

/// The bytes of a photograph; a file that cannot be read is a photograph that cannot.
fn bytes(tree: &Tree, piece: &Piece, photograph: &Photograph) -> Result<Vec<u8>, Fault> {
    tree.bytes(&piece.photo_path(&photograph.file)).map_err(|error| Fault::Unreadable(error.to_string()))
}
