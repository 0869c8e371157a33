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

impl Rectangle {
    /// A rectangle; `None` where it has no width or height, or goes beyond the photograph.
    pub fn new(corner: Point, width: Fraction, height: Fraction) -> Option<Rectangle> {
        // Decimals are not exact in binary: 0.7 and 0.3 may come to a hair above 1.
        let ends = |from: Fraction, size: Fraction| size.0 > 0.0 && from.0 + size.0 <= 1.0 + 1e-9;
        (ends(corner.x, width) && ends(corner.y, height)).then_some(Rectangle { corner, width, height })
    }

    /// Whether it shares some area with another.
    pub fn overlaps(&self, other: &Rectangle) -> bool {
        let apart = |from: Fraction, size: Fraction, other: Fraction, other_size: Fraction| {
            from.0 + size.0 <= other.0 + 1e-9 || other.0 + other_size.0 <= from.0 + 1e-9
        };
        !(apart(self.corner.x, self.width, other.corner.x, other.width)
            || apart(self.corner.y, self.height, other.corner.y, other.height))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Option<Rectangle> {
        let of = |value| Fraction::new(value).expect("a fraction");
        Rectangle::new(Point { x: of(x), y: of(y) }, of(width), of(height))
    }

    #[test]
    fn a_rectangle_lies_on_the_photograph() {
        assert!(rectangle(0.7, 0.9, 0.3, 0.1).is_some());
        assert!(rectangle(0.0, 0.0, 1.0, 1.0).is_some());
        for (x, y, width, height) in [(0.7, 0.5, 0.31, 0.1), (0.5, 0.95, 0.1, 0.06), (0.1, 0.1, 0.0, 0.5)] {
            assert_eq!(rectangle(x, y, width, height), None);
        }
    }

    #[test]
    fn neighbours_do_not_overlap() {
        let one = rectangle(0.1, 0.1, 0.2, 0.2).unwrap();
        assert!(one.overlaps(&rectangle(0.29, 0.29, 0.5, 0.5).unwrap()));
        assert!(!one.overlaps(&rectangle(0.3, 0.1, 0.5, 0.5).unwrap()));
        assert!(!one.overlaps(&rectangle(0.1, 0.31, 0.2, 0.2).unwrap()));
        assert!(one.overlaps(&one));
    }
}
