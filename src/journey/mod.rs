//! The whole way: from a folder that was listed to papers that stand in place.
//!
//! [`survey`] reads, derives and inspects; [`writeup()`] does the same and goes on to view, render and write; [`handover()`]
//! does so for one piece, seals it, and packs its papers.
//! All look at every photograph on the way, several at once, since what a page may say of a picture and
//! what `inspect` says of it must be the same. What the darkroom knows of it need not be decoded again.

mod abroad;
mod archive;
mod cutting;
mod forgetting;
mod handover;
mod looking;
mod planning;
#[cfg(feature = "papers")]
mod printing;
#[cfg(not(feature = "papers"))]
#[path = "unprinted.rs"]
mod printing;
mod reading;
mod receipt;
mod standing;
mod told;
mod workroom;
mod writeup;

use std::sync::Arc;

use chrono::NaiveDate;

use crate::derive::Workpiece;
use crate::diag::{Diagnostic, Rank};
use crate::fields::code;
use crate::inspect::{self, Case, Outlook};
use crate::photo;
use crate::record::{Folder, Piece, Workshop};
use crate::render::{self, BuyersFolder, ThemeChoice};
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{self, PieceContext};
use crate::words::Languages;
use crate::write::{self, Darkroom, Secret};
use reading::ReadWorkshop;
use workroom::{Handling, Workroom};

pub use archive::{
    NoColour, OpenError, OpenedArchive, ReadColour, archive_at_hand, archive_of, open_archive, read_colour,
    remade,
};
pub use forgetting::{Forgetting, Mentioned, NotForgotten, Sealed, forgetting, still_named, written_afresh};
pub use handover::{Handed, Order, Refusal, handover};
pub use looking::{look_over, look_over_printed};
pub use planning::{PlannedPiece, WayTaken, planned};
pub use receipt::{Asked, Ground, Left, Unchanged, unchanged};
pub use standing::Stands;
pub use told::{RestsOn, Told, told};
pub use writeup::{LeftOut, Proof, Unprinted, Wanted, Written, proof, writeup};

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
    /// Its pieces whose records could be read, by folder name.
    pub pieces: Vec<Workpiece>,
    /// The tables of the trade, with the workshop's own rows laid over them.
    pub trade: Arc<Trade>,
    /// The theme that it takes.
    pub theme: ThemeChoice,
    /// The languages that it writes in.
    pub languages: Languages,
    /// What is wrong or missing, the most serious first.
    pub diagnostics: Vec<Diagnostic>,
    /// The day of the inspection.
    pub today: NaiveDate,
}

impl Survey {
    /// The piece in this folder, where its record could be read.
    pub fn piece(&self, folder: &str) -> Option<&Workpiece> {
        self.pieces.iter().find(|workpiece| workpiece.piece.folder == folder)
    }

    /// Whether a file of a piece has a mistake that makes its papers wrong.
    ///
    /// A row of its record that could not be read is none as long as it is not sealed: the papers say that they lack it.
    pub fn unsound(&self, piece: &Piece) -> bool {
        let record = [Some(piece.record_path()), piece.set_record_path()];
        let bears_lacks = piece.seals.is_empty() && piece.lacks_rows_alone();
        let lack = |found: &Diagnostic| {
            bears_lacks
                && record.iter().flatten().any(|path| *path == found.place.path)
                && code::CODES.contains(&found.code)
        };
        let mistakes = self.diagnostics.iter().filter(|found| found.rank() == Rank::Mistake);
        mistakes.filter(|found| piece.is_read_from(&found.place)).any(|found| !lack(found))
    }

    /// Whether a piece may be handed over.
    pub fn outlook(&self, workpiece: &Workpiece) -> Outlook {
        let piece = &workpiece.piece;
        let mistakes = self.diagnostics.iter().filter(|found| inspect::keeps_from_sealing(found));
        let mistakes = mistakes
            .filter(|found| found.place.piece().is_none() || piece.is_read_from(&found.place))
            .count();
        inspect::outlook(&Case::of(&self.folder, workpiece, &self.trade, self.today), mistakes)
    }
}

/// Which papers are printed, of those that have a form to print.
#[derive(Clone, Copy)]
pub enum Printing<'a> {
    /// Every one.
    All,
    /// Those that were printed before from the same record, and others as long as this says so: it is asked before
    /// each, since setting one takes its time. The rest wait.
    While(&'a (dyn Fn() -> bool + Sync)),
    /// Those that were printed before from the same record. Others stay as they stand, and no page leads to one that does
    /// not.
    Known,
}

impl Printing<'_> {
    /// Whether one more may be printed.
    fn goes_on(self) -> bool {
        match self {
            Printing::All => true,
            Printing::While(goes_on) => goes_on(),
            Printing::Known => false,
        }
    }

    /// Whether what is not printed now is to be printed soon.
    fn is_awaited(self) -> bool {
        matches!(self, Printing::While(_))
    }

    /// Those that were printed before from the same record; the others wait.
    pub const LATER: Printing<'static> = Printing::While(&|| false);
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
    /// The archive's database could not be made.
    #[error("the archive's database cannot be made")]
    Archive(#[from] crate::archive::ArchiveFault),
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

/// Reads and inspects a workshop; a photograph that the darkroom does not know is decoded to see that it can be.
pub fn survey(tree: &Tree, today: NaiveDate, progress: &dyn Progress) -> Survey {
    let darkroom = Darkroom::reading(tree.root());
    let read = ReadWorkshop::of(tree);
    let drafts = read.drafts(|piece| workroom::digests(tree, &darkroom, piece));
    let room = Workroom::new(tree, &darkroom, settings(read.folder.workshop.as_ref()));
    let looked = read.inspected(drafts, &room, |_| Handling::Look, today, progress);
    looked.expect("looking writes nothing that could fail").0
}

/// Where a piece's papers for its buyer are: nobody guesses the place without the secret.
fn buyers_folder(context: &PieceContext<'_>, secret: &Secret) -> BuyersFolder {
    let name = secret.folder(&context.slug(), context.folder());
    BuyersFolder { address: context.house().papers_address(&name), folder: format!("buyers/{name}") }
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
