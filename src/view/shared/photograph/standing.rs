//! Standings drawn over a photograph on which parts are outlined.

use serde::Serialize;

use super::gallery::Gallery;
use super::picture::PhotoView;
use crate::derive::PhotographFacts;
use crate::record::{PartId, PhotoStage, Shape, Standing};

/// The outline of a part, in the pixels of the photograph's widest size.
#[derive(Debug, Clone, Serialize)]
pub struct OutlineView {
    /// The number of its line in the list of parts; 0 where it has none of its own.
    pub number: usize,
    /// Its standing as the record writes it, for a theme's patterns.
    pub standing_word: &'static str,
    /// Its corners.
    pub corners: Vec<(f64, f64)>,
    /// The same as the `points` of an SVG polygon.
    pub points: String,
    /// Where its number stands, from the left.
    pub x: f64,
    /// Where its number stands, from the top.
    pub y: f64,
}

/// A photograph with the standings of its parts.
#[derive(Debug, Clone, Serialize)]
pub struct StandingDrawing {
    /// The photograph, without its marks.
    pub photo: PhotoView,
    /// The outlines, the largest first, so that none hides another.
    pub outlines: Vec<OutlineView>,
}

impl Gallery<'_> {
    /// The photograph on which most parts are outlined, one from after the work before others, with the standing of
    /// each and its number in a list; `None` where no part is outlined that the list has.
    pub(crate) fn standing(
        &self,
        listed: &dyn Fn(&PartId) -> Option<(usize, Standing)>,
    ) -> Option<StandingDrawing> {
        let outlined = |facts: &PhotographFacts| {
            let known = facts.outlines.iter().filter_map(|mark| mark.part.as_ref());
            known.filter(|part| listed(part).is_some()).count()
        };
        let after = |facts: &PhotographFacts| facts.photograph.stage == Some(PhotoStage::After);
        let all = self.seen().filter(|(facts, view)| outlined(facts) > 0 && view.fault.is_empty());
        // Of several alike the first is taken.
        let (facts, view) = all.rev().max_by_key(|(facts, _)| (after(facts), outlined(facts)))?;
        let mut photo = view.clone();
        photo.marks.clear();
        let (wide, high) = (f64::from(photo.width), f64::from(photo.height));
        let mut outlines: Vec<OutlineView> = Vec::new();
        for mark in &facts.outlines {
            let (Some(part), Some(Shape::Area(outline))) = (&mark.part, mark.shape()) else { continue };
            let Some((number, standing)) = listed(part) else { continue };
            let corners = outline.0.iter().map(|point| (point.x.value() * wide, point.y.value() * high));
            let corners: Vec<(f64, f64)> = corners.map(|(x, y)| (x.round(), y.round())).collect();
            // A part that is outlined in several places has its number on the first of them.
            let told = outlines.iter().any(|other| other.number == number);
            let (x, y) = middle(&corners);
            let number = if told { 0 } else { number };
            let points: Vec<String> = corners.iter().map(|(x, y)| format!("{x},{y}")).collect();
            let points = points.join(" ");
            outlines.push(OutlineView { number, standing_word: standing.word(), corners, points, x, y });
        }
        outlines.sort_by(|one, other| area(&other.corners).abs().total_cmp(&area(&one.corners).abs()));
        Some(StandingDrawing { photo, outlines })
    }
}

/// Twice the area of a polygon, in square pixels; negative where its corners go round against the clock.
fn area(corners: &[(f64, f64)]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|((x, y), (to_x, to_y))| x * to_y - to_x * y).sum()
}

/// The middle of a polygon; of one without area, its first corner.
fn middle(corners: &[(f64, f64)]) -> (f64, f64) {
    let whole = area(corners);
    if whole.abs() < 1.0 {
        return corners.first().copied().unwrap_or_default();
    }
    let next = corners.iter().cycle().skip(1);
    let sums = corners.iter().zip(next).fold((0.0, 0.0), |(sum_x, sum_y), ((x, y), (to_x, to_y))| {
        let turn = x * to_y - to_x * y;
        (sum_x + (x + to_x) * turn, sum_y + (y + to_y) * turn)
    });
    ((sums.0 / (3.0 * whole)).round(), (sums.1 / (3.0 * whole)).round())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::photographed;

    #[test]
    fn the_middle_of_an_outline_is_its_centre_of_area() {
        assert_eq!(middle(&[(0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (0.0, 20.0)]), (5.0, 10.0));
        assert_eq!(middle(&[(0.0, 20.0), (10.0, 20.0), (10.0, 0.0), (0.0, 0.0)]), (5.0, 10.0));
        assert_eq!(middle(&[(3.0, 4.0), (3.0, 4.0)]), (3.0, 4.0));
        assert_eq!(middle(&[]), (0.0, 0.0));
    }

    #[test]
    fn an_outline_of_a_part_is_no_numbered_mark() {
        let outline = "area = [[0.1, 0.1], [0.5, 0.1], [0.5, 0.5]], part = \"a\"";
        let record = format!(
            "part = [{{ id = \"a\", name = \"Top\", standing = \"new\" }}]\n\
             photo = [{{ file = \"after-front.jpg\", alt = \"x\", marks = [{{ {outline} }}, {{ {outline}, note = \"a dent\" }}] }}]"
        );
        photographed(&["after-front.jpg"], &record, |context| {
            let facts = &context.photographs.all[0];
            assert_eq!((facts.outlines.len(), facts.marks.len()), (1, 1));
            // Nobody opened it, so it cannot be drawn on.
            let gallery = Gallery::of(context, Sees::Public);
            assert!(gallery.standing(&|_| Some((1, Standing::New))).is_none());
        });
    }
}
