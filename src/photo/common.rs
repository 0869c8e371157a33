//! What two photographs laid onto each other both show.

use serde::Serialize;

use super::homography::{Homography, Spot};

/// How far in pixels a crop may reach over the edge of the picture before, which goes on as its last pixels.
const FORGIVEN: f64 = 0.01;

/// An upright rectangle of whole pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Crop {
    /// Pixels left of it.
    pub left: u32,
    /// Pixels above it.
    pub top: u32,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
}

impl Crop {
    /// Its share of a picture of this size, 0 to 1.
    #[must_use]
    pub fn share(&self, (width, height): (u32, u32)) -> f64 {
        f64::from(self.width) * f64::from(self.height) / (f64::from(width) * f64::from(height))
    }
}

/// The largest upright rectangle of the picture after that the picture before, mapped onto it, fills wholly.
///
/// `None` where they share less than a pixel, or a corner of the picture before has no place in the one after.
#[must_use]
pub fn common(before_to_after: &Homography, before: (u32, u32), after: (u32, u32)) -> Option<Crop> {
    let [width, height] = [after.0, after.1].map(f64::from);
    let corners = corners(before).map(|corner| before_to_after.apply(corner));
    let [Some(a), Some(b), Some(c), Some(d)] = corners else { return None };
    // The frame of the picture after cuts the mapped one, side by side.
    let shape = [
        |[x, _]: Spot, _: Spot| x,
        |[x, _]: Spot, far: Spot| far[0] - x,
        |[_, y]: Spot, _: Spot| y,
        |[_, y]: Spot, far: Spot| far[1] - y,
    ]
    .iter()
    .fold(vec![a, b, c, d], |shape, inside| cut(&shape, |spot| inside(spot, [width, height])));
    largest(&shape)
}

/// The corners of a picture, clockwise from the top left.
#[must_use]
pub fn corners((width, height): (u32, u32)) -> [Spot; 4] {
    let [width, height] = [width, height].map(f64::from);
    [[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]]
}

/// The part of a convex shape where a linear function is not below 0.
///
/// # Source
/// Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17 (1974), from memory.
fn cut(shape: &[Spot], inside: impl Fn(Spot) -> f64) -> Vec<Spot> {
    let mut kept = Vec::new();
    for (index, &from) in shape.iter().enumerate() {
        let to = shape[(index + 1) % shape.len()];
        let (here, there) = (inside(from), inside(to));
        if here >= 0.0 {
            kept.push(from);
        }
        if (here >= 0.0) != (there >= 0.0) {
            let share = here / (here - there);
            kept.push([0, 1].map(|axis| from[axis] + share * (to[axis] - from[axis])));
        }
    }
    kept
}

/// The largest upright rectangle within a convex shape, drawn in to whole pixels.
///
/// Between a left and a right edge the height is the lower upper bound less the higher lower bound, a concave function
/// of the two; times the width its logarithm is concave still, so one search within another finds the one summit.
fn largest(shape: &[Spot]) -> Option<Crop> {
    let ends = |pick: fn(f64, f64) -> f64, from: f64| shape.iter().map(|spot| spot[0]).fold(from, pick);
    let (low, high) = (ends(f64::min, f64::INFINITY), ends(f64::max, f64::NEG_INFINITY));
    if !(high - low >= 1.0) {
        return None;
    }
    let rectangle = |left: f64, right: f64| {
        let ((a, b), (c, d)) = (span(shape, left), span(shape, right));
        (a.max(c), b.min(d))
    };
    let area = |left: f64, right: f64| {
        let (top, bottom) = rectangle(left, right);
        // Where the height is gone, less wide is better, so that the search finds its way back.
        if bottom > top { (right - left) * (bottom - top) } else { bottom - top }
    };
    let right_of = |left: f64| summit(left, high, |right| area(left, right));
    let left = summit(low, high, |left| area(left, right_of(left)));
    let right = right_of(left);
    let (top, bottom) = rectangle(left, right);
    // The search is less exact than this, and two equal pictures shall share every pixel.
    let [left, top] = [left, top].map(|edge| (edge - FORGIVEN).ceil().max(0.0));
    let [right, bottom] = [right, bottom].map(|edge| (edge + FORGIVEN).floor());
    // The edges lie within a picture, whose sides fit.
    let whole = |pixels: f64| (pixels >= 1.0).then_some(pixels as u32);
    Some(Crop {
        left: left as u32,
        top: top as u32,
        width: whole(right - left)?,
        height: whole(bottom - top)?,
    })
}

/// Where a convex shape begins and ends on the upright line at `x`; upside down where it has nothing there.
fn span(shape: &[Spot], x: f64) -> (f64, f64) {
    let mut span = (f64::INFINITY, f64::NEG_INFINITY);
    for (index, from) in shape.iter().enumerate() {
        let to = shape[(index + 1) % shape.len()];
        let (left, right) = (from[0].min(to[0]), from[0].max(to[0]));
        if !(left..=right).contains(&x) {
            continue;
        }
        let heights = if right > left {
            let at = from[1] + (x - from[0]) / (to[0] - from[0]) * (to[1] - from[1]);
            [at, at]
        } else {
            [from[1], to[1]]
        };
        span = heights.iter().fold(span, |(low, high), &y| (low.min(y), high.max(y)));
    }
    span
}

/// Where a function with one summit has it, by thirds, to a thousandth of a pixel.
fn summit(mut low: f64, mut high: f64, of: impl Fn(f64) -> f64) -> f64 {
    while high - low > 1e-3 {
        let third = (high - low) / 3.0;
        if of(low + third) < of(high - third) {
            low += third;
        } else {
            high -= third;
        }
    }
    // The ends themselves are often the best, and the search never looks there.
    [low, high, low.midpoint(high)]
        .into_iter()
        .max_by(|one, other| of(*one).total_cmp(&of(*other)))
        .unwrap_or(low)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn equal_pictures_share_everything() {
        let all = common(&Homography::shift(0.0, 0.0), (1600, 1200), (1600, 1200));
        assert_eq!(all, Some(Crop { left: 0, top: 0, width: 1600, height: 1200 }));
    }

    #[test]
    fn a_moved_picture_shares_the_overlap() {
        let moved = common(&Homography::shift(100.0, -50.5), (1600, 1200), (1600, 1200));
        assert_eq!(moved, Some(Crop { left: 100, top: 0, width: 1500, height: 1149 }));
        assert_eq!(common(&Homography::shift(1600.0, 0.0), (1600, 1200), (1600, 1200)), None);
    }

    #[test]
    fn a_smaller_picture_inside_is_the_whole() {
        let inside = Homography::scaling(2.0, 2.0).then(&Homography::shift(10.0, 20.0));
        let crop = common(&inside, (100, 80), (1600, 1200)).unwrap();
        assert_eq!(crop, Crop { left: 10, top: 20, width: 200, height: 160 });
        assert!((crop.share((1600, 1200)) - 1.0 / 60.0).abs() < 1e-12);
    }

    #[test]
    fn half_of_a_standing_square_on_its_corner() {
        // A square turned by 45 degrees holds an upright one of half its area.
        let turned = Homography::new([[0.5, -0.5, 500.0], [0.5, 0.5, 0.0], [0.0, 0.0, 1.0]]).unwrap();
        let crop = common(&turned, (1000, 1000), (1000, 1000)).unwrap();
        assert!(crop.width.abs_diff(500) <= 2 && crop.height.abs_diff(500) <= 2, "{crop:?}");
    }

    proptest! {
        /// Every corner of the crop is a place of both pictures, and no rectangle a tenth larger about it is.
        #[test]
        fn the_crop_is_common(
            turn in -0.3..0.3f64, scale in 0.5..2.0f64, x in -300.0..300.0f64, y in -300.0..300.0f64,
            g in -2e-4..2e-4f64, h in -2e-4..2e-4f64,
        ) {
            let (sine, cosine) = (libm::sin(turn) * scale, libm::cos(turn) * scale);
            let map = Homography::new([[cosine, -sine, x], [sine, cosine, y], [g, h, 1.0]]).unwrap();
            let (before, after) = ((800, 600), (900, 700));
            let Some(crop) = common(&map, before, after) else { return Ok(()) };
            let back = map.inverse();
            let inside = |grown: f64| {
                let (left, top) = (f64::from(crop.left), f64::from(crop.top));
                let (width, height) = (f64::from(crop.width), f64::from(crop.height));
                let edges = [
                    [left - grown * width, top - grown * height],
                    [left + (1.0 + grown) * width, top - grown * height],
                    [left + (1.0 + grown) * width, top + (1.0 + grown) * height],
                    [left - grown * width, top + (1.0 + grown) * height],
                ];
                edges.into_iter().all(|spot| {
                    let within = |[x, y]: Spot, (width, height): (u32, u32)| {
                        let slack = 4.0 * FORGIVEN;
                        x >= -slack && y >= -slack && x <= f64::from(width) + slack && y <= f64::from(height) + slack
                    };
                    within(spot, after) && back.apply(spot).is_some_and(|spot| within(spot, before))
                })
            };
            prop_assert!(inside(0.0), "{:?}", crop);
            prop_assert!(crop.width < 20 || crop.height < 20 || !inside(0.1), "{:?}", crop);
        }
    }
}
