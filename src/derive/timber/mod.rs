//! Wood and boards: what a part is made of, how far it moves.

pub(super) mod material;
pub(super) mod movement;
