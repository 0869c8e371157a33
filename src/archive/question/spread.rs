//! How figures lie: their middle and how far they reach.

use rust_decimal::Decimal;

/// How some figures lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread {
    /// How many there are.
    pub count: usize,
    /// The least.
    pub least: Decimal,
    /// A quarter of them are no more than this.
    pub lower: Decimal,
    /// The middle.
    pub median: Decimal,
    /// A quarter of them are no less than this.
    pub upper: Decimal,
    /// The most.
    pub most: Decimal,
}

impl Spread {
    /// How figures lie; `None` of none.
    ///
    /// # Source
    /// Hyndman and Fan, Sample Quantiles in Statistical Packages, The American Statistician 50 (1996), definition 7:
    /// between two figures in a straight line, as NumPy does if not told otherwise.
    pub fn of(figures: impl IntoIterator<Item = Decimal>) -> Option<Spread> {
        let mut figures: Vec<Decimal> = figures.into_iter().collect();
        figures.sort_unstable();
        let (least, most) = (*figures.first()?, *figures.last()?);
        let at = |quarters: usize| {
            let place = (figures.len() - 1) * quarters;
            let (below, past) = (place / 4, place % 4);
            let low = figures[below];
            match figures.get(below + 1) {
                Some(high) if past > 0 => low + (high - low) * Decimal::from(past) / Decimal::from(4),
                _ => low,
            }
        };
        Some(Spread { count: figures.len(), least, lower: at(1), median: at(2), upper: at(3), most })
    }

    /// What to expect: the middle half where there are enough figures for one, and else from the least to the most.
    pub fn likely(&self) -> (Decimal, Decimal) {
        if self.count >= Spread::ENOUGH { (self.lower, self.upper) } else { (self.least, self.most) }
    }

    /// From how many figures on their middle half is told.
    ///
    /// Source: our own choice; below that a quarter is hardly one figure.
    pub const ENOUGH: usize = 8;
}

#[cfg(test)]
mod tests {
    use std::str::FromStr;

    use super::*;

    fn spread(figures: &[&str]) -> Option<[String; 5]> {
        let spread = Spread::of(figures.iter().map(|figure| Decimal::from_str(figure).unwrap()))?;
        let Spread { least, lower, median, upper, most, .. } = spread;
        Some([least, lower, median, upper, most].map(|figure| figure.normalize().to_string()))
    }

    /// `numpy.quantile(figures, [0, .25, .5, .75, 1])` of NumPy 2.2 gives these.
    #[test]
    fn quartiles_are_those_of_numpy() {
        assert_eq!(spread(&[]), None);
        assert_eq!(spread(&["2.5"]).unwrap(), ["2.5"; 5]);
        assert_eq!(spread(&["3", "1"]).unwrap(), ["1", "1.5", "2", "2.5", "3"]);
        assert_eq!(spread(&["1", "2", "4", "8"]).unwrap(), ["1", "1.75", "3", "5", "8"]);
        assert_eq!(spread(&["0.5", "1.25", "2", "3.5", "9"]).unwrap(), ["0.5", "1.25", "2", "3.5", "9"]);
        assert_eq!(
            spread(&["7", "0.25", "1", "3", "1.5", "2"]).unwrap(),
            ["0.25", "1.125", "1.75", "2.75", "7"]
        );
    }

    #[test]
    fn the_middle_half_needs_figures_enough() {
        let of = |count: i64| Spread::of((1..=count).map(Decimal::from)).unwrap().likely();
        assert_eq!(of(7), (Decimal::ONE, Decimal::from(7)));
        assert_eq!(of(9), (Decimal::from(3), Decimal::from(7)));
    }
}
