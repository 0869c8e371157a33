//! What the head of a showroom's page says to those who do not read the page itself.

use chrono::NaiveDate;
use serde::Serialize;

use super::card::Card;
use super::linked::{item_list, sound_json};
use crate::view::context::HouseStyle;
use crate::view::shared::photograph::SharePicture;

/// What the head of a page says of it to search engines and to those whom a link to it is sent.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Head {
    /// Its whole address; empty where the showroom has none.
    pub canonical: String,
    /// The picture that stands for it; none where the showroom has no address or the page no photograph.
    pub picture: Option<HeadPicture>,
    /// Whether there is a feed.
    pub feed: bool,
    /// What it is about as linked data, to stand in a script of that kind; empty where there is nothing to say.
    pub linked_html: String,
}

/// A picture by its whole address.
#[derive(Debug, Clone, Serialize)]
pub struct HeadPicture {
    /// Its whole address.
    pub url: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// What it shows.
    pub alt: String,
}

/// The page for addresses at which nothing stands. It may be shown at any depth, so its links are whole paths.
#[derive(Debug, Clone, Serialize)]
pub struct MissingPage {
    /// What the head of its document says: nothing, since it has no address of its own.
    pub head: Head,
}

/// The page for lost addresses, and the path of the showroom's folder on its host.
pub fn missing_page(house: &HouseStyle) -> (MissingPage, String) {
    let root = house.showroom().map_or("/", |address| address.path()).to_owned();
    (MissingPage { head: Head::default() }, root)
}

/// The day that a feed gives for a piece; none where the record names no day, so that it stands in none.
pub fn feed_day(card: &Card) -> Option<NaiveDate> {
    card.since.filter(|_| card.offer.state.can_be_asked_for())
}

/// The head of a page at this path of the showroom.
pub(super) fn head(house: &HouseStyle, path: &str, picture: Option<&SharePicture>) -> Head {
    let Some(address) = house.showroom() else { return Head::default() };
    let picture = picture.map(|share| HeadPicture {
        url: address.of(&share.path),
        width: share.width,
        height: share.height,
        alt: share.alt.clone(),
    });
    Head { canonical: address.of(path), picture, feed: true, linked_html: String::new() }
}

/// The head of the front page, or of a page of a room: the first of its pieces that has a picture stands for it.
pub(super) fn front_head(house: &HouseStyle, path: &str, cards: &[Card]) -> Head {
    let picture = cards.iter().find_map(|card| card.share.as_ref());
    let list = house.showroom().filter(|_| !cards.is_empty()).map(|address| item_list(cards, address));
    let linked_html = list.map_or(String::new(), |list| sound_json(&list));
    Head { linked_html, ..head(house, path, picture) }
}
