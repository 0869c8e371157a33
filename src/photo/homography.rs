//! The map between two photographs of one plane, taken from two places.

use serde::Serialize;

/// A place on a picture in pixels: `[0, 0]` is the outer corner of the top left pixel, and that pixel's centre `[0.5, 0.5]`.
pub type Spot = [f64; 2];

/// A perspective map of the plane: three rows of three, applied to `[x, y, 1]` and divided by the third outcome.
///
/// Multiplied by any positive number it is the same map. What comes out with a third number of 0 or below lies at
/// infinity or behind the camera, so a map is signed: the places it is meant for come out positive.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Homography([[f64; 3]; 3]);

impl Homography {
    /// The map of these rows; `None` where a number is not finite or the map cannot be turned round.
    #[must_use]
    pub fn new(rows: [[f64; 3]; 3]) -> Option<Homography> {
        let largest = rows.iter().flatten().fold(0.0_f64, |largest, number| largest.max(number.abs()));
        // The largest number is brought to 1 first, so that the test does not depend on the scale.
        let tame = Homography(rows.map(|row| row.map(|number| number / largest)));
        let sound =
            rows.iter().flatten().all(|number| number.is_finite()) && tame.determinant().abs() > 1e-300;
        sound.then_some(Homography(rows))
    }

    /// Stretching by `x` and `y` about the corner.
    ///
    /// # Panics
    /// If a factor is not above 0 and finite.
    #[must_use]
    pub fn scaling(x: f64, y: f64) -> Homography {
        assert!(x > 0.0 && y > 0.0 && x.is_finite() && y.is_finite(), "a scale above 0");
        Homography([[x, 0.0, 0.0], [0.0, y, 0.0], [0.0, 0.0, 1.0]])
    }

    /// Moving by `x` to the right and `y` down.
    #[must_use]
    pub fn shift(x: f64, y: f64) -> Homography {
        Homography([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])
    }

    /// The rows.
    #[must_use]
    pub fn rows(&self) -> [[f64; 3]; 3] {
        self.0
    }

    /// Where a place comes out; `None` where that is at infinity or behind the camera.
    #[must_use]
    pub fn apply(&self, [x, y]: Spot) -> Option<Spot> {
        let [u, v, w] = self.0.map(|[a, b, c]| a * x + b * y + c);
        (w > 0.0).then_some([u / w, v / w]).filter(|spot| spot.iter().all(|number| number.is_finite()))
    }

    /// This map, and then another.
    #[must_use]
    pub fn then(&self, next: &Homography) -> Homography {
        let column = |j: usize| self.0.map(|row| row[j]);
        let product = next.0.map(|row| {
            [0, 1, 2].map(|j| row.iter().zip(column(j)).map(|(one, other)| one * other).sum::<f64>())
        });
        Homography(product)
    }

    /// The way back.
    #[must_use]
    pub fn inverse(&self) -> Homography {
        let m = &self.0;
        let determinant = self.determinant();
        // The entry of row `i` and column `j` is the cofactor of row `j` and column `i`.
        let entry = |i: usize, j: usize| {
            let (a, b, c, d) = ((j + 1) % 3, (j + 2) % 3, (i + 1) % 3, (i + 2) % 3);
            (m[a][c] * m[b][d] - m[a][d] * m[b][c]) / determinant
        };
        Homography([0, 1, 2].map(|i| [0, 1, 2].map(|j| entry(i, j))))
    }

    /// Above 0 where left stays left of right as seen from the front; below 0 for a mirror.
    #[must_use]
    pub fn determinant(&self) -> f64 {
        let [[a, b, c], [d, e, f], [g, h, i]] = self.0;
        a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    }

    /// How the place moves as `x` and as `y` grow by one: the columns of the derivative at a place.
    ///
    /// `None` where the place itself has no outcome.
    #[must_use]
    pub fn slope(&self, at: Spot) -> Option<[Spot; 2]> {
        let [u, v] = self.apply(at)?;
        let [top, middle, bottom] = self.0;
        let w = bottom[0] * at[0] + bottom[1] * at[1] + bottom[2];
        Some([0, 1].map(|j| [(top[j] - u * bottom[j]) / w, (middle[j] - v * bottom[j]) / w]))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Homography {
        Homography::new([[1.1, 0.1, 20.0], [-0.05, 0.95, 7.0], [1e-4, -2e-5, 1.0]]).unwrap()
    }

    fn near(one: Spot, other: Spot) -> bool {
        (one[0] - other[0]).abs() < 1e-9 && (one[1] - other[1]).abs() < 1e-9
    }

    #[test]
    fn there_and_back() {
        for spot in [[0.0, 0.0], [400.0, 300.0], [1600.0, 20.0]] {
            let there = sample().apply(spot).unwrap();
            assert!(near(sample().inverse().apply(there).unwrap(), spot));
        }
    }

    #[test]
    fn one_after_the_other() {
        let both = sample().then(&Homography::shift(3.0, -1.0)).then(&Homography::scaling(2.0, 4.0));
        let [x, y] = sample().apply([50.0, 60.0]).unwrap();
        assert!(near(both.apply([50.0, 60.0]).unwrap(), [(x + 3.0) * 2.0, (y - 1.0) * 4.0]));
    }

    #[test]
    fn the_slope_is_that_of_small_steps() {
        let (at, step) = ([300.0, 200.0], 1e-4);
        let [along, down] = sample().slope(at).unwrap();
        let [x, y] = sample().apply(at).unwrap();
        for (moved, slope) in [([at[0] + step, at[1]], along), ([at[0], at[1] + step], down)] {
            let [u, v] = sample().apply(moved).unwrap();
            assert!(((u - x) / step - slope[0]).abs() < 1e-6 && ((v - y) / step - slope[1]).abs() < 1e-6);
        }
    }

    #[test]
    fn behind_the_camera_and_without_a_way_back() {
        assert_eq!(sample().apply([-10_001.0, 0.0]), None);
        assert_eq!(Homography::new([[1.0, 2.0, 3.0], [2.0, 4.0, 6.0], [0.0, 0.0, 1.0]]), None);
        assert_eq!(Homography::new([[f64::NAN, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), None);
        assert_eq!(Homography::new([[0.0; 3]; 3]), None);
    }
}
