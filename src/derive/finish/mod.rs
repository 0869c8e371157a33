//! What was done to surfaces: layers, compatibility, abrasives, hardening, quantities, and the days to keep.

pub mod abrasion;
pub mod compatibility;
pub mod coverage;
pub mod cure;
pub(super) mod stratigraphy;
pub(super) mod surface;
pub(super) mod upkeep;
