//! What the public sees: the front page, the pages of each room, and a page a piece.
//!
//! No buyer, cost, earning, source of a piece, lesson or private note has a place in these types.

mod ask;
mod card;
mod done;
mod front;
mod head;
mod linked;
mod piece;

pub use ask::{Ask, WayToBuy};
pub use card::{Card, CardPicture, Offer, ShopState, address, card};
pub use done::{DayDone, DoneLine, Finding};
pub use front::{Neighbours, Order, Room, RoomLink, RoomPage, ShowroomFront, ShowroomRoom, front};
pub use head::{Head, HeadPicture, MissingPage, feed_day, missing_page};
pub use piece::{LinkView, ShowroomPiece, piece_page};
