//! Marks as they lie over a photograph: numbered discs, lines with an arrow, outlined areas.
//!
//! Geometry stays in fractions of the photograph until [`Canvas::place`] takes it to pixels, so that a picture that is
//! shown warped needs no more than a canvas of its own.

use std::fmt::Write;

use serde::Serialize;

use crate::claim::says;
use crate::derive::{Marked, Photograph, number_at};
use crate::record::Shape;
use crate::unit::Point;
use crate::view::context::PieceContext;
use crate::view::names::finding_anchor;

/// A numbered mark over a photograph, in the pixels of its largest size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MarkView {
    /// Its number on the photograph, in the order of reading.
    pub number: usize,
    /// The id of its line in the list of marks; empty where that list stands twice on a page, the second time.
    pub id: String,
    /// `point`, `line` or `area`.
    pub kind: &'static str,
    /// The same for those who do not see the photograph: `a point`, `a line with an arrow`, `an outlined area`.
    pub kind_words: String,
    /// The middle of its disc, from the left edge.
    pub x: f64,
    /// The middle of its disc, from the top edge.
    pub y: f64,
    /// Radius of its disc.
    pub radius: f64,
    /// The line or the outline, as the data of an SVG path; empty for a point.
    pub path: String,
    /// The head of the arrow, likewise; empty where there is none.
    pub head: String,
    /// What it points at, in words.
    pub text: String,
    /// How large the outlined area is; may be empty.
    pub size: String,
    /// The id of the finding, work or part on the same page that says more; empty where there is none.
    pub anchor: String,
}

impl MarkView {
    /// The number of the finding that it shows.
    pub(super) fn finding(&self) -> Option<usize> {
        let first = finding_anchor(0);
        self.anchor.strip_prefix(first.trim_end_matches('0'))?.parse().ok()
    }
}

/// Where on a page points of a photograph lie.
pub(super) struct Canvas<'a> {
    /// Pixels from a point of the upright photograph.
    pub(super) place: &'a dyn Fn(Point) -> (f64, f64),
    /// Radius of a disc in pixels.
    pub(super) radius: f64,
}

impl Canvas<'_> {
    /// The radius of a disc on a picture of this size.
    pub(super) fn radius(width: u32, height: u32) -> f64 {
        (f64::from(width.min(height)) / 34.0).max(8.0).round()
    }

    /// A mark on this canvas; `photograph` is its photograph's place in the piece's order.
    pub(super) fn mark(
        &self,
        context: &PieceContext<'_>,
        photograph: &Photograph,
        marked: &Marked,
    ) -> Option<MarkView> {
        let mark = &marked.mark;
        let shape = mark.shape()?;
        let (x, y) = (self.place)(number_at(shape));
        let (path, head) = match shape {
            Shape::Point(_) => (String::new(), String::new()),
            Shape::Line(line) => self.arrow((self.place)(line.from), (self.place)(line.to)),
            Shape::Area(outline) => (self.outline(&outline.0), String::new()),
        };
        let (text, anchor) = context.names.mark(mark);
        let size = match &marked.area {
            Some(Ok(area)) => context.house.area(*area),
            _ => String::new(),
        };
        let (kind, kind_words) = match shape {
            Shape::Point(_) => ("point", says!("mark-point")),
            Shape::Line(_) => ("line", says!("mark-line")),
            Shape::Area(_) => ("area", says!("mark-area")),
        };
        let id = mark_anchor(photograph, marked.number);
        let (x, y) = (x.round(), y.round());
        Some(MarkView {
            number: marked.number,
            id,
            kind,
            kind_words: context.house.words().say(&kind_words),
            x,
            y,
            radius: self.radius,
            path,
            head,
            text,
            size,
            anchor,
        })
    }

    fn outline(&self, corners: &[Point]) -> String {
        let mut path = String::new();
        for (index, corner) in corners.iter().enumerate() {
            let (x, y) = (self.place)(*corner);
            put(&mut path, if index == 0 { 'M' } else { 'L' }, x, y);
        }
        path.push('Z');
        path
    }

    /// The shaft of an arrow and its head; the head alone where the line is no longer than that.
    fn arrow(&self, from: (f64, f64), to: (f64, f64)) -> (String, String) {
        let (dx, dy) = (to.0 - from.0, to.1 - from.1);
        let length = libm::hypot(dx, dy);
        if length < 1.0 {
            return (String::new(), String::new());
        }
        let (dx, dy) = (dx / length, dy / length);
        let (long, half) = (self.radius * 1.3, self.radius * 0.6);
        let base = (to.0 - dx * long, to.1 - dy * long);
        let mut shaft = String::new();
        if length > long {
            put(&mut shaft, 'M', from.0, from.1);
            put(&mut shaft, 'L', base.0, base.1);
        }
        let mut head = String::new();
        put(&mut head, 'M', to.0, to.1);
        put(&mut head, 'L', base.0 - dy * half, base.1 + dx * half);
        put(&mut head, 'L', base.0 + dy * half, base.1 - dx * half);
        head.push('Z');
        (shaft, head)
    }
}

fn put(path: &mut String, letter: char, x: f64, y: f64) {
    // Whole pixels of the largest size; no negative zero.
    let (x, y) = (x.round() + 0.0, y.round() + 0.0);
    write!(path, "{letter}{x} {y}").expect("a string takes everything");
}

/// The id of a mark's line in its list.
pub(super) fn mark_anchor(photograph: &Photograph, number: usize) -> String {
    format!("mark-{}-{number}", photograph.number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit::Fraction;

    fn point(x: f64, y: f64) -> Point {
        Point { x: Fraction::new(x).unwrap(), y: Fraction::new(y).unwrap() }
    }

    #[test]
    fn an_arrow_ends_at_its_point() {
        let place = |point: Point| (point.x.value() * 1000.0, point.y.value() * 500.0);
        let canvas = Canvas { place: &place, radius: 10.0 };
        let (shaft, head) = canvas.arrow(place(point(0.1, 0.2)), place(point(0.5, 0.2)));
        assert_eq!(shaft, "M100 100L487 100");
        assert_eq!(head, "M500 100L487 106L487 94Z");
        // Too short for a shaft, and no line at all.
        assert_eq!(canvas.arrow((0.0, 0.0), (12.0, 0.0)).0, "");
        assert_eq!(canvas.arrow((5.0, 5.0), (5.0, 5.0)), (String::new(), String::new()));
    }

    #[test]
    fn an_outline_closes() {
        let place = |point: Point| (point.x.value() * 1000.0, point.y.value() * 500.0);
        let canvas = Canvas { place: &place, radius: 10.0 };
        let outline = canvas.outline(&[point(0.0, 0.0), point(1.0, 0.0), point(0.5, 1.0)]);
        assert_eq!(outline, "M0 0L1000 0L500 500Z");
    }

    #[test]
    fn discs_grow_with_the_picture_and_are_never_tiny() {
        assert_eq!(Canvas::radius(1600, 1200), 35.0);
        assert_eq!(Canvas::radius(60, 1200), 8.0);
    }
}
