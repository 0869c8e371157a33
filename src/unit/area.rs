//! Areas that are finished.

/// An area; kept in square metres, never negative and at most that of a small country.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Area(f64);

impl Area {
    /// An area from square metres; `None` below 0 and above a thousand million.
    pub fn from_m2(m2: f64) -> Option<Area> {
        (0.0..=1e9).contains(&m2).then_some(Area(m2))
    }

    /// Square metres, unrounded.
    pub fn m2(self) -> f64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::Area;

    #[test]
    fn only_real_areas_are_areas() {
        for m2 in [-0.1, f64::NAN, f64::INFINITY] {
            assert_eq!(Area::from_m2(m2), None, "{m2}");
        }
        assert_eq!(Area::from_m2(0.33).map(Area::m2), Some(0.33));
    }
}
