//! Places on a photograph, as fractions of the upright picture.

/// A number from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Fraction(f64);

impl Fraction {
    /// A fraction; `None` outside `0 <= value <= 1`.
    pub fn new(value: f64) -> Option<Fraction> {
        (0.0..=1.0).contains(&value).then_some(Fraction(value))
    }

    /// The number itself.
    pub fn value(self) -> f64 {
        self.0
    }
}

/// A point on the upright photograph; the origin is its top left corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Fraction of the width.
    pub x: Fraction,
    /// Fraction of the height.
    pub y: Fraction,
}

/// An upright rectangle on the upright photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rectangle {
    /// The top left corner.
    pub corner: Point,
    /// Fraction of the width.
    pub width: Fraction,
    /// Fraction of the height.
    pub height: Fraction,
}
