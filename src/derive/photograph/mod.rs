//! Photographs: which there are, how they lie on each other, their marks, the colours measured on them.

pub(super) mod alignment;
pub mod colour;
mod eigen;
pub(super) mod facts;
pub(super) mod listing;
pub(super) mod marks;
pub(super) mod opened;
pub(super) mod patch;
pub mod swatch;
