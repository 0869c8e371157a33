//! What a record leaves unsaid that a computation needs, in words for a paper.

/// Why a figure cannot be given for a part or a piece; completes "No figure is given: …".
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MissingInput {
    /// No timber is recorded, or `unknown`.
    #[error("its timber is not known")]
    Timber,
    /// The timber is not in the table.
    #[error("its timber, {0}, is not in our table")]
    OtherTimber(String),
    /// The table has no movement for the timber.
    #[error("no figures for the movement of {0} were found")]
    MovementOf(String),
    /// The table has no weight for the timber.
    #[error("how heavy {0} is, is not known")]
    DensityOf(String),
    /// The table has no stiffness for the timber.
    #[error("how stiff {0} is, is not known")]
    TimberStiffness(String),
    /// The board under a veneer, or of a panel, is not recorded.
    #[error("what board it is, is not recorded")]
    Board,
    /// The board is not in the table.
    #[error("its board, {0}, is not in our table")]
    OtherBoard(String),
    /// The table has no stiffness for the board at its thickness.
    #[error("no stiffness of {0} of this thickness was found")]
    StiffnessOf(String),
    /// The table has no creep for the board.
    #[error("how {0} gives way over the years was not found")]
    CreepOf(String),
    /// A metal or stone part does not say which.
    #[error("its material is not recorded")]
    Material,
    /// The material is not in the table.
    #[error("its material, {0}, is not in our table")]
    OtherMaterial(String),
    /// Cloth, cord and leather.
    #[error("cloth, cord and leather are not reckoned")]
    Soft,
    /// How it is built is not recorded.
    #[error("how it is built is not recorded")]
    Build,
    /// A dimension is not recorded.
    #[error("its {0} is not recorded")]
    Dimension(&'static str),
    /// It has the outline of a box, and nothing says how thick its walls are.
    #[error("it has the outline of a box, and how thick its walls are is not recorded")]
    Wall,
    /// Which way the grain runs is not recorded.
    #[error("which way its grain runs is not recorded")]
    Grain,
    /// The room's air is outside what the equation holds for.
    #[error("{0}")]
    Room(#[from] super::climate::ClimateError),
    /// No part could be weighed.
    #[error("of no part both size and material are known")]
    Parts,
    /// Too little of the piece could be weighed to speak of the whole.
    #[error("the parts of which size and material are known may be less than nine tenths of it")]
    Coverage,
    /// The piece's outer size is not recorded.
    #[error("its outer size is not recorded")]
    Outline,
}
