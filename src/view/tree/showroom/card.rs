//! One piece in a list of the showroom.

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use crate::claim::says;
use crate::derive::OfferState;
use crate::view::context::PieceContext;
use crate::view::shared::identity;
use crate::view::shared::photograph::{Gallery, PhotoView, PictureFile, Sees, SharePicture};
use crate::words;

/// One piece in a list of the showroom; it can be kept for a day on which its own page cannot be made.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Card {
    /// Address of its page, from the root of the showroom.
    pub href: String,
    /// Folder of its pictures, from there, with a slash at its end.
    pub folder: String,
    /// What it is.
    pub title: String,
    /// The workshop's number for it.
    pub number: String,
    /// Type of piece.
    pub kind: String,
    /// Years of making; empty where they are not known.
    pub made: String,
    /// The piece in a sentence.
    pub summary: String,
    /// How far the work went.
    pub level: String,
    /// Its size; may be empty.
    pub size: String,
    /// Whether it can be had.
    pub offer: Offer,
    /// The photograph that stands for it.
    pub cover: Option<CardPicture>,
    /// The picture for sharing; none without a photograph.
    pub share: Option<SharePicture>,
    /// Since when it can be had, or the day of its last work.
    pub since: Option<NaiveDate>,
    /// The day it left.
    pub gone: Option<NaiveDate>,
}

/// A photograph in a list.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct CardPicture {
    /// Developed sizes, widest first, from the piece's own folder; empty where it cannot be shown.
    pub files: Vec<PictureFile>,
    /// The smallest size.
    pub src: String,
    /// Width of the widest size in pixels.
    pub width: u32,
    /// Height of the widest size in pixels.
    pub height: u32,
    /// Whether it is taller than wide.
    pub upright: bool,
    /// What it shows.
    pub alt: String,
}

/// Whether a piece can be had.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Offer {
    /// The same as a word for a theme's marks.
    pub state: ShopState,
    /// The same in words.
    pub words: String,
    /// The price asked; empty where none is or where the piece has gone.
    pub price: String,
    /// The month in which it was sold, in words; empty where it was not, or nobody knows.
    pub month: String,
}

/// Whether a piece can be had, as a word.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ShopState {
    /// For the price asked.
    ForSale,
    /// It is kept for somebody.
    Reserved,
    /// It is sold and still here.
    ToBeCollected,
    /// It has left.
    Sold,
    /// It is in the workshop, and nothing says that it can be had.
    #[default]
    NotForSale,
}

impl ShopState {
    /// Whether it still has a price.
    pub(super) fn can_be_asked_for(self) -> bool {
        matches!(self, ShopState::ForSale | ShopState::Reserved)
    }

    /// Whether it is sold.
    pub(super) fn is_gone(self) -> bool {
        matches!(self, ShopState::Sold | ShopState::ToBeCollected)
    }
}

/// The address of a piece's page, from the root of the showroom.
pub fn address(context: &PieceContext<'_>) -> String {
    format!("pieces/{}/index.html", context.slug())
}

/// One piece's card.
pub fn card(context: &PieceContext<'_>) -> Card {
    let (record, gallery) = (context.record, Gallery::of(context, Sees::Public));
    let folder = format!("pieces/{}/", context.slug());
    Card {
        href: address(context),
        title: record.title.to_string(),
        number: record.number.to_string(),
        kind: words::capital(&identity::kind(context)),
        made: record
            .made
            .as_ref()
            .map_or(String::new(), |made| words::capital(&context.house.words().years(made))),
        summary: record.summary.as_ref().map_or(String::new(), |summary| words::sentence(summary)),
        level: record.level.as_ref().map_or(String::new(), |_| identity::level(context).0.to_owned()),
        size: record.size.as_ref().map_or(String::new(), |size| {
            context.house.words().lengths(&[size.width.value, size.depth.value, size.height.value])
        }),
        offer: offer(context),
        cover: gallery.cover().filter(|cover| cover.fault.is_empty()).map(picture),
        share: gallery.share().map(|cut| SharePicture::of(&cut, &folder)),
        since: record.for_sale_since.as_ref().map(|since| since.value).or_else(|| context.last_day()),
        gone: context.piece.handed_over(),
        folder,
    }
}

fn picture(view: PhotoView) -> CardPicture {
    CardPicture {
        src: view.files.last().map_or(String::new(), |file| file.src.clone()),
        files: view.files,
        width: view.width,
        height: view.height,
        upright: view.upright,
        alt: view.alt,
    }
}

pub(super) fn offer(context: &PieceContext<'_>) -> Offer {
    let found = context.offer();
    let state = match found.state {
        OfferState::ForSale => ShopState::ForSale,
        OfferState::Reserved => ShopState::Reserved,
        OfferState::ToBeCollected => ShopState::ToBeCollected,
        OfferState::Sold => ShopState::Sold,
        OfferState::NotForSale => ShopState::NotForSale,
    };
    let sold = context.piece.handed_over().filter(|_| state == ShopState::Sold);
    Offer {
        state,
        words: context.house.words().heading(&found.claim.message),
        price: found.asking.map_or(String::new(), |asking| context.house.words().price(asking)),
        month: sold.map_or(String::new(), |on| {
            context.house.words().heading(&says!("sold-in", month = crate::claim::Value::Month(on)))
        }),
    }
}
