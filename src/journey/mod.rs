//! The whole way: from a folder that was listed to papers that stand in place.
//!
//! [`survey`] reads, derives and inspects; [`writeup`] does the same and goes on to view, render and write; [`handover()`]
//! does so for one piece, seals it, and packs its papers.
//! Both look at every photograph on the way, several at once, since what a page may say of a picture and
//! what `inspect` says of it must be the same. What the store knows of it need not be decoded again.

mod darkroom;
mod handover;
#[cfg(feature = "papers")]
mod printing;
#[cfg(not(feature = "papers"))]
#[path = "unprinted.rs"]
mod printing;

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rayon::prelude::*;

use crate::derive::{self, Facts, Photograph, Photographs};
use crate::diag::{self, Diagnostic, Severity};
use crate::inspect::{self, Addition, Case, Looks};
use crate::photo;
use crate::record::{self, Folder, Piece, Workshop};
use crate::render::{self, Whereabouts};
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{self, End, Household, Source, pair_picture_name, picture_name};
use crate::write::{self, Secret, Stage, Store, WriteError};
use darkroom::{Album, Darkroom, Laid, Shot};
pub use handover::{Handed, Order, Refusal, handover};

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

/// Is told and says nothing.
pub struct Quiet;

impl Progress for Quiet {
    fn begin(&self, _: usize) {}
    fn tick(&self) {}
    fn end(&self) {}
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
        let own = |found: &Diagnostic| found.place.piece() == Some(piece.folder.as_str());
        self.diagnostics.iter().any(|found| found.severity() == Severity::Error && own(found))
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
    pub developed: usize,
    /// How many photographs were taken from the store as they had been developed before.
    pub taken: usize,
    /// How many papers wait to be printed, and stand as they were printed before.
    pub waiting: usize,
    /// How many files the tree has.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
    /// The store as this writing used it, which may now be pruned.
    pub store: Store,
}

/// Which papers are printed, of those that have a form to print.
#[derive(Clone, Copy)]
pub enum Printing<'a> {
    /// Every one.
    All,
    /// Those that were printed before from the same record, and others as long as this says so: it is asked before
    /// each, since setting one takes its time. The rest wait.
    While(&'a (dyn Fn() -> bool + Sync)),
}

impl Printing<'_> {
    /// Those that were printed before from the same record; the others wait.
    pub const KNOWN: Printing<'static> = Printing::While(&|| false);
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
    /// A file's name cannot stand in a pack.
    #[error(transparent)]
    Bag(#[from] crate::pack::BagFault),
    /// The pack could not be signed.
    #[error(transparent)]
    Key(#[from] crate::pack::KeyFault),
    /// The pack could not be made one file.
    #[error("the pack cannot be made one file")]
    Zip(#[source] std::io::Error),
}

/// Reads and inspects a workshop; a photograph that the store does not know is decoded to see that it can be.
pub fn survey(tree: &Tree, today: NaiveDate, progress: &dyn Progress) -> Survey {
    let store = Store::reading(tree.root());
    let mut read = Read::of(tree, &store);
    let darkroom = Darkroom::new(tree, &store, settings(read.folder.workshop.as_ref()));
    let looked = read.photographs(progress, |piece, photograph| {
        let mut look = darkroom.look(piece, photograph);
        darkroom.measure(piece, photograph, &mut look);
        Ok(look)
    });
    let looked = looked.expect("looking writes nothing that could fail");
    let mut looks = read.no_looks();
    for (piece, _, photograph, look) in looked {
        looks[piece].insert(photograph.file.clone(), look);
    }
    read.align(&looks);
    read.inspected(looks, today)
}

/// Reads, inspects and writes a workshop: showroom, buyers' papers and archive.
///
/// `secret` makes the addresses of the buyers' papers unguessable. With `only`, the papers of other pieces stay as they
/// were written before, and pieces that were not are left out.
///
/// # Errors
/// [`Error`] where nothing was written; what stood in the stage's target then still stands.
pub fn writeup(
    tree: &Tree,
    today: NaiveDate,
    stage: Stage,
    secret: &Secret,
    only: Option<&str>,
    printing: Printing<'_>,
    progress: &dyn Progress,
) -> Result<(Survey, Option<Written>), Error> {
    let store = Store::open(tree.root(), &stage);
    let mut read = Read::of(tree, &store);
    let darkroom = Darkroom::new(tree, &store, settings(read.folder.workshop.as_ref()));
    let errand = Errand { only, stage: &stage };
    let (looks, album) = read.pictures(&darkroom, progress, |piece| errand.writes(piece))?;
    let survey = read.inspected(looks, today);
    let Some(workshop) = survey.folder.workshop.as_ref() else { return Ok((survey, None)) };
    let house = Household::of(workshop);
    let theme = render::Theme::load(tree)?;
    let (sources, left_out) = errand.sources(&survey, &house);
    let buyers: Vec<Whereabouts> = sources.iter().map(|source| whereabouts(&house, source, secret)).collect();
    let pieces: Vec<(&Source<'_>, &Whereabouts)> = sources.iter().zip(&buyers).collect();
    pieces.par_iter().try_for_each(|(source, papers)| errand.hang(source, papers, &album))?;
    let waiting = errand.print(&theme, &house, &pieces, &album, &store, printing)?;
    // The pages of pieces that were not asked for were carried over, and stay.
    let put = |file: render::File| match stage.has(&file.path) {
        true => Ok(()),
        false => stage.put(&file.path, &file.bytes).map_err(Error::from),
    };
    render::showroom(&theme, &house, &sources)?.into_par_iter().try_for_each(put)?;
    pieces.par_iter().filter(|(source, _)| errand.wants(source.folder())).try_for_each(
        |(source, papers)| render::buyers(&theme, &house, source, papers)?.into_iter().try_for_each(put),
    )?;
    let archive = render::archive(&theme, &house, &sources, &buyers, &survey.folder.stock)?;
    archive.into_par_iter().try_for_each(put)?;
    let titles = sources.iter().map(Source::title).collect();
    let (developed, taken) = darkroom.counts();
    let tree = stage.commit()?;
    store.settle();
    let written = Written {
        pieces: titles,
        left_out,
        developed,
        taken,
        waiting,
        files: tree.files,
        bytes: tree.bytes,
        store,
    };
    Ok((survey, Some(written)))
}

/// What one writing is to do.
struct Errand<'a> {
    only: Option<&'a str>,
    stage: &'a Stage,
}

impl Errand<'_> {
    /// Whether a piece's papers are written anew.
    fn wants(&self, folder: &str) -> bool {
        self.only.is_none_or(|only| folder == only)
    }

    /// Whether a piece that is not wanted was written before, so that its papers can stay.
    fn wrote_before(&self, piece: &Piece) -> bool {
        let slug = piece.record.as_ref().map(|record| view::slug(&record.number));
        slug.is_some_and(|slug| self.stage.had(&format!("archive/pieces/{slug}/index.html")))
    }

    /// Whether the tree will have a piece's papers, anew or as they were.
    fn writes(&self, piece: &Piece) -> bool {
        self.wants(&piece.folder) || self.wrote_before(piece)
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
                Some(_) if !self.writes(piece) => "not asked for, and not written before",
                Some(source) => {
                    sources.push(source);
                    continue;
                }
            };
            left_out.push((piece.folder.clone(), why.to_owned()));
        }
        (sources, left_out)
    }

    /// Hangs a piece's pictures into its folders; of a piece that is not wanted, what was written before comes first.
    fn hang(&self, source: &Source<'_>, papers: &Whereabouts, album: &Album) -> Result<(), WriteError> {
        let mut folders = vec![
            (format!("archive/pieces/{}", source.slug()), source.all_pictures()),
            (papers.folder.clone(), source.public_pictures()),
        ];
        if source.published() {
            folders.push((format!("showroom/pieces/{}", source.slug()), source.public_pictures()));
        }
        for (folder, names) in folders {
            if !self.wants(source.folder()) {
                self.stage.carry(&folder)?;
            }
            for name in names {
                let path = format!("{folder}/pictures/{name}");
                if let Some(picture) = album.get(source.folder(), &name).filter(|_| !self.stage.has(&path)) {
                    self.stage.hang(picture, &path)?;
                }
            }
        }
        Ok(())
    }

    /// Hangs the papers to print into the buyers' folders; how many wait to be printed.
    fn print(
        &self,
        theme: &render::Theme,
        house: &Household,
        pieces: &[(&Source<'_>, &Whereabouts)],
        album: &Album,
        store: &Store,
        which: Printing<'_>,
    ) -> Result<usize, Error> {
        // The papers of pieces that were not asked for were carried over, and stay.
        let pieces = pieces.iter().copied();
        let wanted: Vec<_> = pieces.filter(|(source, _)| self.wants(source.folder())).collect();
        let mut waiting = 0;
        for (path, paper) in printing::print(theme, house, &wanted, album, store, which)? {
            match paper {
                Some(paper) => self.stage.hang(&paper, &path)?,
                None => {
                    self.stage.keep(&path);
                    waiting += 1;
                }
            }
        }
        Ok(waiting)
    }
}

/// Where a piece's papers for its buyer are: nobody guesses the place without the secret.
fn whereabouts(house: &Household, source: &Source<'_>, secret: &Secret) -> Whereabouts {
    let name = secret.folder(&source.slug(), source.folder());
    Whereabouts { address: house.papers_address(&name), folder: format!("buyers/{name}") }
}

/// A workshop that has been read, before its photographs are looked at.
struct Read {
    folder: Folder,
    trade: Trade,
    facts: Vec<Option<Facts>>,
    diagnostics: Vec<Diagnostic>,
}

impl Read {
    fn of(tree: &Tree, store: &Store) -> Read {
        let (mut folder, mut diagnostics) = record::read(tree);
        // What changed since a seal is told of photographs, too.
        let sealed = folder.pieces.par_iter_mut().filter(|piece| !piece.seals.is_empty());
        sealed.for_each(|piece| piece.prints = Some(darkroom::prints(tree, store, piece)));
        let (trade, problems) = Trade::with(tree);
        diagnostics.extend(problems);
        let facts =
            |piece: &Piece| piece.record.as_ref().map(|record| derive::facts(&folder, piece, record, &trade));
        let facts = folder.pieces.iter().map(facts).collect();
        Read { folder, trade, facts, diagnostics }
    }

    /// Does something with every photograph, several at once; the answers come with the piece's place in the folder
    /// and the photograph's place in the piece, in this order.
    fn photographs<T: Send>(
        &self,
        progress: &dyn Progress,
        act: impl Fn(&Piece, &Photograph) -> Result<T, WriteError> + Sync,
    ) -> Result<Vec<(usize, usize, &Photograph, T)>, WriteError> {
        let mut photographs: Vec<(usize, usize, &Photograph)> = Vec::new();
        for (piece, facts) in self.facts.iter().enumerate() {
            let all = facts.iter().flat_map(|facts| &facts.photographs.all).enumerate();
            photographs.extend(all.map(|(place, photograph)| (piece, place, photograph)));
        }
        progress.begin(photographs.len());
        let answers = photographs
            .into_par_iter()
            .map(|(piece, place, photograph)| {
                let answer = act(&self.folder.pieces[piece], photograph)?;
                progress.tick();
                Ok((piece, place, photograph, answer))
            })
            .collect();
        progress.end();
        answers
    }

    /// Develops every photograph of the pieces that are written and lays those of each pair onto each other: how each
    /// photograph answered, and the pictures. Those of the other pieces are looked at.
    fn pictures(
        &mut self,
        darkroom: &Darkroom<'_>,
        progress: &dyn Progress,
        writes: impl Fn(&Piece) -> bool + Sync,
    ) -> Result<(Vec<Looks>, Album), WriteError> {
        let shots = self.photographs(progress, |piece, photograph| {
            let mut shot = match writes(piece) {
                true => darkroom.develop(piece, photograph)?,
                false => Shot::without_pictures(darkroom.look(piece, photograph)),
            };
            darkroom.measure(piece, photograph, &mut shot.look);
            Ok(shot)
        })?;
        let (mut looks, mut album) = (self.no_looks(), Album::default());
        for (piece, place, photograph, shot) in shots {
            for (width, picture) in shot.pictures {
                let name = picture_name(photograph, place, width);
                album.add(&self.folder.pieces[piece].folder, name, picture);
            }
            looks[piece].insert(photograph.file.clone(), shot.look);
        }
        self.align(&looks);
        let laid = self.overlay(|piece, overlay, before, after| match writes(piece) {
            true => darkroom.overlay(piece, before, after, overlay),
            false => Ok(None),
        })?;
        for (piece, place, laid) in laid {
            for (end, pictures) in [(End::Before, laid.before), (End::After, laid.after)] {
                for (width, picture) in pictures {
                    let name = pair_picture_name(place, end, width);
                    album.add(&self.folder.pieces[piece].folder, name, picture);
                }
            }
        }
        Ok((looks, album))
    }

    /// Finds how the photographs of each pair lie on each other.
    fn align(&mut self, looks: &[Looks]) {
        for ((piece, facts), looks) in self.folder.pieces.iter().zip(&mut self.facts).zip(looks) {
            if let (Some(record), Some(facts)) = (&piece.record, facts) {
                facts.photographs.align(record, |file| inspect::size(looks, file));
            }
        }
    }

    /// Lays the photographs of each pair onto each other where that can be done, several pairs at once; the answers
    /// come with the piece's place in the folder and the pair's place in the piece. A pair without one stands side by
    /// side.
    fn overlay(
        &mut self,
        act: impl Fn(&Piece, &photo::Overlay, &Photograph, &Photograph) -> Result<Option<Laid>, WriteError> + Sync,
    ) -> Result<Vec<(usize, usize, Laid)>, WriteError> {
        let mut pairs = Vec::new();
        for (index, (piece, facts)) in self.folder.pieces.iter().zip(&self.facts).enumerate() {
            let (Some(record), Some(facts)) = (&piece.record, facts) else { continue };
            let Photographs { all, pairs: of_piece, .. } = &facts.photographs;
            for (place, pair) in of_piece.iter().enumerate() {
                if let Some(overlay) = pair.overlay(record) {
                    pairs.push((index, place, piece, overlay, &all[pair.before], &all[pair.after]));
                }
            }
        }
        let answers = pairs.into_par_iter().map(|(index, place, piece, overlay, before, after)| {
            Ok(act(piece, &overlay, before, after)?.map(|laid| (index, place, laid)))
        });
        let laid: Vec<(usize, usize, Laid)> =
            answers.collect::<Result<Vec<_>, WriteError>>()?.into_iter().flatten().collect();
        for (piece, place, laid) in &laid {
            if let Some(facts) = &mut self.facts[*piece] {
                facts.photographs.pairs[*place].tone = Some(laid.tone);
            }
        }
        Ok(laid)
    }

    /// For each piece, that no photograph of it was looked at yet.
    fn no_looks(&self) -> Vec<Looks> {
        vec![BTreeMap::new(); self.folder.pieces.len()]
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

/// The most pixels of a photograph that a workshop has opened.
pub fn most_pixels(workshop: Option<&Workshop>) -> u64 {
    let megapixels = workshop.and_then(|workshop| workshop.photo_megapixels.as_ref());
    megapixels.map_or(MOST_PIXELS, |megapixels| u64::from(megapixels.0) * 1_000_000)
}
