//! Weights and what bears them: masses, lifting, standing, shelves.

pub(super) mod covered;
pub(super) mod lifting;
pub(super) mod mass;
pub(super) mod part;
pub(super) mod plate;
pub(super) mod shelf;
pub(super) mod stability;
