//! Hazards that a record implies, and what the words of tests come to.

pub(super) mod implied;
mod mention;
pub(super) mod old_coat;
pub(super) mod result;
pub(super) mod tested;
mod told;
