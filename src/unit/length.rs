//! Lengths of furniture and its parts.

/// A length; kept in millimetres, always finite and above zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// The longest length that is believed, in millimetres: nothing here is a building.
    pub const LONGEST: f64 = 20_000.0;

    /// A length from millimetres; `None` outside `0 < mm <= 20 000`.
    pub fn from_mm(mm: f64) -> Option<Length> {
        (mm.is_finite() && mm > 0.0 && mm <= Length::LONGEST).then_some(Length(mm))
    }

    /// Millimetres, unrounded.
    pub fn mm(self) -> f64 {
        self.0
    }

    /// Inches of 25.4 mm exactly (international yard and pound agreement, 1959), unrounded.
    pub fn inches(self) -> f64 {
        self.0 / 25.4
    }
}

#[cfg(test)]
mod tests {
    use super::Length;

    #[test]
    fn only_real_lengths_are_lengths() {
        for mm in [0.0, -1.0, f64::NAN, f64::INFINITY, 20_000.1] {
            assert_eq!(Length::from_mm(mm), None, "{mm}");
        }
        assert_eq!(Length::from_mm(254.0).map(Length::inches), Some(10.0));
    }
}
