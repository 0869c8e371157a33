//! What furniture and its parts weigh, and how much room they take.

/// Standard gravity, in metres per second squared (ISO 80000-3; 3rd General Conference on Weights and Measures, 1901).
pub const GRAVITY: f64 = 9.80665;

/// A mass; kept in kilograms, always finite and never below zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Mass(f64);

impl Mass {
    /// The most that is believed of a piece of furniture, in kilograms.
    pub const MOST: f64 = 100_000.0;

    /// A mass from kilograms; `None` outside `0 <= kg <= 100 000`.
    pub fn from_kg(kg: f64) -> Option<Mass> {
        (0.0..=Mass::MOST).contains(&kg).then_some(Mass(kg))
    }

    /// Kilograms, unrounded.
    pub fn kg(self) -> f64 {
        self.0
    }

    /// Its weight in newtons under standard gravity, unrounded.
    pub fn newtons(self) -> f64 {
        self.0 * GRAVITY
    }

    /// So many of it, at most [`Mass::MOST`]; `times` below zero or no number counts as none.
    pub fn times(self, times: f64) -> Mass {
        Mass((self.0 * times.max(0.0)).min(Mass::MOST))
    }
}

impl std::ops::Add for Mass {
    type Output = Mass;

    fn add(self, other: Mass) -> Mass {
        Mass((self.0 + other.0).min(Mass::MOST))
    }
}

/// A mass that is not known exactly: from its low to its high end.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct MassSpan {
    /// The low end.
    pub low: Mass,
    /// The high end; never below the low one.
    pub high: Mass,
}

impl MassSpan {
    /// The span between two masses, whichever is the lower.
    pub fn between(one: Mass, other: Mass) -> MassSpan {
        if one <= other { MassSpan { low: one, high: other } } else { MassSpan { low: other, high: one } }
    }

    /// Its middle.
    pub fn middle(self) -> Mass {
        Mass((self.low.0 + self.high.0) / 2.0)
    }

    /// So many of it.
    pub fn times(self, times: f64) -> MassSpan {
        MassSpan { low: self.low.times(times), high: self.high.times(times) }
    }
}

impl std::ops::Add for MassSpan {
    type Output = MassSpan;

    fn add(self, other: MassSpan) -> MassSpan {
        MassSpan { low: self.low + other.low, high: self.high + other.high }
    }
}

impl std::iter::Sum for MassSpan {
    fn sum<I: Iterator<Item = MassSpan>>(spans: I) -> MassSpan {
        spans.fold(MassSpan::default(), std::ops::Add::add)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_real_masses_are_masses() {
        for kg in [-0.1, f64::NAN, f64::INFINITY, 100_000.1] {
            assert_eq!(Mass::from_kg(kg), None, "{kg}");
        }
        assert_eq!(Mass::from_kg(1.0).map(Mass::newtons), Some(9.80665));
    }

    #[test]
    fn a_span_is_never_upside_down() {
        let [light, heavy] = [1.0, 3.0].map(|kg| Mass::from_kg(kg).expect("a mass"));
        let span = MassSpan::between(heavy, light);
        assert_eq!((span.low, span.high, span.middle().kg()), (light, heavy, 2.0));
        assert_eq!([span, span].into_iter().sum::<MassSpan>(), span.times(2.0));
    }
}
