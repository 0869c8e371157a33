//! Quantities: lengths, masses, moisture, money, hours, fractions of a picture, years of making; fingerprints; capitals;
//! characters that nobody sees; lines of a width; the one form of words; names that a text mentions; names of months and
//! days, numbers in letters.
//!
//! Units live in the types here; rounding and printing happen in the view.

mod area;
pub mod calendar;
mod capital;
pub mod edtf;
mod fingerprint;
pub mod fold;
mod fraction;
pub mod legible;
mod length;
mod lines;
mod mass;
pub mod mention;
mod moisture;
mod money;
pub mod number;

pub use area::Area;
pub use capital::capital;
pub use edtf::Edtf;
pub use fingerprint::fingerprint;
pub(crate) use fingerprint::hexadecimal;
pub use fraction::{Fraction, Point, Rectangle};
pub use legible::legible;
pub use length::Length;
pub use lines::{beginning, ending, wrapped};
pub use mass::{GRAVITY, Mass, MassSpan};
pub use moisture::Moisture;
pub use money::{Hours, Money};
