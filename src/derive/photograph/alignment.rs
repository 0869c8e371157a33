//! Before onto after: the perspective map that lays one photograph onto another, from points that show in both.
//!
//! A map of this kind is exact for one plane, such as a table's top or the front of a chest. What lies in front of that
//! plane or behind it is seen from another place and cannot coincide.

use super::eigen::eigen;
use crate::fields::Landmark;
use crate::photo::{self, Crop, Homography, Spot};

/// A map has eight unknowns, and each point gives two of them.
pub const NEEDED: usize = 4;
/// Points nearer than this share of the picture's longer side are one point.
const APART: f64 = 0.005;
/// Points, all or all but one, that lie about a line within this share of their length tell nothing across it.
const SLENDER: f64 = 0.03;
/// Points within this share of the picture's longer side say too little about the rest of it.
const CLUMPED: f64 = 0.08;
/// The least ratio of the smallest singular value that counts to the largest. Good sets have 0.1 to 0.5, and three of
/// four points nearly in line 0.001.
const WELL_POSED: f64 = 0.005;
/// A landmark that misses by more than this share of the width contradicts the others.
const CONTRADICTS: f64 = 0.05;
/// Less of the picture after than this is no view that could be compared.
const LEAST_COMMON: f64 = 0.1;

/// How a photograph before lies on the one after.
#[derive(Debug, Clone, PartialEq)]
pub struct Alignment {
    /// From pixels of the upright photograph before to pixels of the one after.
    pub map: Homography,
    /// Size of the photograph before.
    pub before: (u32, u32),
    /// Size of the photograph after.
    pub after: (u32, u32),
    /// The landmarks in the photograph after, in pixels.
    pub landmarks: Vec<Spot>,
    /// By how many pixels of the photograph after each landmark is missed, in their order.
    pub misses: Vec<f64>,
    /// What both photographs show, in pixels of the one after.
    pub crop: Crop,
}

/// Why landmarks give no map; points are counted from 1.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Unfit {
    /// Fewer than four.
    #[error("{0} of the 4 points that are needed")]
    TooFew(usize),
    /// Two at one place.
    #[error("points {0} and {1} lie at one place in the picture {2}")]
    Same(usize, usize, &'static str),
    /// All about one line, or all but one.
    #[error("{0} lie nearly in one line in the picture {1}")]
    InLine(String, &'static str),
    /// All in one small spot.
    #[error("all points lie close together in the picture {0}")]
    Clumped(&'static str),
    /// No single answer, whatever the reason.
    #[error("the points leave it open how the pictures lie on each other")]
    Open,
    /// The order of the points turns over from one picture to the other.
    #[error("the points lie the other way round in one picture, as in a mirror")]
    Mirrored,
    /// Part of the picture before would lie behind the camera.
    #[error("laid out by these points, the picture before would be torn apart")]
    Torn,
    /// One landmark is far off where the others put it.
    #[error("point {0} is {1:.0} pixels from where the others put it")]
    Contradicting(usize, f64),
    /// Next to nothing shows in both.
    #[error("laid out by these points, the pictures share {0:.0} % of the view")]
    Strangers(f64),
}

impl Alignment {
    /// Lays a photograph of size `before` onto one of size `after`, by least squares where there are more than four points.
    ///
    /// # Source
    /// The normalised direct linear transformation: Hartley and Zisserman, "Multiple View Geometry in Computer Vision",
    /// second edition, algorithm 4.2; from memory.
    ///
    /// # Errors
    /// [`Unfit`] where the points allow no map, or none that could be meant.
    pub fn from_landmarks(
        landmarks: &[Landmark],
        before: (u32, u32),
        after: (u32, u32),
    ) -> Result<Alignment, Unfit> {
        if landmarks.len() < NEEDED {
            return Err(Unfit::TooFew(landmarks.len()));
        }
        let pixels = |point: &crate::unit::Point, (width, height): (u32, u32)| {
            [point.x.value() * f64::from(width), point.y.value() * f64::from(height)]
        };
        let from: Vec<Spot> = landmarks.iter().map(|landmark| pixels(&landmark.before, before)).collect();
        let to: Vec<Spot> = landmarks.iter().map(|landmark| pixels(&landmark.after, after)).collect();
        spread(&from, before, "before")?;
        spread(&to, after, "after")?;
        let map = fit(&from, &to)?;
        let misses = misses(&map, &from, &to)?;
        whole(&map, before)?;
        let width = f64::from(after.0);
        let crop = photo::common(&map, before, after);
        let alignment =
            Alignment { map, before, after, landmarks: to, misses, crop: crop.ok_or(Unfit::Strangers(0.0))? };
        let (worst, miss) = alignment.worst();
        if miss > CONTRADICTS * width {
            return Err(Unfit::Contradicting(worst, miss));
        }
        let share = alignment.share();
        if share < LEAST_COMMON { Err(Unfit::Strangers(share * 100.0)) } else { Ok(alignment) }
    }

    /// The landmark that is missed most, counted from 1, and by how many pixels of the photograph after.
    pub fn worst(&self) -> (usize, f64) {
        let numbered = self.misses.iter().copied().enumerate();
        numbered.fold((1, 0.0), |worst, (index, miss)| if miss > worst.1 { (index + 1, miss) } else { worst })
    }

    /// The root of the mean square of what the landmarks are missed by, in pixels of the photograph after.
    pub fn root_mean_square(&self) -> f64 {
        (self.misses.iter().map(|miss| miss * miss).sum::<f64>() / self.misses.len() as f64).sqrt()
    }

    /// Whether there are more landmarks than needed, so that what they are missed by says how good they are.
    pub fn tested(&self) -> bool {
        self.misses.len() > NEEDED
    }

    /// How much of the photograph after both show, 0 to 1.
    pub fn share(&self) -> f64 {
        self.crop.share(self.after)
    }
}

/// Refuses points that are not spread over two dimensions.
fn spread(points: &[Spot], (width, height): (u32, u32), picture: &'static str) -> Result<(), Unfit> {
    let side = f64::from(width.max(height));
    for (index, one) in points.iter().enumerate() {
        if let Some(other) = points[index + 1..].iter().position(|other| distance(one, other) < APART * side)
        {
            return Err(Unfit::Same(index + 1, index + other + 2, picture));
        }
    }
    let (length, thickness) = extent(points.iter());
    if length < CLUMPED * side {
        return Err(Unfit::Clumped(picture));
    }
    if thickness < SLENDER * length {
        return Err(Unfit::InLine("all points".to_owned(), picture));
    }
    for left_out in 0..points.len() {
        let rest = || points.iter().enumerate().filter(|(index, _)| *index != left_out);
        let (length, thickness) = extent(rest().map(|(_, point)| point));
        if thickness < SLENDER * length {
            let words = match points.len() {
                NEEDED => rest().map(|(index, _)| (index + 1).to_string()).collect::<Vec<_>>().join(", "),
                _ => return Err(Unfit::InLine(format!("all points but {}", left_out + 1), picture)),
            };
            return Err(Unfit::InLine(format!("points {words}"), picture));
        }
    }
    Ok(())
}

fn distance(one: &Spot, other: &Spot) -> f64 {
    let [x, y] = [one[0] - other[0], one[1] - other[1]];
    (x * x + y * y).sqrt()
}

/// How long a cloud of points is along its main axis, and across: twice the deviation either way.
fn extent<'a>(points: impl Iterator<Item = &'a Spot> + Clone) -> (f64, f64) {
    let count = points.clone().count() as f64;
    let mean = [0, 1].map(|axis| points.clone().map(|point| point[axis]).sum::<f64>() / count);
    let product = |i: usize, j: usize| {
        points.clone().map(|point| (point[i] - mean[i]) * (point[j] - mean[j])).sum::<f64>() / count
    };
    let found = eigen([[product(0, 0), product(0, 1)], [product(0, 1), product(1, 1)]]);
    let deviation = |place: usize| 2.0 * found[place].0.max(0.0).sqrt();
    (deviation(1), deviation(0))
}

/// Brings points to their centre and to a mean distance of the root of two, so that all numbers are of one size.
fn normal(points: &[Spot]) -> Homography {
    let count = points.len() as f64;
    let centre = [0, 1].map(|axis| points.iter().map(|point| point[axis]).sum::<f64>() / count);
    let mean = points.iter().map(|point| distance(point, &centre)).sum::<f64>() / count;
    let scale = std::f64::consts::SQRT_2 / mean;
    Homography::shift(-centre[0], -centre[1]).then(&Homography::scaling(scale, scale))
}

/// The map of least squares; the points were seen to be spread.
fn fit(from: &[Spot], to: &[Spot]) -> Result<Homography, Unfit> {
    let (level, other) = (normal(from), normal(to));
    let mut squares = [[0.0; 9]; 9];
    for (from, to) in from.iter().zip(to) {
        let (Some([x, y]), Some([u, v])) = (level.apply(*from), other.apply(*to)) else {
            return Err(Unfit::Open);
        };
        // What the map brings to the point has the direction of the point: two equations each.
        for row in
            [[-x, -y, -1.0, 0.0, 0.0, 0.0, u * x, u * y, u], [0.0, 0.0, 0.0, -x, -y, -1.0, v * x, v * y, v]]
        {
            for (sums, one) in squares.iter_mut().zip(row) {
                for (sum, other) in sums.iter_mut().zip(row) {
                    *sum += one * other;
                }
            }
        }
    }
    let found = eigen(squares);
    // Eigenvalues are the squares of singular values; the second is the smallest that must not vanish.
    if found[1].0.max(0.0).sqrt() < WELL_POSED * found[8].0.sqrt() {
        return Err(Unfit::Open);
    }
    let [a, b, c, d, e, f, g, h, i] = found[0].1;
    // Either sign fits; the one is meant that has the middle of the points in front of the camera.
    let sign = if i < 0.0 { -1.0 } else { 1.0 };
    let map = Homography::new([[a, b, c], [d, e, f], [g, h, i]].map(|row| row.map(|number| number * sign)));
    let map = level.then(&map.ok_or(Unfit::Open)?).then(&other.inverse());
    let corner = map.rows()[2][2];
    // By custom the last number is 1, unless the corner of the picture lies behind the camera.
    let rows =
        if corner > 0.0 { map.rows().map(|row| row.map(|number| number / corner)) } else { map.rows() };
    Homography::new(rows).ok_or(Unfit::Open)
}

/// By how much the map misses each point.
fn misses(map: &Homography, from: &[Spot], to: &[Spot]) -> Result<Vec<f64>, Unfit> {
    from.iter().zip(to).map(|(from, to)| Ok(distance(&map.apply(*from).ok_or(Unfit::Torn)?, to))).collect()
}

/// Refuses a map that turns a picture over or tears it.
fn whole(map: &Homography, size: (u32, u32)) -> Result<(), Unfit> {
    if map.determinant() <= 0.0 {
        return Err(Unfit::Mirrored);
    }
    let all = photo::corners(size).into_iter().all(|corner| map.apply(corner).is_some());
    if all { Ok(()) } else { Err(Unfit::Torn) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::{Fraction, Point};
    use proptest::prelude::*;

    const BEFORE: (u32, u32) = (4000, 3000);
    const AFTER: (u32, u32) = (3000, 2000);

    fn landmark([x, y, u, v]: [f64; 4]) -> Landmark {
        let point = |x, y| Point { x: Fraction::new(x).unwrap(), y: Fraction::new(y).unwrap() };
        Landmark { before: point(x, y), after: point(u, v) }
    }

    fn lay(landmarks: &[[f64; 4]]) -> Result<Alignment, Unfit> {
        let landmarks: Vec<Landmark> = landmarks.iter().map(|four| landmark(*four)).collect();
        Alignment::from_landmarks(&landmarks, BEFORE, AFTER)
    }

    /// The same places in both pictures.
    fn equal(places: &[[f64; 2]]) -> Vec<[f64; 4]> {
        places.iter().map(|[x, y]| [*x, *y, *x, *y]).collect()
    }

    #[track_caller]
    fn refused(landmarks: &[[f64; 4]], words: &str) {
        assert_eq!(lay(landmarks).map_err(|unfit| unfit.to_string()), Err(words.to_owned()));
    }

    const SPREAD: [[f64; 2]; 4] = [[0.2, 0.2], [0.8, 0.25], [0.75, 0.8], [0.25, 0.7]];

    #[test]
    fn equal_places_give_the_change_of_size() {
        let found = lay(&equal(&SPREAD)).unwrap();
        let [x, y] = found.map.apply([2000.0, 1500.0]).unwrap();
        assert!((x - 1500.0).abs() < 1e-9 && (y - 1000.0).abs() < 1e-9);
        assert!(found.root_mean_square() < 1e-9 && !found.tested());
        assert_eq!(found.crop, Crop { left: 0, top: 0, width: 3000, height: 2000 });
    }

    #[test]
    fn too_few() {
        refused(&equal(&SPREAD[..3]), "3 of the 4 points that are needed");
        refused(&[], "0 of the 4 points that are needed");
    }

    #[test]
    fn two_at_one_place() {
        let mut places = equal(&SPREAD);
        places.push([0.5, 0.5, 0.2001, 0.2001]);
        refused(&places, "points 1 and 5 lie at one place in the picture after");
    }

    #[test]
    fn in_one_line() {
        refused(
            &equal(&[[0.1, 0.1], [0.2, 0.2], [0.3, 0.301], [0.4, 0.9]]),
            "points 1, 2, 3 lie nearly in one line in the picture before",
        );
        refused(
            &equal(&[[0.1, 0.5], [0.3, 0.5], [0.6, 0.501], [0.9, 0.5]]),
            "all points lie nearly in one line in the picture before",
        );
        refused(
            &equal(&[[0.1, 0.5], [0.3, 0.5], [0.5, 0.1], [0.6, 0.501], [0.9, 0.5]]),
            "all points but 3 lie nearly in one line in the picture before",
        );
        // Four in a line are no harm where two more stand beside it.
        let places = [[0.1, 0.5], [0.3, 0.5], [0.6, 0.5], [0.9, 0.5], [0.2, 0.1], [0.8, 0.2]];
        assert!(lay(&equal(&places)).is_ok());
    }

    #[test]
    fn in_one_spot() {
        refused(
            &equal(&[[0.5, 0.5], [0.52, 0.5], [0.52, 0.53], [0.5, 0.53]]),
            "all points lie close together in the picture before",
        );
    }

    #[test]
    fn in_a_mirror_or_crosswise() {
        let mirrored = SPREAD.map(|[x, y]| [x, y, 1.0 - x, y]);
        refused(&mirrored, "the points lie the other way round in one picture, as in a mirror");
        let mut crosswise = equal(&SPREAD);
        (crosswise[0][2], crosswise[1][2]) = (crosswise[1][2], crosswise[0][2]);
        (crosswise[0][3], crosswise[1][3]) = (crosswise[1][3], crosswise[0][3]);
        refused(&crosswise, "laid out by these points, the picture before would be torn apart");
    }

    #[test]
    fn one_that_contradicts_the_rest() {
        let mut places = equal(&SPREAD);
        places.extend(equal(&[[0.5, 0.2], [0.3, 0.5], [0.6, 0.6]]));
        places[5][2] += 0.2;
        let Err(Unfit::Contradicting(6, miss)) = lay(&places) else { panic!("{:?}", lay(&places)) };
        assert!(miss > 150.0 && miss < 600.0, "{miss}");
    }

    #[test]
    fn strangers() {
        let apart = SPREAD.map(|[x, y]| [x * 0.3 + 0.7, y * 0.3 + 0.7, x * 0.3, y * 0.3]);
        refused(&apart, "laid out by these points, the pictures share 9 % of the view");
    }

    #[test]
    fn a_slip_shows_where_there_is_a_point_too_many() {
        let mut places = equal(&SPREAD);
        places.extend(equal(&[[0.5, 0.2], [0.5, 0.75], [0.3, 0.45], [0.7, 0.5]]));
        places[4][2] += 0.01;
        let found = lay(&places).unwrap();
        assert_eq!(found.worst().0, 5);
        // The slip is 30 pixels, of which the other points take up some.
        assert!(found.tested() && (10.0..30.0).contains(&found.worst().1), "{:?}", found.misses);
    }

    /// A map as between two hand-held photographs of a piece.
    fn plausible() -> impl Strategy<Value = Homography> {
        (-0.1..0.1f64, 0.8..1.1f64, -0.06..0.06f64, -0.06..0.06f64, -2e-5..2e-5f64, -2e-5..2e-5f64).prop_map(
            |(turn, scale, x, y, g, h)| {
                let scale = scale * 0.7;
                let [sine, cosine] = [libm::sin(turn) * scale, libm::cos(turn) * scale];
                let rows = [[cosine, -sine, x * 3000.0 + 150.0], [sine, cosine, y * 2000.0], [g, h, 1.0]];
                Homography::new(rows).unwrap()
            },
        )
    }

    fn places(count: std::ops::Range<usize>) -> impl Strategy<Value = Vec<[f64; 2]>> {
        prop::collection::vec([0.25..0.75f64, 0.25..0.75f64], count)
    }

    fn seen_through(map: &Homography, places: &[[f64; 2]]) -> Vec<[f64; 4]> {
        let seen = places.iter().map(|[x, y]| {
            let [u, v] = map.apply([x * 4000.0, y * 3000.0]).unwrap();
            [*x, *y, u / 3000.0, v / 2000.0]
        });
        seen.collect()
    }

    fn difference(one: &Homography, other: &Homography) -> f64 {
        let spots = [[1000.0, 750.0], [3000.0, 750.0], [3000.0, 2250.0], [1000.0, 2250.0]];
        let apart = |spot| distance(&one.apply(spot).unwrap(), &other.apply(spot).unwrap());
        spots.into_iter().map(apart).fold(0.0, f64::max)
    }

    proptest! {
        #[test]
        fn a_map_is_found_again(map in plausible(), places in places(4..12)) {
            let seen = seen_through(&map, &places);
            prop_assume!(seen.iter().flatten().all(|number| (0.0..=1.0).contains(number)));
            let Ok(found) = lay(&seen) else { return Ok(()) };
            prop_assert!(difference(&found.map, &map) < 1e-4, "{}", difference(&found.map, &map));
            prop_assert!(found.worst().1 < 1e-5);
        }

        /// Other pixels, other numbers, the same view: twice the pixels give twice the misses.
        #[test]
        fn more_pixels_are_the_same_map(map in plausible(), places in places(5..9), slip in -0.01..0.01f64) {
            let mut seen = seen_through(&map, &places);
            seen[0][2] += slip;
            prop_assume!(seen.iter().flatten().all(|number| (0.0..=1.0).contains(number)));
            let marks: Vec<Landmark> = seen.iter().map(|four| landmark(*four)).collect();
            let one = Alignment::from_landmarks(&marks, BEFORE, AFTER);
            let two = Alignment::from_landmarks(&marks, (8000, 6000), (6000, 4000));
            if let (Ok(one), Ok(two)) = (one, two) {
                let tolerance = 1e-6 * (1.0 + one.root_mean_square());
                prop_assert!((two.root_mean_square() - 2.0 * one.root_mean_square()).abs() < tolerance);
                let half = Homography::scaling(2.0, 2.0).then(&two.map).then(&Homography::scaling(0.5, 0.5));
                prop_assert!(difference(&half, &one.map) < 1e-4);
            }
        }

        /// There and back leads home.
        #[test]
        fn the_way_back_is_the_inverse(map in plausible(), places in places(4..9)) {
            let seen = seen_through(&map, &places);
            prop_assume!(seen.iter().flatten().all(|number| (0.0..=1.0).contains(number)));
            let there: Vec<Landmark> = seen.iter().map(|four| landmark(*four)).collect();
            let back: Vec<Landmark> = there.iter().map(|one| Landmark { before: one.after, after: one.before }).collect();
            let there = Alignment::from_landmarks(&there, BEFORE, AFTER);
            let back = Alignment::from_landmarks(&back, AFTER, BEFORE);
            if let (Ok(there), Ok(back)) = (there, back) {
                let home = there.map.then(&back.map);
                prop_assert!(difference(&home, &Homography::shift(0.0, 0.0)) < 1e-3);
            }
        }

        #[test]
        fn any_points_are_answered(
            points in prop::collection::vec(prop::array::uniform4(0.0..=1.0f64), 0..9),
            width in 1..5000u32, height in 1..5000u32,
        ) {
            let landmarks: Vec<Landmark> = points.iter().map(|four| landmark(*four)).collect();
            let _ = Alignment::from_landmarks(&landmarks, (width, height), (height, width)).map(|found| {
                assert!(found.crop.left + found.crop.width <= height && found.crop.top + found.crop.height <= width);
            });
        }
    }
}
