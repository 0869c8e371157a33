//! What the record adds to its photographs.

use super::{FindingId, PartId, PatchId, WorkId};
use crate::fields::shape::{choices, table};
use crate::fields::{Landmark, Line, OneOrMore, Outline, Percent, Row, Said, Text};
use crate::unit::{Length, Point, Rectangle};

choices! {
    /// When in the work a photograph was taken.
    pub enum PhotoStage {
        /// As found.
        Before = "before" ["arrival", "as found", "at the start", "found", "on arrival"],
        /// At work.
        During = "during" ["at work", "in progress", "in work", "wip", "work in progress"],
        /// Seen once, and covered now.
        Hidden = "hidden" ["covered now", "covered up"],
        /// As finished.
        After = "after" ["as finished", "complete", "completed", "done", "finished"],
        /// On the day it left.
        Handover = "handover" ["collected", "delivery", "handed over", "on delivery", "on handover"],
    }
}

table! {
    /// A length that is known, in the plane of an outlined area.
    pub struct Scale ("scale") {
        /// One of its ends.
        "from" => from: Said<Point>,
        /// The other end.
        "to" => to: Said<Point>,
        /// How far apart they are, in millimetres.
        "mm" => mm: Said<Length>,
    }
}

table! {
    /// A numbered mark on a photograph: exactly one of `at`, `line` and `area`.
    pub struct Mark ("mark") {
        /// A point, as fractions of the upright photograph.
        "at" => at: Option<Said<Point>>,
        /// A line with an arrow at its end.
        "line" => line: Option<Said<Line>>,
        /// An outlined area.
        "area" => area: Option<Said<Outline>>,
        /// A known length in the plane of the area, from which its size is worked out.
        "scale" => scale: Option<Said<Scale>>,
        /// The finding it points at.
        "finding" => finding: Option<Said<FindingId>>,
        /// The part it points at.
        "part" => part: Option<Said<PartId>>,
        /// The patch it points at.
        "patch" => patch: Option<Said<PatchId>>,
        /// The work it points at.
        "work" => work: Option<Said<WorkId>>,
        /// Words of its own.
        "note" => note: Option<Said<Text>>,
    }
    example = "{ at = [0.42, 0.66], note = \"…\" }";
}

/// Where on the photograph a mark is, and as what.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shape<'a> {
    /// A point.
    Point(&'a Point),
    /// A line with an arrow at its end.
    Line(&'a Line),
    /// An outlined area.
    Area(&'a Outline),
}

impl Mark {
    /// Whether it does no more than outline a part: so standings are drawn, and no number stands on the photograph for it.
    pub fn outlines_part(&self) -> bool {
        let says_more = self.finding.is_some()
            || self.patch.is_some()
            || self.work.is_some()
            || self.note.is_some()
            || self.scale.is_some();
        matches!(self.shape(), Some(Shape::Area(_))) && self.part.is_some() && !says_more
    }

    /// Every shape that the mark is given; a sound mark has one.
    pub fn shapes(&self) -> Vec<Shape<'_>> {
        let point = self.at.as_ref().map(|at| Shape::Point(&at.value));
        let line = self.line.as_ref().map(|line| Shape::Line(&line.value));
        let area = self.area.as_ref().map(|area| Shape::Area(&area.value));
        point.into_iter().chain(line).chain(area).collect()
    }

    /// The one shape of a sound mark.
    pub fn shape(&self) -> Option<Shape<'_>> {
        match self.shapes()[..] {
            [shape] => Some(shape),
            _ => None,
        }
    }
}

table! {
    /// What the record adds to one photograph; most need no entry.
    pub struct PhotoEntry ("[[photo]]") {
        /// The file's name in `photos/`.
        "file" => file: Said<Text>,
        /// What it shows, for those who cannot see it.
        "alt" => alt: Option<Said<Text>>,
        /// Words under the picture.
        "caption" => caption: Option<Said<Text>>,
        /// When it was taken, where the file's name does not say.
        "stage" => stage: Option<Said<PhotoStage>>,
        /// What it is a view of, where the file's name does not say.
        "view" => view: Option<Said<Text>>,
        /// For the workshop's own archive alone.
        "private" => private: Option<Said<bool>>,
        /// Numbered marks.
        "marks" => marks: Vec<Row<Mark>>,
    }
}

table! {
    /// Before and after of one view, where their names do not say so.
    pub struct Pair ("[[pair]]") {
        /// The file before.
        "before" => before: Said<Text>,
        /// The file after.
        "after" => after: Said<Text>,
        /// The same points in both.
        "landmarks" => landmarks: Vec<Said<Landmark>>,
        /// Whether the tone of the two is matched; true if not said.
        "match-tone" => match_tone: Option<Said<bool>>,
    }
}

table! {
    /// A colour measured from a photograph.
    pub struct Swatch ("[[swatch]]") {
        /// The file.
        "photo" => photo: Said<Text>,
        /// A neutral grey card.
        "grey" => grey: Option<Said<Rectangle>>,
        /// The grey card's reflectance in percent, if known.
        "grey-reflectance" => grey_reflectance: Option<Said<Percent>>,
        /// The colour aimed at.
        "target" => target: Said<Rectangle>,
        /// The colour reached.
        "result" => result: Said<Rectangle>,
        /// The surface it was for, counted from 1.
        "surface" => surface: Option<Said<crate::fields::Count>>,
        /// The photograph's surface parts, where no surface has it.
        "part" => part: OneOrMore<PartId>,
        /// Anything worth printing.
        "note" => note: Option<Said<Text>>,
    }
}

/// Whether a file's name ends as photographs do; anything else in `photos/` is left alone, and so are subfolders.
pub fn looks_like_photograph(file: &str) -> bool {
    let endings = [
        "jpg", "jpeg", "jpe", "jfif", "png", "webp", "tif", "tiff", "heic", "heif", "avif", "gif", "bmp",
        "dng", "cr2", "nef", "arw",
    ];
    file.rsplit_once('.').is_some_and(|(_, ending)| endings.contains(&ending.to_ascii_lowercase().as_str()))
}
