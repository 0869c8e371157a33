//! Why a figure on a paper is what it is, or why there is none.

use serde::Serialize;

/// One figure, how it was reckoned, and what that rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Basis {
    /// The figure, as printed.
    pub figure: String,
    /// How it was reckoned, with its inputs.
    pub how: String,
    /// Title, edition and table; or that it is our own reckoning or common practice.
    pub source: String,
}

/// Something for which no figure can be given, and why.
#[derive(Debug, Clone, Serialize)]
pub struct NoFigure {
    /// What.
    pub name: String,
    /// Why.
    pub why: String,
}
