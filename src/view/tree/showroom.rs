//! What the public sees.
//!
//! No buyer, cost, earning, source of a piece, lesson or private note has a place in these types.

use serde::Serialize;
use serde_json::Value;

use crate::derive::OfferState;
use crate::view::context::PieceContext;
use crate::view::shared::front_page::{KnowLine, know};
use crate::view::shared::photograph::PhotoView;
use crate::view::shared::seal::{SealFor, SealView, seal_view};
use crate::view::sheet::build_record::BuildRecord;

/// One piece on the front page.
#[derive(Debug, Clone, Serialize)]
pub struct Card {
    /// Address of its page, from the front page.
    pub href: String,
    /// Folder of its pictures, from the front page, with a slash at its end.
    pub folder: String,
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// Type of piece.
    pub kind: String,
    /// Years of making.
    pub made: String,
    /// The piece in a sentence.
    pub summary: String,
    /// How far the work went.
    pub level: String,
    /// Whether it can be had.
    pub offer: Offer,
    /// The photograph that stands for it.
    pub cover: Option<PhotoView>,
}

/// Whether a piece can be had.
#[derive(Debug, Clone, Serialize)]
pub struct Offer {
    /// `for-sale`, `reserved`, `to-be-collected`, `sold` or `not-for-sale`, for a theme's marks.
    pub state: &'static str,
    /// The same in words.
    pub words: String,
    /// The price asked; empty where none is or where the piece has gone.
    pub price: String,
}

/// The showroom's front page.
#[derive(Debug, Clone, Serialize)]
pub struct ShowroomFront {
    /// A [`Card`] a piece, in the order of their numbers, latest first.
    pub cards: Vec<Value>,
}

/// One piece's page in the showroom.
#[derive(Debug, Clone, Serialize)]
pub struct ShowroomPiece<'a> {
    /// The build record.
    pub record: &'a BuildRecord,
    /// Whether it can be had.
    pub offer: Offer,
    /// What to know before buying, the worst first.
    pub know: Vec<KnowLine>,
    /// The seal, and what changed since.
    pub seal: SealView,
}

/// The showroom's front page, from the cards of its pieces.
pub fn front(mut cards: Vec<Value>) -> ShowroomFront {
    cards.reverse();
    ShowroomFront { cards }
}

/// One piece's page for the public, from the build record that its buyer gets too.
pub fn piece_page<'a>(context: &PieceContext<'_>, record: &'a BuildRecord) -> ShowroomPiece<'a> {
    ShowroomPiece {
        record,
        offer: offer(context),
        know: know(context),
        seal: seal_view(context, SealFor::Public),
    }
}

/// One piece's card on the front page.
pub fn card(page: &ShowroomPiece<'_>, slug: &str) -> Card {
    let record = &page.record;
    Card {
        href: format!("pieces/{slug}/index.html"),
        folder: format!("pieces/{slug}/"),
        title: record.title.clone(),
        number: record.number.clone(),
        kind: record.kind.clone(),
        made: record.made.clone(),
        summary: record.summary.clone(),
        level: record.level.clone(),
        offer: page.offer.clone(),
        cover: record.cover.clone(),
    }
}

fn offer(context: &PieceContext<'_>) -> Offer {
    let found = context.offer();
    Offer {
        state: match found.state {
            OfferState::ForSale => "for-sale",
            OfferState::Reserved => "reserved",
            OfferState::ToBeCollected => "to-be-collected",
            OfferState::Sold => "sold",
            OfferState::NotForSale => "not-for-sale",
        },
        words: context.house.words().heading(&found.claim.message),
        price: found.asking.map_or(String::new(), |asking| context.house.units.money(asking)),
    }
}
