//! Wood and boards in a room: its air, what a part is made of, how far it moves.

pub(super) mod climate;
pub(super) mod material;
pub(super) mod movement;
