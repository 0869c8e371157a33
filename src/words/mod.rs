//! Words: claims, quantities and what the record says in words of its own, in plain British English.
//!
//! Rounding happens here and nowhere else.

mod catalogue;
mod day;
mod language;
mod number;
mod sentence;
mod unit_format;
mod vocabulary;

pub use catalogue::{Sentence, Words};
pub(crate) use day::{day, day_of_year, days, month};
pub use language::{Language, Unsaid};
pub(crate) use number::{hours, letter, months, span, trimmed};
pub(crate) use sentence::{count, list, said, sentence, shortened, text};
pub(crate) use unit_format::UnitFormat;

pub(crate) use crate::unit::capital;
pub(crate) use vocabulary::{
    build, confidence, era, held, layer, level, outcome, severity, stage, standing, standing_meaning,
    undoable, why_undone,
};
