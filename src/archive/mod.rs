//! The archive that answers: typed entries of every piece, one SQLite database of them, and the questions that it is
//! asked.
//!
//! Entries are made from facts and not from pages, so that the archive knows what a number means. The same workshop
//! makes the same rows, however it came about: a piece's number follows from its folder, and rows stand in the order of
//! the record. Nothing here touches the disk or asks the time.
//!
//! One more thing to keep of a piece is a type in `entry/`, its line in [`entry::TABLES`], and what makes it in
//! `entries.rs`.

mod database;
mod entries;
pub mod entry;
mod index;
mod question;
mod shared;
mod table;
#[cfg(test)]
mod tests;

/// The database within the archive's folder.
pub const FILE: &str = "archive.db";

pub use database::{Archive, ArchiveFault, Brought, VERSION, documentation};
pub use entries::{Beside, Entries, Line};
pub use index::SearchScript;
pub use question::*;
pub use shared::{Shared, UNSOLD_AFTER_DAYS};
