//! What a record leaves unsaid that a computation needs; `claims/missing.rs` puts it into a message.

use super::climate::ClimateError;

/// Why a figure cannot be given for a part or a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum MissingInput {
    /// No timber is recorded, or `unknown`.
    Timber,
    /// The timber is not in the table.
    OtherTimber(String),
    /// The table has no movement for the timber.
    MovementOf(String),
    /// The table has no weight for the timber.
    DensityOf(String),
    /// The table has no stiffness for the timber.
    TimberStiffness(String),
    /// The board under a veneer, or of a panel, is not recorded.
    Board,
    /// The board is not in the table.
    OtherBoard(String),
    /// The table has no stiffness for the board at its thickness.
    StiffnessOf(String),
    /// The table has no creep for the board.
    CreepOf(String),
    /// A metal or stone part does not say which.
    Material,
    /// The material is not in the table.
    OtherMaterial(String),
    /// Cloth, cord and leather.
    Soft,
    /// How it is built is not recorded.
    Build,
    /// A dimension is not recorded.
    Dimension(&'static str),
    /// It has the outline of a box, and nothing says how thick its walls are.
    Wall,
    /// Which way the grain runs is not recorded.
    Grain,
    /// The room's air is outside what the equation holds for.
    Room(ClimateError),
    /// No part could be weighed.
    Parts,
    /// Too little of the piece could be weighed to speak of the whole.
    Coverage,
    /// The piece's outer size is not recorded.
    Outline,
}

impl From<ClimateError> for MissingInput {
    fn from(why: ClimateError) -> MissingInput {
        MissingInput::Room(why)
    }
}
