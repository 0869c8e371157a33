//! Why a figure is what it is.

use serde::Serialize;

/// One figure, how it was reckoned, and what that rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Reckoning {
    /// The figure, as printed.
    pub figure: String,
    /// How it was reckoned, with its inputs.
    pub how: String,
    /// Title, edition and table; or that it is our own reckoning or common practice.
    pub source: String,
}
