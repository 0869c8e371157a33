//! Looking at what was written: a server for this computer alone, and the picker of points on photographs.
//!
//! - Written files are served as they are, except that pages get a script that refreshes them ([`Viewing`]).
//! - Reading and writing the workshop again when its files change is for the caller, who then [`Viewing::show`]s what
//!   came of it.
//! - What is picked on a photograph is a [`Change`]. It is put into the text of a record by [`added`], which leaves
//!   every other byte as it was, and is written only after it has been shown as a [`Proposal`].
//! - The [`Bench`] page takes new pieces, photographs and lines of day books from a phone, where that was asked for.
//! - The record's page, see `desk`, has forms for all that a record may say, and changes its text in the same way.
//!
//! The viewing hears the loopback address only, the bench page those of the home network. Each answers those who have its
//! key, see `guard`; `door` keeps each of them within bounds. They touch no file themselves.

mod address;
mod answer;
mod asked;
mod bench;
mod change;
mod desk;
mod door;
mod edit;
#[cfg(test)]
mod edit_tests;
mod enlarger;
mod entering;
mod entry;
mod events;
mod forgotten;
mod guard;
mod lines;
mod page;
mod proposal;
mod server;
mod shown;

pub use bench::{Bench, home_addresses, is_at_home};
pub use change::{Change, Mark, Scale, Sent, SentMark, Shape, Unfinished};
pub use edit::{Refused, added};
pub use entering::{Unplaced, entering, marked_read, with_part};
pub use entry::{Entry, Where, entered};
pub use forgotten::forgotten;
pub use lines::{Line, difference};
pub use proposal::Proposal;
pub use server::Viewing;
pub use shown::{
    Judge, Judged, Meant, PairShown, PapersBefore, PhotographShown, PieceShown, Shown, Sight, Todo,
};
