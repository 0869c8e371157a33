//! Marks on a photograph: their numbers in the order of reading, and how large an outlined area is.

use crate::fields::Row;
use crate::record::{Mark, Shape};
use crate::unit::{Area, Length, Point};

/// How high a row of marks is, of the photograph's height: marks within it are read from left to right.
///
/// About the height of two numbered discs. Our own choice.
const ROW: f64 = 0.1;

/// How long a known length has to be, of the longest way across the area it measures.
///
/// Its ends are set by eye, so that a short one makes a large error of the area. Our own choice.
const SHORTEST: f64 = 0.1;

/// One mark with its number.
#[derive(Debug, Clone, PartialEq)]
pub struct Marked {
    /// The mark.
    pub mark: Row<Mark>,
    /// Its number on the photograph, counted from 1 in the order of reading.
    pub number: usize,
    /// How large its area is, where it has one with a known length in its plane.
    pub area: Option<Result<Area, NoArea>>,
}

/// Why the size of an outlined area cannot be worked out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoArea {
    /// The outline crosses itself, so that it encloses no one area.
    #[error("the outline crosses itself")]
    Crosses,
    /// The outline lies on a line.
    #[error("the outline encloses nothing")]
    Empty,
    /// The known length is so short that the area would be guesswork.
    #[error("the known length is less than a tenth of the way across the area")]
    ShortScale,
}

impl NoArea {
    /// What helps.
    pub fn cure(self) -> &'static str {
        match self {
            NoArea::Crosses => "set the corners one after the other around the area",
            NoArea::Empty => "set at least three corners that do not lie in a row",
            NoArea::ShortScale => "measure something longer in the picture, in the plane of the area",
        }
    }
}

/// A place in pixels, or in millimetres.
type PlanePoint = (f64, f64);

/// The marks of one photograph in the order of reading: from row to row downwards, in a
/// row from left to right. Marks of no one shape are left out.
///
/// A row begins with the highest mark that is left, and takes in every mark that lies less than a tenth of the
/// picture's height below it. `size` is that of the upright photograph in pixels; areas are worked out only where it is
/// known.
pub(in crate::derive) fn marks(marks: &[Row<Mark>], size: Option<(u32, u32)>) -> Vec<Marked> {
    let mut left: Vec<(&Row<Mark>, Point)> =
        marks.iter().filter_map(|mark| Some((mark, number_at(mark.shape()?)))).collect();
    // Of two marks in one place, the record's order counts: both sorts are stable.
    left.sort_by(|(_, one), (_, other)| one.y.value().total_cmp(&other.y.value()));
    let mut ordered = Vec::new();
    while let Some((_, first)) = left.first() {
        let end = first.y.value() + ROW;
        let below = left.partition_point(|(_, point)| point.y.value() < end);
        let mut row: Vec<(&Row<Mark>, Point)> = left.drain(..below).collect();
        row.sort_by(|(_, one), (_, other)| one.x.value().total_cmp(&other.x.value()));
        ordered.extend(row.into_iter().map(|(mark, _)| mark));
    }
    let marked = |(mark, number): (&Row<Mark>, usize)| {
        let measured = mark.area.as_ref().zip(mark.scale.as_ref()).zip(size);
        let area = measured.map(|((outline, scale), size)| {
            area(&outline.0, [scale.from.value, scale.to.value], scale.mm.value, size)
        });
        Marked { mark: mark.clone(), number, area }
    };
    ordered.into_iter().zip(1..).map(marked).collect()
}

/// Where the number of a mark stands: on a point, at the beginning of a line, on the highest corner of an area.
pub fn number_at(shape: Shape<'_>) -> Point {
    match shape {
        Shape::Point(point) => *point,
        Shape::Line(line) => line.from,
        Shape::Area(outline) => highest(&outline.0),
    }
}

/// The highest corner, of several the leftmost.
fn highest(corners: &[Point]) -> Point {
    let key = |point: &Point| (point.y.value(), point.x.value());
    let higher = |one: &&Point, other: &&Point| {
        let (one, other) = (key(one), key(other));
        one.0.total_cmp(&other.0).then(one.1.total_cmp(&other.1))
    };
    *corners.iter().min_by(higher).expect("an outline has three corners or more")
}

/// How large an outlined area is, if the photograph looks straight at its plane.
///
/// `ends` are those of a length in that plane, which is known to be `apart`. Fractions of the width and of the height
/// are different lengths, so everything is taken to pixels first.
///
/// # Errors
/// [`NoArea`].
///
/// # Source
/// The area of a polygon from its corners: Gauss's area formula.
pub fn area(
    outline: &[Point],
    ends: [Point; 2],
    apart: Length,
    (width, height): (u32, u32),
) -> Result<Area, NoArea> {
    let spot = |point: &Point| (point.x.value() * f64::from(width), point.y.value() * f64::from(height));
    let corners: Vec<PlanePoint> = outline.iter().map(spot).collect();
    let [from, to] = ends.map(|end| spot(&end));
    let length = libm::hypot(to.0 - from.0, to.1 - from.1);
    if crosses(&corners) {
        return Err(NoArea::Crosses);
    }
    let pixels = enclosed(&corners);
    // Less than a pixel is a slip of the pointer.
    if pixels < 1.0 {
        return Err(NoArea::Empty);
    }
    if length < SHORTEST * across(&corners) {
        return Err(NoArea::ShortScale);
    }
    let mm = apart.mm() / length;
    Area::from_m2(pixels * mm * mm / 1e6).ok_or(NoArea::ShortScale)
}

fn sides(corners: &[PlanePoint]) -> impl Iterator<Item = (PlanePoint, PlanePoint)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

fn enclosed(corners: &[PlanePoint]) -> f64 {
    (sides(corners).map(|((x, y), (u, v))| x * v - u * y).sum::<f64>() / 2.0).abs()
}

/// The greatest distance of two corners.
fn across(corners: &[PlanePoint]) -> f64 {
    let apart = |one: &PlanePoint, other: &PlanePoint| libm::hypot(one.0 - other.0, one.1 - other.1);
    corners.iter().flat_map(|one| corners.iter().map(move |other| apart(one, other))).fold(0.0, f64::max)
}

/// Whether two sides that are not neighbours meet.
fn crosses(corners: &[PlanePoint]) -> bool {
    let sides: Vec<(PlanePoint, PlanePoint)> = sides(corners).collect();
    let last = sides.len() - 1;
    let apart = |one: usize, other: usize| other > one + 1 && !(one == 0 && other == last);
    (0..sides.len())
        .any(|one| (one + 1..sides.len()).any(|other| apart(one, other) && meet(sides[one], sides[other])))
}

/// Whether two sides have a point in common.
fn meet((a, b): (PlanePoint, PlanePoint), (c, d): (PlanePoint, PlanePoint)) -> bool {
    // On which side of the line through two spots a third lies: above, below 0, or 0 on it.
    let turn =
        |p: PlanePoint, q: PlanePoint, r: PlanePoint| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0);
    let opposite = |one: f64, other: f64| (one > 0.0) != (other > 0.0) && one != 0.0 && other != 0.0;
    let (abc, abd, cda, cdb) = (turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b));
    if opposite(abc, abd) && opposite(cda, cdb) {
        return true;
    }
    let within = |p: PlanePoint, q: PlanePoint, r: PlanePoint| {
        (p.0.min(q.0)..=p.0.max(q.0)).contains(&r.0) && (p.1.min(q.1)..=p.1.max(q.1)).contains(&r.1)
    };
    (abc == 0.0 && within(a, b, c))
        || (abd == 0.0 && within(a, b, d))
        || (cda == 0.0 && within(c, d, a))
        || (cdb == 0.0 && within(c, d, b))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    /// Numbers of the marks, in the order of the record.
    #[track_caller]
    fn order(written: &str) -> Vec<usize> {
        let folder = folder(&format!("photo = [{{ file = \"a.jpg\", marks = [{written}] }}]"), "");
        let record = folder.pieces[0].record.as_ref().expect("it was read");
        let mut marked = marks(&record.photos[0].marks, Some((1600, 1200)));
        marked.sort_by_key(|mark| mark.mark.span.start);
        marked.into_iter().map(|mark| mark.number).collect()
    }

    #[track_caller]
    fn measured(mark: &str, size: (u32, u32)) -> Result<f64, NoArea> {
        let folder = folder(&format!("photo = [{{ file = \"a.jpg\", marks = [{{ {mark} }}] }}]"), "");
        let record = folder.pieces[0].record.as_ref().expect("it was read");
        let marked = marks(&record.photos[0].marks, Some(size));
        marked[0].area.expect("it has a scale").map(|area| area.m2() * 1e4)
    }

    #[test]
    fn marks_are_read_as_a_page_is() {
        assert_eq!(order("{ at = [0.9, 0.1] }, { at = [0.1, 0.15] }, { at = [0.5, 0.6] }"), [2, 1, 3]);
        // A row is a tenth high, from its highest mark on.
        assert_eq!(order("{ at = [0.9, 0.10] }, { at = [0.1, 0.199] }"), [2, 1]);
        assert_eq!(order("{ at = [0.9, 0.10] }, { at = [0.1, 0.201] }"), [1, 2]);
        // No chain of marks, each a little lower than the one before, makes one long row.
        assert_eq!(
            order("{ at = [0.9, 0.10] }, { at = [0.5, 0.18] }, { at = [0.1, 0.26] }, { at = [0.05, 0.34] }"),
            [2, 1, 4, 3]
        );
        assert_eq!(order("{ at = [0.5, 0.5] }, { at = [0.5, 0.5] }"), [1, 2]);
        assert_eq!(order(""), Vec::<usize>::new());
    }

    #[test]
    fn lines_are_read_at_their_beginning_and_areas_at_their_top() {
        assert_eq!(order("{ line = [[0.8, 0.2], [0.1, 0.9]] }, { at = [0.5, 0.2] }"), [2, 1]);
        assert_eq!(order("{ area = [[0.2, 0.9], [0.6, 0.1], [0.8, 0.9]] }, { at = [0.5, 0.3] }"), [1, 2]);
    }

    #[test]
    fn a_mark_of_two_shapes_or_none_has_no_number() {
        assert_eq!(
            order("{ note = \"x\" }, { at = [0.5, 0.3] }, { at = [0.1, 0.1], line = [[0, 0], [1, 1]] }"),
            [1]
        );
    }

    #[test]
    fn an_area_is_that_of_its_pixels() {
        // 800 x 300 pixels, where 100 mm are 200 pixels: 400 x 150 mm.
        let square = "area = [[0.25, 0.25], [0.75, 0.25], [0.75, 0.5], [0.25, 0.5]]";
        let along = "scale = { from = [0.25, 0.8], to = [0.375, 0.8], mm = 100 }";
        let down = "scale = { from = [0.1, 0.5], to = [0.1, 0.6666666667], mm = 100 }";
        for scale in [along, down] {
            let found = measured(&format!("{square}, {scale}"), (1600, 1200)).unwrap();
            assert!((found - 600.0).abs() < 1e-6, "{scale}: {found}");
        }
        // The same fractions of an upright photograph are another shape.
        let found = measured(&format!("{square}, {along}"), (1200, 1600)).unwrap();
        assert!((found - 1_066.666_667).abs() < 1e-6, "{found}");
    }

    #[test]
    fn an_outline_that_crosses_itself_or_is_flat_has_no_area() {
        let scale = "scale = { from = [0, 0], to = [1, 0], mm = 500 }";
        let of = |corners: &str| measured(&format!("area = {corners}, {scale}"), (1000, 1000));
        assert_eq!(of("[[0.1, 0.1], [0.9, 0.9], [0.9, 0.1], [0.1, 0.9]]"), Err(NoArea::Crosses));
        assert_eq!(of("[[0.1, 0.1], [0.5, 0.5], [0.9, 0.9]]"), Err(NoArea::Empty));
        // A corner that lies on another side.
        assert_eq!(of("[[0, 0], [1, 0], [1, 1], [0.5, 0], [0, 1]]"), Err(NoArea::Crosses));
        // A corner that points inwards is no crossing.
        let found = of("[[0, 0], [1, 0], [0.5, 0.25], [0, 1]]").unwrap();
        assert!((found - 937.5).abs() < 1e-6, "{found}");
        assert!((of("[[0, 1], [1, 0], [0, 0]]").unwrap() - 1250.0).abs() < 1e-6);
    }

    #[test]
    fn a_short_length_measures_nothing() {
        let of = |to: &str| {
            let area = "area = [[0, 0], [1, 0], [1, 0.5]]";
            measured(&format!("{area}, scale = {{ from = [0.2, 0.9], to = {to}, mm = 5 }}"), (1000, 1000))
        };
        assert_eq!(of("[0.31, 0.9]"), Err(NoArea::ShortScale));
        assert_eq!(of("[0.2, 0.9]"), Err(NoArea::ShortScale));
        assert!(of("[0.32, 0.9]").is_ok());
    }

    proptest! {
        #[test]
        fn every_number_is_given_once(
            points in prop::collection::vec((0.0_f64..=1.0, 0.0_f64..=1.0), 0..12)
        ) {
            let written: Vec<String> =
                points.iter().map(|(x, y)| format!("{{ at = [{x:.6}, {y:.6}] }}")).collect();
            let mut numbers = order(&written.join(", "));
            numbers.sort_unstable();
            prop_assert_eq!(numbers, (1..=points.len()).collect::<Vec<_>>());
        }

        /// Regular polygons, turned: their area has a formula of its own.
        #[test]
        fn polygons_have_their_area_however_they_lie(corners in 3_usize..24, turn in 0.0_f64..6.3) {
            let at = |corner: usize| {
                let angle = turn + corner as f64 * std::f64::consts::TAU / corners as f64;
                format!("[{:.12}, {:.12}]", 0.5 + 0.4 * angle.cos(), 0.5 + 0.4 * angle.sin())
            };
            let outline: Vec<String> = (0..corners).map(at).collect();
            let mark = format!(
                "area = [{}], scale = {{ from = [0, 0], to = [1, 0], mm = 1000 }}", outline.join(", ")
            );
            let is = corners as f64 / 2.0 * 0.16 * (std::f64::consts::TAU / corners as f64).sin() * 1e4;
            prop_assert!((measured(&mark, (1000, 1000)).unwrap() - is).abs() < 1e-5);
        }
    }
}
