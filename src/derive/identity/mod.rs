//! What the piece is and how much of it is as first made: dates, standings, shares, and how much its record tells.

pub(super) mod completeness;
pub mod dating;
pub(super) mod level;
pub(super) mod originality;
pub(super) mod standing;
