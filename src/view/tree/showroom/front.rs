//! The showroom's front page and the rooms behind it: what is for sale first, what was sold apart.

use std::collections::BTreeMap;

use serde::Serialize;

use super::ask::{Ask, WayToBuy, ask, ways};
use super::card::{Card, ShopState};
use super::head::{Head, front_head};
use crate::claim::{Message, says};
use crate::view::context::HouseStyle;

/// How many pieces for sale stand beside the lead piece.
const BESIDE: usize = 2;

/// How many more pieces for sale stand on one page.
const FOR_SALE: usize = 24;

/// How many pieces of another room the front page shows.
const OTHERS: usize = 12;

/// How many pieces of a year, or of those in the workshop, stand on one page.
const ON_A_PAGE: usize = 48;

/// The pieces in the order of the showroom: those for sale, the lead piece first and then the newest; those in the workshop;
/// those that were sold, the latest first.
#[derive(Debug, Default)]
pub struct Order {
    cards: Vec<Card>,
    /// The place of each, by the address of its page.
    places: BTreeMap<String, usize>,
}

/// The pieces before and after one in the order of the showroom.
#[derive(Debug, Clone, Copy, Default)]
pub struct Neighbours<'a> {
    /// The one before.
    pub before: Option<&'a Card>,
    /// The one after.
    pub after: Option<&'a Card>,
}

impl Order {
    /// Puts cards in order.
    pub fn of(mut cards: Vec<Card>, house: &HouseStyle) -> Order {
        order(&mut cards, house);
        let places = cards.iter().enumerate().map(|(place, card)| (card.href.clone(), place));
        Order { places: places.collect(), cards }
    }

    /// The card of the piece whose page is at this address, and its neighbours; `None` where the public sees no such page.
    pub fn piece(&self, href: &str) -> Option<(&Card, Neighbours<'_>)> {
        let place = *self.places.get(href)?;
        let before = place.checked_sub(1).and_then(|place| self.cards.get(place));
        Some((self.cards.get(place)?, Neighbours { before, after: self.cards.get(place + 1) }))
    }
}

/// Puts cards in the order of the showroom.
fn order(cards: &mut [Card], house: &HouseStyle) {
    let lead = |card: &Card| house.lead().is_some_and(|lead| *lead == *card.number);
    let rank = |card: &Card| match card.offer.state {
        state if state.can_be_asked_for() => 0,
        state if state.is_gone() => 2,
        _ => 1,
    };
    let day = |card: &Card| if card.offer.state.is_gone() { card.gone } else { card.since };
    cards.sort_by(|one, other| {
        let by_rank = rank(one).cmp(&rank(other));
        let led = || if rank(one) == 0 { lead(other).cmp(&lead(one)) } else { std::cmp::Ordering::Equal };
        by_rank
            .then_with(led)
            .then_with(|| day(other).cmp(&day(one)))
            .then_with(|| other.number.cmp(&one.number))
            .then_with(|| other.href.cmp(&one.href))
    });
}

/// The showroom's front page.
#[derive(Debug, Clone, Serialize)]
pub struct ShowroomFront {
    /// What the head of its document says.
    pub head: Head,
    /// The piece that it begins with; none where nothing is for sale.
    pub lead: Option<Card>,
    /// Those beside it.
    pub beside: Vec<Card>,
    /// What else is for sale, what is in the workshop, what was sold; only those that hold anything.
    pub rooms: Vec<Room>,
    /// Whether any piece is shown at all.
    pub any: bool,
    /// How a piece is bought.
    pub how: Vec<WayToBuy>,
    /// How the workshop is asked.
    pub ask: Ask,
}

/// Pieces that stand together.
#[derive(Debug, Clone, Serialize)]
pub struct Room {
    /// Its name in addresses and templates: `for-sale`, `in-the-workshop`, `sold`.
    pub name: &'static str,
    /// Its heading.
    pub heading: String,
    /// How many pieces it holds altogether; on the page of a year, how many of that year.
    pub count: String,
    /// Its pieces on this page.
    pub cards: Vec<Card>,
    /// The pages that it goes on on; empty where all of it is here.
    pub pages: Vec<RoomLink>,
}

/// A link to a page of a room.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoomLink {
    /// Its address, from the root of the showroom.
    pub href: String,
    /// The number of the page, or the year.
    pub label: String,
    /// How many pieces are there; may be empty.
    pub count: String,
    /// Whether it is this page.
    pub current: bool,
}

/// A page of a room, ready to print.
#[derive(Debug, Clone, Serialize)]
pub struct ShowroomRoom {
    /// What the head of its document says.
    pub head: Head,
    /// Its pieces.
    pub room: Room,
}

/// A page of a room, and where it stands.
#[derive(Debug)]
pub struct RoomPage {
    /// Its path in the showroom.
    pub path: String,
    /// What it is called.
    pub title: String,
    /// The page.
    pub page: ShowroomRoom,
}

/// The front page and the pages of its rooms, from the cards of all pieces.
pub fn front(mut cards: Vec<Card>, house: &HouseStyle) -> (ShowroomFront, Vec<RoomPage>) {
    order(&mut cards, house);
    let of = |wanted: fn(ShopState) -> bool| -> Vec<Card> {
        cards.iter().filter(|card| wanted(card.offer.state)).cloned().collect()
    };
    let for_sale = of(ShopState::can_be_asked_for);
    let gone = of(ShopState::is_gone);
    let here = of(|state| state == ShopState::NotForSale);
    let mut rest = for_sale.iter().cloned();
    let lead = rest.next();
    let beside: Vec<Card> = rest.by_ref().take(BESIDE).collect();
    let more: Vec<Card> = rest.collect();

    let mut rooms = Vec::new();
    let mut pages = Vec::new();
    let words = house.words();
    let mut open = |name, heading: Message, cards: Vec<Card>, shelves: Vec<Shelf>, shown: usize| {
        if cards.is_empty() {
            return;
        }
        let count = words.heading(&says!("room-count", count = cards.len()));
        let room = |cards: Vec<Card>, count: &String, pages| Room {
            name,
            heading: words.heading(&heading),
            count: count.clone(),
            cards,
            pages,
        };
        let links = |current: Option<&str>| -> Vec<RoomLink> {
            let link = |shelf: &Shelf| RoomLink {
                href: shelf.path.clone(),
                label: shelf.label.clone(),
                count: shelf.count.clone(),
                current: current == Some(shelf.path.as_str()),
            };
            shelves.iter().map(link).collect()
        };
        for shelf in &shelves {
            if shelf.path == FRONT {
                continue;
            }
            let title = format!("{}, {}", words.heading(&heading), shelf.label);
            let head = front_head(house, &shelf.path, &shelf.cards);
            // A page of a year is about that year alone.
            let counted = if shelf.count.is_empty() { &count } else { &shelf.count };
            let room = room(shelf.cards.clone(), counted, links(Some(&shelf.path)));
            let page = ShowroomRoom { head, room };
            pages.push(RoomPage { path: shelf.path.clone(), title, page });
        }
        let on_front = cards.iter().take(shown).cloned().collect();
        rooms.push(room(on_front, &count, links(Some(FRONT))));
    };
    let numbered = |name: &str, cards: &[Card], first: usize| -> Vec<Shelf> {
        if cards.len() <= first { Vec::new() } else { by_number(name, cards, first, house) }
    };
    let shelves = numbered("for-sale", &more, FOR_SALE);
    open("for-sale", says!("room-more"), more, shelves, FOR_SALE);
    let shelves = numbered("in-the-workshop", &here, OTHERS);
    open("in-the-workshop", says!("room-in-the-workshop"), here, shelves, OTHERS);
    let shelves = if gone.len() <= OTHERS { Vec::new() } else { by_year(&gone, house) };
    open("sold", says!("room-sold"), gone, shelves, OTHERS);

    let front = ShowroomFront {
        head: front_head(house, FRONT, &for_sale),
        lead,
        beside,
        rooms,
        any: !cards.is_empty(),
        how: ways(house),
        ask: ask(house, None),
    };
    (front, pages)
}

/// The path of the front page.
const FRONT: &str = "index.html";

/// Pieces of a room that stand on one page.
struct Shelf {
    path: String,
    label: String,
    count: String,
    cards: Vec<Card>,
}

/// Page after page, of which the front page is the first.
fn by_number(name: &str, cards: &[Card], first: usize, house: &HouseStyle) -> Vec<Shelf> {
    let (front, rest) = cards.split_at(first.min(cards.len()));
    let later = if first == FOR_SALE { FOR_SALE } else { ON_A_PAGE };
    let pages = std::iter::once(front).chain(rest.chunks(later));
    pages
        .zip(1_usize..)
        .map(|(cards, number)| Shelf {
            path: if number == 1 { FRONT.to_owned() } else { format!("{name}-{number}.html") },
            label: house.words().heading(&says!("room-page", number = number)),
            count: String::new(),
            cards: cards.to_vec(),
        })
        .collect()
}

/// A page a year, or several of a full one; the latest first.
fn by_year(cards: &[Card], house: &HouseStyle) -> Vec<Shelf> {
    use chrono::Datelike;
    let year = |card: &Card| card.gone.map(|gone| gone.year());
    let mut shelves = Vec::new();
    for of_year in cards.chunk_by(|one, other| year(one) == year(other)) {
        let (name, said) = match of_year.first().and_then(year) {
            Some(year) => (year.to_string(), year.to_string()),
            None => ("undated".to_owned(), house.words().heading(&says!("room-undated"))),
        };
        let several = of_year.len() > ON_A_PAGE;
        for (cards, number) in of_year.chunks(ON_A_PAGE).zip(1_usize..) {
            let path = match number {
                1 => format!("sold-{name}.html"),
                _ => format!("sold-{name}-{number}.html"),
            };
            let label = if several {
                house.words().heading(&says!("room-year-part", year = said.as_str(), number = number))
            } else {
                said.clone()
            };
            let count = house.words().heading(&says!("room-count", count = cards.len()));
            shelves.push(Shelf { path, label, count, cards: cards.to_vec() });
        }
    }
    shelves
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;
    use chrono::NaiveDate;

    fn made(number: usize, state: ShopState) -> Card {
        let day = |year: usize| NaiveDate::from_ymd_opt(2000 + i32::try_from(year).unwrap(), 5, 1);
        let mut card = Card {
            number: format!("T-{number:03}"),
            href: format!("pieces/t-{number}/index.html"),
            ..Card::default()
        };
        card.offer.state = state;
        card.since = day(number % 20);
        card.gone = card.since.filter(|_| state == ShopState::Sold && number != 13);
        card
    }

    /// The front page with so many pieces for sale, in the workshop and sold, and the number of each piece on any page.
    fn shop(workshop: &str, counts: [usize; 3]) -> (ShowroomFront, Vec<RoomPage>, Vec<String>) {
        let states = [ShopState::ForSale, ShopState::NotForSale, ShopState::Sold];
        let mut number = 0;
        let cards: Vec<Card> = counts
            .iter()
            .zip(states)
            .flat_map(|(count, state)| vec![state; *count])
            .map(|state| {
                number += 1;
                made(number, state)
            })
            .collect();
        let (front, pages) = shown("", workshop, |context| front(cards, context.house()));
        let first = front.lead.iter().chain(&front.beside);
        let on_front = first.chain(front.rooms.iter().flat_map(|room| &room.cards));
        let behind = pages.iter().flat_map(|page| &page.page.room.cards);
        let mut numbers: Vec<String> = on_front.chain(behind).map(|card| card.number.clone()).collect();
        numbers.sort();
        numbers.dedup();
        (front, pages, numbers)
    }

    #[test]
    fn every_piece_is_shown_somewhere_however_many_there_are() {
        for counts in [
            [0, 0, 0],
            [1, 0, 0],
            [4, 0, 0],
            [0, 0, 1],
            [60, 0, 0],
            [3, 0, 397],
            [100, 200, 100],
            [27, 13, 12],
        ] {
            let (front, pages, numbers) = shop("", counts);
            assert_eq!(numbers.len(), counts.iter().sum::<usize>(), "{counts:?}");
            assert_eq!(front.any, counts != [0, 0, 0]);
            let mut paths: Vec<&str> = pages.iter().map(|page| page.path.as_str()).collect();
            let all = paths.len();
            paths.sort_unstable();
            paths.dedup();
            assert_eq!(paths.len(), all, "no page stands twice");
            for page in &pages {
                assert!(page.page.room.cards.len() <= ON_A_PAGE);
                assert_eq!(
                    page.page.room.pages.iter().filter(|link| link.current).count(),
                    1,
                    "{}",
                    page.path
                );
            }
            for link in front.rooms.iter().flat_map(|room| &room.pages) {
                assert!(link.href == FRONT || paths.contains(&link.href.as_str()), "{}", link.href);
            }
        }
    }

    #[test]
    fn a_page_counts_what_its_heading_names() {
        let (front, pages, _) = shop("", [40, 0, 30]);
        let counts: Vec<&str> = front.rooms.iter().map(|room| room.count.as_str()).collect();
        assert_eq!(counts, ["37 pieces", "30 pieces"]);
        for page in pages {
            let room = page.page.room;
            let count = match room.name {
                "for-sale" => "37 pieces".to_owned(),
                _ if room.cards.len() == 1 => "1 piece".to_owned(),
                _ => format!("{} pieces", room.cards.len()),
            };
            assert_eq!(room.count, count, "{}", page.path);
        }
    }

    #[test]
    fn the_newest_leads_and_what_was_sold_stands_apart() {
        let (front, _, _) = shop("", [5, 0, 3]);
        assert_eq!(front.lead.unwrap().number, "T-005");
        assert_eq!(front.beside.len(), 2);
        let names: Vec<&str> = front.rooms.iter().map(|room| room.name).collect();
        assert_eq!(names, ["for-sale", "sold"]);
    }

    #[test]
    fn a_lead_is_chosen_while_it_is_for_sale() {
        let lead = |number: &str, counts| {
            shop(&format!("lead = \"{number}\""), counts).0.lead.map(|card| card.number)
        };
        assert_eq!(lead("T-002", [5, 0, 3]).as_deref(), Some("T-002"));
        assert_eq!(lead("T-007", [5, 0, 3]).as_deref(), Some("T-005"), "it is sold");
        assert_eq!(lead("X-1", [5, 0, 3]).as_deref(), Some("T-005"), "nobody has it");
        assert_eq!(lead("T-001", [0, 0, 3]), None);
    }

    #[test]
    fn each_has_its_neighbours_in_the_order_of_the_front() {
        let cards = vec![made(1, ShopState::Sold), made(2, ShopState::ForSale), made(3, ShopState::ForSale)];
        let order = shown("", "", |context| Order::of(cards, context.house()));
        let near = |href: &str| {
            let Neighbours { before, after } = order.piece(href)?.1;
            Some((before.map(|card| card.number.as_str()), after.map(|card| card.number.as_str())))
        };
        assert_eq!(near("pieces/t-3/index.html"), Some((None, Some("T-002"))));
        assert_eq!(near("pieces/t-2/index.html"), Some((Some("T-003"), Some("T-001"))));
        assert_eq!(near("pieces/t-9/index.html"), None);
    }
}
