//! The trees that are written, one for each reader: which papers a reader gets, and the front pages to them.

pub mod archive;
pub mod buyer;
pub mod showroom;
