//! What was done to surfaces: layers, compatibility, abrasives, hardening, what faces bear, quantities, and the days to keep.

pub mod abrasion;
pub mod compatibility;
pub mod coverage;
pub mod cure;
pub mod face;
pub(super) mod stratigraphy;
pub(super) mod surface;
pub(super) mod upkeep;
