//! A weight that is one figure of a reckoning.

use crate::unit::{Mass, MassSpan};
use crate::words::Words;

/// So many kilograms, as they were said or measured.
pub(super) fn weight(words: &Words, kg: f64) -> String {
    let mass = Mass::from_kg(kg).unwrap_or_default();
    words.mass(MassSpan::between(mass, mass))
}
