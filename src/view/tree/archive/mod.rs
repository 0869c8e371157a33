//! What the workshop itself sees: everything, across all pieces.
//!
//! `piece` is the page of one piece; `entry` is what the pages across pieces tell of it by that, and everything else
//! that they tell comes out of the archive's answers, a page a file: `front`, `recipes`, `times`, `faults`, `stock`, `year`,
//! made from `across` and put together by `pages`.

mod across;
mod after;
mod completeness;
mod coverage;
mod day_book;
mod entry;
mod faults;
mod filter;
mod front;
mod ledger;
mod lesson;
mod linked;
mod made_of;
mod pages;
mod piece;
mod post;
mod receipts;
mod recipes;
mod reckoning;
mod stock;
mod times;
mod year;

pub use across::PieceLink;
pub use after::AfterRow;
pub use completeness::{AdditionRow, CompletenessView, HeadingRow};
pub use coverage::{CoverageRow, CoverageView};
pub use entry::{ArchiveEntry, ArchiveRow, Thumb, entry, from_before};
pub use faults::{FaultRow, FaultsOfKind, FaultsPage, RemedyRow};
pub use filter::Filter;
pub use front::{ArchiveFront, DueGroup, DueRow};
pub use ledger::{LedgerLine, LedgerSheet, TaskShare};
pub use lesson::LessonRow;
pub use linked::linked;
pub use pages::{ArchivePages, pages};
pub use piece::{ArchivePiece, piece_page};
pub use post::{PostKit, PostPicture, PostText, post_kit};
pub use receipts::{DeliveryNote, ReceiptSheet, ReceiptsPage, receipts_page};
pub use recipes::{RecipeCard, RecipesPage, TimberRecipes};
pub use reckoning::Reckoned;
pub use stock::{Level, StockPage, StockRow, UsedRow};
pub use times::{Bar, Scale, SpreadRow, TaskRow, TimesPage, WorkLine};
pub use year::{MoneyLine, Month, UnsoldRow, YearLink, YearPage};

/// The address of a piece's page, from the archive's root, by its number.
pub fn address(number: &str) -> String {
    format!("pieces/{}/index.html", crate::view::context::slug(number))
}
