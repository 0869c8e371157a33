//! What the public sees.
//!
//! No buyer, cost, earning, source of a piece, lesson or private note has a place in these types.

use serde::Serialize;

use super::Source;
use super::amendments::{SealFor, SealView, seal_view};
use super::build_record::{BuildRecord, build_record};
use super::picture::PhotoView;
use super::shown::Sees;

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
    /// `for-sale`, `gone` or `not-for-sale`, for a theme's marks.
    pub state: &'static str,
    /// The same in words.
    pub words: String,
    /// The price asked; empty where none is or where the piece has gone.
    pub price: String,
}

/// The showroom's front page.
#[derive(Debug, Clone, Serialize)]
pub struct Front {
    /// The pieces, in the order of their numbers, latest first.
    pub cards: Vec<Card>,
}

/// One piece's page in the showroom.
#[derive(Debug, Clone, Serialize)]
pub struct PiecePage {
    /// The build record.
    pub record: BuildRecord,
    /// Whether it can be had.
    pub offer: Offer,
    /// The seal, and what changed since.
    pub seal: SealView,
}

/// One piece's page for the public.
pub(super) fn piece_page(source: &Source<'_>) -> PiecePage {
    PiecePage {
        record: build_record(source, Sees::Public),
        offer: offer(source),
        seal: seal_view(source, SealFor::Public),
    }
}

/// One piece's card.
pub(super) fn card(page: &PiecePage, slug: &str) -> Card {
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

fn offer(source: &Source<'_>) -> Offer {
    let gone = source.piece.handed_over().is_some();
    match (&source.record.asking, gone) {
        (_, true) => Offer { state: "gone", words: "Handed over".to_owned(), price: String::new() },
        (Some(asking), false) => Offer {
            state: "for-sale",
            words: "To be had".to_owned(),
            price: source.house.quantities.money(asking.value),
        },
        (None, false) => {
            Offer { state: "not-for-sale", words: "In the workshop".to_owned(), price: String::new() }
        }
    }
}
