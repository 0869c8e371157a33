//! Words: claims, quantities and what the record says in words of its own, in the language of a paper.
//!
//! Every word that a reader sees stands in a message of `<language>/*.ftl`; nothing here knows one.

mod catalogue;
mod day;
mod language;
mod languages;
mod layer;
mod number;
mod quantity;
mod sentence;
mod years;

pub use catalogue::{Sentence, Words};
pub use language::{Language, Unsaid};
pub use languages::{CODES, Languages};
pub(crate) use number::letter;
pub(crate) use sentence::{clause, sentence, shortened};

pub(crate) use crate::unit::capital;
