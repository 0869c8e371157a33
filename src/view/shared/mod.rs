//! What several sheets show, each made in one place.

pub(super) mod care_card;
pub(super) mod fact;
pub(super) mod front_page;
pub(super) mod hazards;
pub(super) mod identity;
pub(super) mod lacking;
mod layers_svg;
pub(super) mod link;
pub(super) mod markup;
pub(super) mod photograph;
pub(super) mod reckoning;
pub(super) mod row;
pub(super) mod seal;
pub(super) mod section;
pub(super) mod story;
pub(super) mod summing;
pub(super) mod surface;
pub(super) mod swatch;
