//! Which photographs a reader may see.

use crate::derive::Photograph;

/// Which photographs a reader may see.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sees {
    /// All but the private ones.
    Public,
    /// All.
    Everything,
}

impl Sees {
    /// Whether a reader sees this one.
    pub(super) fn photograph(self, photograph: &Photograph) -> bool {
        self == Sees::Everything || !photograph.private
    }
}
