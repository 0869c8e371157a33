//! From a survey to papers that stand in place, piece by piece.

use chrono::NaiveDate;
use rayon::prelude::*;

use super::printing::{PaperPrinter, Sheet, sheets};
use super::reading::{PicturesOfAll, ReadWorkshop};
use super::workroom::{self, Handling, Pictures, Workroom};
use super::{Error, Printing, Progress, Survey, buyers_folder, settings};
use crate::record::Piece;
use crate::render::{self, ARCHIVE, BuyersFolder, PieceEntries, SHOWROOM, Theme};
use crate::source::Tree;
use crate::view::{self, HouseStyle, PieceContext, all_pictures, public_pictures};
use crate::write::{Repeated, Secret, Stage, Store, WriteError};

/// How many pieces are made at once before their papers are printed: few enough to hold, enough for every thread.
const AT_ONCE: usize = 16;

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
    let read = ReadWorkshop::of(tree);
    let drafts = read.drafts(|piece| workroom::digests(tree, &store, piece));
    let room = Workroom::new(tree, &store, settings(read.folder.workshop.as_ref()));
    let scope = Scope { only, stage: &stage };
    let (survey, pictures) = read.inspected(drafts, &room, |piece| scope.handling(piece), today, progress)?;
    let Some(workshop) = survey.folder.workshop.as_ref() else { return Ok((survey, None)) };
    let house = HouseStyle::of(workshop);
    let theme = Theme::load(tree)?;
    let printer = PaperPrinter::of(&theme, &store)?;
    let (pieces, left_out) = scope.pieces(&survey, &house, &pictures, secret);
    let writing = Writing { scope: &scope, theme: &theme, house: &house, printer: &printer };
    let assets = theme.assets().map(|(path, bytes)| (path, Repeated::of(bytes))).collect();
    let (entries, waiting) = writing.pieces(&pieces, &assets, printing)?;
    for file in render::front_pages(&theme, &house, entries, &survey.folder.stock)? {
        writing.put(file)?;
    }
    let titles = pieces.iter().map(|piece| piece.context.title()).collect();
    let (developed, taken) = room.counts();
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

/// Which pieces one writing writes.
struct Scope<'a> {
    only: Option<&'a str>,
    stage: &'a Stage,
}

/// A piece that is written.
struct ToWrite<'a> {
    context: PieceContext<'a>,
    buyers: BuyersFolder,
    pictures: &'a Pictures,
}

impl Scope<'_> {
    /// Whether a piece's papers are written anew.
    fn wants(&self, folder: &str) -> bool {
        self.only.is_none_or(|only| folder == only)
    }

    /// Whether a piece that is not wanted was written before, so that its papers can stay.
    fn wrote_before(&self, piece: &Piece) -> bool {
        let slug = piece.record.as_ref().map(|record| view::slug(&record.number));
        slug.is_some_and(|slug| self.stage.had(&format!("{ARCHIVE}/pieces/{slug}/index.html")))
    }

    /// Whether the tree will have a piece's papers, anew or as they were.
    fn writes(&self, piece: &Piece) -> bool {
        self.wants(&piece.folder) || self.wrote_before(piece)
    }

    fn handling(&self, piece: &Piece) -> Handling {
        if self.writes(piece) { Handling::Develop } else { Handling::Look }
    }

    /// The pieces that are written, and those that are left out with the reason, each in the order of their folders.
    fn pieces<'s>(
        &self,
        survey: &'s Survey,
        house: &'s HouseStyle,
        pictures: &'s PicturesOfAll,
        secret: &Secret,
    ) -> (Vec<ToWrite<'s>>, Vec<(String, String)>) {
        let (mut pieces, mut left_out) = (Vec::new(), Vec::new());
        for piece in &survey.folder.pieces {
            let folder = piece.folder.as_str();
            let why = match (survey.piece(folder), pictures.get(folder)) {
                (Some(_), _) if survey.unsound(folder) => "its record has errors",
                (Some(_), _) if !self.writes(piece) => "not asked for, and not written before",
                (Some(workpiece), Some(pictures)) => {
                    let context = PieceContext::of(&survey.folder, workpiece, &survey.trade, house);
                    let buyers = buyers_folder(&context, secret);
                    pieces.push(ToWrite { context, buyers, pictures });
                    continue;
                }
                _ => "its record could not be read",
            };
            left_out.push((folder.to_owned(), why.to_owned()));
        }
        (pieces, left_out)
    }
}

/// What all pieces of one writing are made with.
struct Writing<'a> {
    scope: &'a Scope<'a>,
    theme: &'a Theme,
    house: &'a HouseStyle,
    printer: &'a PaperPrinter<'a>,
}

/// A theme's assets, by their path in each tree.
type Assets<'a> = Vec<(&'a str, Repeated<'a>)>;

/// What is left to do of a piece whose pages are made.
struct Made {
    entries: PieceEntries,
    /// Papers that were not printed before from the same record.
    unprinted: Vec<Sheet>,
}

impl Writing<'_> {
    /// Makes all pieces, a few at once, and then prints their papers: what the front pages tell of them, and how many
    /// papers wait to be printed.
    fn pieces(
        &self,
        pieces: &[ToWrite<'_>],
        assets: &Assets<'_>,
        printing: Printing<'_>,
    ) -> Result<(Vec<PieceEntries>, usize), Error> {
        for tree in [SHOWROOM, ARCHIVE] {
            self.put_assets(tree, assets)?;
        }
        let (mut entries, mut waiting) = (Vec::new(), 0);
        for some in pieces.chunks(AT_ONCE) {
            let made: Vec<(&ToWrite<'_>, Made)> = some
                .par_iter()
                .map(|piece| Ok((piece, self.make(piece, assets)?)))
                .collect::<Result<_, Error>>()?;
            for (piece, made) in made {
                waiting += self.print(piece, &made.unprinted, printing)?;
                entries.push(made.entries);
            }
        }
        Ok((entries, waiting))
    }

    /// Makes a piece's pages, and hangs its pictures and the papers that were printed before.
    fn make(&self, piece: &ToWrite<'_>, assets: &Assets<'_>) -> Result<Made, Error> {
        let ToWrite { context, buyers, pictures } = piece;
        let wanted = self.scope.wants(context.folder());
        self.hang_pictures(piece)?;
        let papers = render::buyer_papers(context, buyers.address.as_deref());
        let (files, entries) = render::piece_pages(self.theme, context, &papers, buyers, wanted)?;
        // What was carried over stays.
        files.into_iter().try_for_each(|file| self.put(file))?;
        let mut unprinted = Vec::new();
        if wanted {
            self.put_assets(&buyers.folder, assets)?;
            for sheet in sheets(self.house, &papers, context.last_day()) {
                match self.printer.known(&sheet, pictures) {
                    Some(paper) => self.stage().hang(&paper, &format!("{}/{}", buyers.folder, sheet.file))?,
                    None => unprinted.push(sheet),
                }
            }
        }
        Ok(Made { entries, unprinted })
    }

    /// Prints papers into their buyer's folder, as far as `printing` says; how many wait.
    fn print(&self, piece: &ToWrite<'_>, sheets: &[Sheet], printing: Printing<'_>) -> Result<usize, Error> {
        let mut waiting = 0;
        for sheet in sheets {
            let path = format!("{}/{}", piece.buyers.folder, sheet.file);
            if printing.goes_on() {
                self.stage().hang(&self.printer.print(sheet, piece.pictures)?, &path)?;
            } else {
                self.stage().keep(&path);
                waiting += 1;
            }
        }
        Ok(waiting)
    }

    /// Hangs a piece's pictures into its folders; of a piece that is not wanted, what was written before comes first.
    fn hang_pictures(&self, ToWrite { context, buyers, pictures }: &ToWrite<'_>) -> Result<(), WriteError> {
        let (stage, slug) = (self.stage(), context.slug());
        let mut folders = vec![
            (format!("{ARCHIVE}/pieces/{slug}"), all_pictures(context)),
            (buyers.folder.clone(), public_pictures(context)),
        ];
        if context.published() {
            folders.push((format!("{SHOWROOM}/pieces/{slug}"), public_pictures(context)));
        }
        for (folder, names) in folders {
            if !self.scope.wants(context.folder()) {
                stage.carry(&folder)?;
            }
            for name in names {
                let path = format!("{folder}/pictures/{name}");
                if let Some(picture) = pictures.get(&name).filter(|_| !stage.has(&path)) {
                    stage.hang(picture, &path)?;
                }
            }
        }
        Ok(())
    }

    fn put_assets(&self, folder: &str, assets: &Assets<'_>) -> Result<(), WriteError> {
        assets.iter().try_for_each(|(path, asset)| self.stage().put_again(&format!("{folder}/{path}"), asset))
    }

    /// Puts a page into the tree, unless one was carried over.
    fn put(&self, file: render::File) -> Result<(), Error> {
        if self.stage().has(&file.path) {
            return Ok(());
        }
        Ok(self.stage().put(&file.path, &file.bytes)?)
    }

    fn stage(&self) -> &Stage {
        self.scope.stage
    }
}
