//! What the workshop itself sees: everything, across all pieces.

mod completeness;
mod coverage;
mod day_book;
mod front;
mod ledger;
mod lesson;
mod piece;
mod post;
mod reckoning;

pub use completeness::{AdditionRow, CompletenessView, HeadingRow};
pub use coverage::{CoverageRow, CoverageView};
pub use front::{
    ArchiveEntry, ArchiveFront, ArchiveRow, ColourRow, StockRow, UsedIn, entry, from_before, front,
};
pub use ledger::{LedgerLine, LedgerSheet, TaskShare};
pub use lesson::LessonRow;
pub use piece::{ArchivePiece, piece_page};
pub use post::{PostKit, PostPicture, PostText, post_kit};
pub use reckoning::Reckoned;
