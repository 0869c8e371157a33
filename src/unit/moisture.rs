//! How much water wood holds.

/// Moisture content in percent of the oven-dry mass; finite and from 0 to 30, where the cell walls are full.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Moisture(f64);

impl Moisture {
    /// A moisture content from percent; `None` outside `0 <= percent <= 30`.
    pub fn from_percent(percent: f64) -> Option<Moisture> {
        (0.0..=30.0).contains(&percent).then_some(Moisture(percent))
    }

    /// Percent of the oven-dry mass, unrounded.
    pub fn percent(self) -> f64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::Moisture;

    #[test]
    fn wood_holds_no_more_than_its_walls_take() {
        for percent in [-0.1, 30.1, f64::NAN] {
            assert_eq!(Moisture::from_percent(percent), None, "{percent}");
        }
        assert_eq!(Moisture::from_percent(12.0).map(Moisture::percent), Some(12.0));
    }
}
