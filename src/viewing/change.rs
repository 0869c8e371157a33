//! What somebody set on a photograph, and the TOML that says it.

use serde::Deserialize;
use toml_edit::{Array, InlineTable, Value};

use crate::derive::{NoArea, area};
use crate::fields::LENGTH;
use crate::unit::{Area, Fraction, Length, Point, Rectangle};

/// What is to be added to a record.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// Points that two photographs have in common; they take the place of those that the pair had.
    Landmarks {
        /// The file before.
        before: String,
        /// The file after.
        after: String,
        /// The same points in both.
        landmarks: Vec<(Point, Point)>,
    },
    /// Marks for one photograph, after those that it has.
    Marks {
        /// The file.
        photo: String,
        /// The marks.
        marks: Vec<Mark>,
    },
    /// Patches of colour on one photograph.
    Swatch {
        /// The file.
        photo: String,
        /// A neutral grey card.
        grey: Option<Rectangle>,
        /// The colour aimed at.
        target: Rectangle,
        /// The colour reached.
        result: Rectangle,
        /// The surface it was for, counted from 1.
        surface: Option<u32>,
    },
}

/// A mark on a photograph: where, and what is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Where it is.
    pub shape: Shape,
    /// The finding it points at.
    pub finding: Option<String>,
    /// The part it points at.
    pub part: Option<String>,
    /// The patch it points at.
    pub patch: Option<String>,
    /// The work it points at.
    pub work: Option<String>,
    /// Words of its own.
    pub note: Option<String>,
}

/// The shape of a mark.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A point.
    Point(Point),
    /// A line from one point to another.
    Line([Point; 2]),
    /// What lies between three points or more.
    Area {
        /// The points, one after the other.
        corners: Vec<Point>,
        /// What its size is worked out from.
        scale: Option<Scale>,
    },
}

/// A length that is known, in the plane of an outlined area.
#[derive(Debug, Clone, PartialEq)]
pub struct Scale {
    /// Its ends.
    pub ends: [Point; 2],
    /// How far apart they are.
    pub apart: Length,
}

/// Why no change can be made of what was sent; a sentence without its full stop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Unfinished(String);

impl Change {
    /// Reads a change as the page sends it.
    ///
    /// # Errors
    /// [`Unfinished`] where it is no change, or not a whole one yet.
    pub fn of(sent: Sent) -> Result<Change, Unfinished> {
        match sent {
            Sent::Landmarks { before, after, landmarks } => {
                if landmarks.is_empty() {
                    return unfinished(
                        "set a point in the picture before and the same point in the one after",
                    );
                }
                let both = |[x, y, u, v]: [f64; 4]| Ok((point([x, y])?, point([u, v])?));
                let landmarks = landmarks.into_iter().map(both).collect::<Result<_, _>>()?;
                Ok(Change::Landmarks { before, after, landmarks })
            }
            Sent::Marks { photo, marks } => {
                if marks.is_empty() {
                    return unfinished("set a mark on the picture");
                }
                let marks = marks.into_iter().map(Mark::of).collect::<Result<_, _>>()?;
                Ok(Change::Marks { photo, marks })
            }
            Sent::Swatch { photo, grey, target, result, surface } => {
                let (Some(target), Some(result)) = (target, result) else {
                    return unfinished("draw the patch that was aimed at and the one that was reached");
                };
                let grey = grey.map(rectangle).transpose()?;
                let (target, result) = (rectangle(target)?, rectangle(result)?);
                Ok(Change::Swatch { photo, grey, target, result, surface })
            }
        }
    }

    /// The change as TOML that can be pasted at the end of a record.
    pub fn toml(&self) -> String {
        let mut text = format!("[[{}]]\n", self.table());
        for (key, value) in self.keys() {
            text.push_str(&format!("{key} = {}\n", value.to_string().trim()));
        }
        text
    }

    /// The table of the record that the change belongs in.
    pub(super) fn table(&self) -> &'static str {
        match self {
            Change::Landmarks { .. } => "pair",
            Change::Marks { .. } => "photo",
            Change::Swatch { .. } => "swatch",
        }
    }

    /// The keys by which an entry is known as the one that the change is about; none where each is an entry of its own.
    pub(super) fn known_by(&self) -> Vec<(&'static str, &str)> {
        match self {
            Change::Landmarks { before, after, .. } => vec![("before", before), ("after", after)],
            Change::Marks { photo, .. } => vec![("file", photo)],
            Change::Swatch { .. } => Vec::new(),
        }
    }

    /// All keys of an entry that says the change and nothing else.
    pub(super) fn keys(&self) -> Vec<(&'static str, Value)> {
        let mut keys: Vec<(&str, Value)> =
            self.known_by().into_iter().map(|(key, value)| (key, Value::from(value))).collect();
        match self {
            Change::Landmarks { landmarks, .. } => {
                keys.push(("landmarks", rows(landmarks.iter().map(landmark))))
            }
            Change::Marks { marks, .. } => keys.push(("marks", rows(marks.iter().map(Mark::value)))),
            Change::Swatch { photo, grey, target, result, surface } => {
                keys.push(("photo", Value::from(photo.as_str())));
                keys.extend(grey.iter().map(|grey| ("grey", patch(grey))));
                keys.extend([("target", patch(target)), ("result", patch(result))]);
                keys.extend(surface.map(|surface| ("surface", Value::from(i64::from(surface)))));
            }
        }
        keys
    }
}

impl Mark {
    fn of(sent: SentMark) -> Result<Mark, Unfinished> {
        if sent.scale.is_some() && !matches!(sent.shape, SentShape::Area) {
            return unfinished("this known length belongs to no outlined area");
        }
        let points = sent.points.into_iter().map(point).collect::<Result<Vec<Point>, _>>()?;
        let shape = match (sent.shape, points.as_slice()) {
            (SentShape::Point, [at]) => Shape::Point(*at),
            (SentShape::Point, _) => return unfinished("a mark at a point has one point"),
            (SentShape::Line, [from, to]) => Shape::Line([*from, *to]),
            (SentShape::Line, _) => return unfinished("a line has two points: set the other one"),
            (SentShape::Area, [_, _, _, ..]) => {
                let scale = sent.scale.as_ref().map(Scale::of).transpose()?;
                Shape::Area { corners: points, scale }
            }
            (SentShape::Area, _) => return unfinished("an area has three points or more: set another one"),
        };
        let said =
            |text: Option<String>| text.map(|text| text.trim().to_owned()).filter(|text| !text.is_empty());
        let [finding, part, work, note] = [sent.finding, sent.part, sent.work, sent.note].map(said);
        Ok(Mark { shape, finding, part, patch: None, work, note })
    }

    /// A mark of this shape, as a form names it, that points at nothing yet.
    ///
    /// # Errors
    /// [`Unfinished`].
    pub(super) fn shaped(shape: &str, points: Vec<[f64; 2]>) -> Result<Mark, Unfinished> {
        let shape = match shape {
            "line" => SentShape::Line,
            "area" => SentShape::Area,
            _ => SentShape::Point,
        };
        Mark::of(SentMark { shape, points, scale: None, finding: None, part: None, work: None, note: None })
    }

    /// How large the mark's area is, where it has one with a known length; from the size of the photograph in pixels.
    pub fn area(&self, photograph: (u32, u32)) -> Option<Result<Area, NoArea>> {
        let Shape::Area { corners, scale: Some(scale) } = &self.shape else { return None };
        Some(area(corners, scale.ends, scale.apart, photograph))
    }

    pub(super) fn value(&self) -> Value {
        let (key, place) = match &self.shape {
            Shape::Point(at) => ("at", point_value(at)),
            Shape::Line(ends) => ("line", list(ends.iter().map(point_value))),
            Shape::Area { corners, .. } => ("area", list(corners.iter().map(point_value))),
        };
        let mut table = InlineTable::new();
        table.insert(key, place);
        if let Shape::Area { scale: Some(scale), .. } = &self.shape {
            table.insert("scale", scale.value());
        }
        let meant = [
            ("finding", &self.finding),
            ("part", &self.part),
            ("patch", &self.patch),
            ("work", &self.work),
            ("note", &self.note),
        ];
        for (key, said) in meant {
            if let Some(said) = said {
                table.insert(key, Value::from(said.as_str()));
            }
        }
        Value::InlineTable(table)
    }
}

impl Scale {
    fn of(sent: &SentScale) -> Result<Scale, Unfinished> {
        let &[from, to] = sent.points.as_slice() else {
            return unfinished("a known length has two ends: set them in the plane of the area");
        };
        let Some(mm) = sent.mm else {
            return unfinished("say how long the known length is, in millimetres");
        };
        if from.iter().zip(to).all(|(from, to)| (from - to).abs() < SMALLEST) {
            return unfinished("the ends of a known length lie on each other: move one of them");
        }
        let Some(apart) = Length::from_mm(mm) else {
            return Err(Unfinished(format!("{mm} cannot be {LENGTH}")));
        };
        Ok(Scale { ends: [point(from)?, point(to)?], apart })
    }

    fn value(&self) -> Value {
        let [from, to] = &self.ends;
        let mm = self.apart.mm().to_string().parse().expect("a finite number is one of TOML");
        let keys = [("from", point_value(from)), ("to", point_value(to)), ("mm", mm)];
        Value::InlineTable(keys.into_iter().collect())
    }
}

/// A change as the page sends it: numbers that may be anything.
#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case", deny_unknown_fields)]
#[expect(missing_docs, reason = "each field is the one of `Change` with its name")]
pub enum Sent {
    /// See [`Change::Landmarks`].
    Landmarks { before: String, after: String, landmarks: Vec<[f64; 4]> },
    /// See [`Change::Marks`].
    Marks { photo: String, marks: Vec<SentMark> },
    /// See [`Change::Swatch`].
    Swatch {
        photo: String,
        grey: Option<[f64; 4]>,
        target: Option<[f64; 4]>,
        result: Option<[f64; 4]>,
        surface: Option<u32>,
    },
}

/// A mark as the page sends it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SentMark {
    shape: SentShape,
    points: Vec<[f64; 2]>,
    scale: Option<SentScale>,
    finding: Option<String>,
    part: Option<String>,
    work: Option<String>,
    note: Option<String>,
}

/// A known length as the page sends it.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct SentScale {
    points: Vec<[f64; 2]>,
    mm: Option<f64>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum SentShape {
    Point,
    Line,
    Area,
}

fn unfinished<T>(why: &str) -> Result<T, Unfinished> {
    Err(Unfinished(why.to_owned()))
}

fn fraction(value: f64) -> Result<Fraction, Unfinished> {
    Fraction::new(value).ok_or_else(|| Unfinished(format!("{value} lies outside the picture")))
}

fn point([x, y]: [f64; 2]) -> Result<Point, Unfinished> {
    Ok(Point { x: fraction(x)?, y: fraction(y)? })
}

fn rectangle([x, y, width, height]: [f64; 4]) -> Result<Rectangle, Unfinished> {
    if width < SMALLEST || height < SMALLEST {
        return unfinished("a patch is too small to measure: draw it larger");
    }
    // A patch that ends at the picture's edge may be past it by the last bit of a number.
    let (width, height) = (width.min(1.0 - x), height.min(1.0 - y));
    Ok(Rectangle { corner: point([x, y])?, width: fraction(width)?, height: fraction(height)? })
}

/// The smallest side of a patch or of a known length: below this it would be written as nothing.
const SMALLEST: f64 = 0.0005;

/// A fraction with four decimals, which tell the pixels of a photograph up to 10,000 wide apart.
fn number(fraction: Fraction) -> Value {
    format!("{:.4}", fraction.value()).parse().expect("digits with a point are a TOML number")
}

fn list(values: impl Iterator<Item = Value>) -> Value {
    Value::Array(values.collect())
}

/// A list with a line for each value, or on one line where there is one value.
fn rows(values: impl Iterator<Item = Value>) -> Value {
    let mut array: Array = values.collect();
    if array.len() > 1 {
        array.iter_mut().for_each(|value| value.decor_mut().set_prefix("\n  "));
        array.set_trailing_comma(true);
        array.set_trailing("\n");
    }
    Value::Array(array)
}

fn point_value(point: &Point) -> Value {
    list([point.x, point.y].into_iter().map(number))
}

pub(super) fn landmark((before, after): &(Point, Point)) -> Value {
    list([before.x, before.y, after.x, after.y].into_iter().map(number))
}

/// A rectangle whose written sides end where its corner does, so that none is rounded beyond the picture.
fn patch(patch: &Rectangle) -> Value {
    let side = |from: Fraction, size: Fraction| {
        let start = (from.value() * 1e4).round();
        let end = ((from.value() + size.value()) * 1e4).round().min(1e4);
        (start / 1e4, (end - start) / 1e4)
    };
    let (x, width) = side(patch.corner.x, patch.width);
    let (y, height) = side(patch.corner.y, patch.height);
    list([x, y, width, height].into_iter().filter_map(Fraction::new).map(number))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(sent: &str, toml: &str) {
        let sent: Sent = serde_json::from_str(sent).unwrap();
        match Change::of(sent) {
            Ok(change) => assert_eq!(change.toml(), toml),
            Err(why) => assert_eq!(why.to_string(), toml),
        }
    }

    #[test]
    fn each_kind_is_said_as_a_record_says_it() {
        case(
            r#"{"kind": "landmarks", "before": "before-front.jpg", "after": "after \"2\".jpg",
                "landmarks": [[0.25244, 0.3, 0.25851, 1], [0, 0.5, 0.1, 0.2]]}"#,
            "[[pair]]\nbefore = \"before-front.jpg\"\nafter = 'after \"2\".jpg'\nlandmarks = [\n  \
             [0.2524, 0.3000, 0.2585, 1.0000],\n  [0.0000, 0.5000, 0.1000, 0.2000],\n]\n",
        );
        case(
            r#"{"kind": "marks", "photo": "a.jpg", "marks": [
                {"shape": "point", "points": [[0.5, 0.25]], "finding": "f-split", "note": " above the rail "}]}"#,
            "[[photo]]\nfile = \"a.jpg\"\nmarks = [{ at = [0.5000, 0.2500], finding = \"f-split\", note = \"above the rail\" }]\n",
        );
        case(
            r#"{"kind": "marks", "photo": "a.jpg", "marks": [
                {"shape": "line", "points": [[0, 0], [1, 1]], "part": "top"},
                {"shape": "area", "points": [[0, 0], [1, 0], [1, 1]], "note": ""},
                {"shape": "area", "points": [[0, 0], [1, 0], [1, 1]],
                 "scale": {"points": [[0.2, 0.25], [0.20001, 0.75]], "mm": 337}, "part": "back"}]}"#,
            "[[photo]]\nfile = \"a.jpg\"\nmarks = [\n  \
             { line = [[0.0000, 0.0000], [1.0000, 1.0000]], part = \"top\" },\n  \
             { area = [[0.0000, 0.0000], [1.0000, 0.0000], [1.0000, 1.0000]] },\n  \
             { area = [[0.0000, 0.0000], [1.0000, 0.0000], [1.0000, 1.0000]], \
             scale = { from = [0.2000, 0.2500], to = [0.2000, 0.7500], mm = 337 }, part = \"back\" },\n]\n",
        );
        case(
            r#"{"kind": "swatch", "photo": "a.jpg", "grey": null, "target": [0.1, 0.2, 0.3, 0.4],
                "result": [0.60005, 0.6, 0.39995001, 0.4], "surface": 2}"#,
            "[[swatch]]\nphoto = \"a.jpg\"\ntarget = [0.1000, 0.2000, 0.3000, 0.4000]\n\
             result = [0.6001, 0.6000, 0.3999, 0.4000]\nsurface = 2\n",
        );
    }

    #[test]
    fn what_is_not_whole_yet_says_what_is_missing() {
        let marks = |mark: &str| format!(r#"{{"kind": "marks", "photo": "a.jpg", "marks": [{mark}]}}"#);
        case(&marks(""), "set a mark on the picture");
        case(
            &marks(r#"{"shape": "line", "points": [[0.5, 0.5]]}"#),
            "a line has two points: set the other one",
        );
        case(&marks(r#"{"shape": "point", "points": [[0.5, -0.1]]}"#), "-0.1 lies outside the picture");
        case(
            r#"{"kind": "swatch", "photo": "a.jpg", "target": [0.1, 0.2, 0.3, 0.0001], "result": [0, 0, 1, 1]}"#,
            "a patch is too small to measure: draw it larger",
        );
    }

    /// An area of half a photograph of 1600 by 1200 pixels, or another shape, with a known length.
    fn measured(shape: &str, scale: &str) -> Result<Change, Unfinished> {
        let points = match shape {
            "point" => "[[0, 0]]",
            "line" => "[[0, 0], [1, 0]]",
            _ => "[[0, 0], [1, 0], [1, 1]]",
        };
        let mark = format!(r#"{{"shape": "{shape}", "points": {points}, "scale": {scale}}}"#);
        let sent = format!(r#"{{"kind": "marks", "photo": "a.jpg", "marks": [{mark}]}}"#);
        Change::of(serde_json::from_str(&sent).unwrap())
    }

    #[test]
    fn a_known_length_is_whole_and_sound_and_belongs_to_an_area() {
        let refused = |shape, points: &str, mm: &str| {
            let scale = format!(r#"{{"points": {points}, "mm": {mm}}}"#);
            measured(shape, &scale).unwrap_err().to_string()
        };
        let ends = "[[0.1, 0.5], [0.6, 0.5]]";
        for one in ["[]", "[[0.1, 0.5]]", "[[0.1, 0.5], [0.6, 0.5], [0.7, 0.5]]"] {
            assert_eq!(
                refused("area", one, "100"),
                "a known length has two ends: set them in the plane of the area"
            );
        }
        assert_eq!(refused("area", ends, "null"), "say how long the known length is, in millimetres");
        for mm in ["0", "-2", "20000.5"] {
            assert_eq!(
                refused("area", ends, mm),
                format!("{mm} cannot be a length in millimetres, above 0 and at most 20 000")
            );
        }
        assert_eq!(
            refused("area", "[[0.1, 0.5], [0.10004, 0.4998]]", "100"),
            "the ends of a known length lie on each other: move one of them"
        );
        assert_eq!(refused("area", "[[0.1, 0.5], [1.5, 0.5]]", "100"), "1.5 lies outside the picture");
        for shape in ["point", "line"] {
            assert_eq!(refused(shape, ends, "100"), "this known length belongs to no outlined area");
        }
    }

    #[test]
    fn an_area_with_a_known_length_has_a_size() {
        let size = |scale: &str| {
            let Change::Marks { marks, .. } = measured("area", scale).unwrap() else { unreachable!() };
            marks[0].area((1600, 1200)).map(|area| area.map(|area| (area.m2() * 1e4).round()))
        };
        // 800 pixels are 500 mm: half of 1000 by 750 mm.
        assert_eq!(size(r#"{"points": [[0.1, 0.5], [0.6, 0.5]], "mm": 500}"#), Some(Ok(3750.0)));
        assert_eq!(
            size(r#"{"points": [[0.1, 0.5], [0.2, 0.5]], "mm": 100.5}"#),
            Some(Err(NoArea::ShortScale))
        );
        assert_eq!(size("null"), None);
    }

    #[test]
    fn a_pixel_of_a_wide_photograph_survives_the_rounding() {
        for pixel in 0..4000 {
            let middle = (f64::from(pixel) + 0.5) / 4000.0;
            let written: f64 = number(Fraction::new(middle).unwrap()).to_string().parse().unwrap();
            assert_eq!((written * 4000.0).floor() as i32, pixel);
        }
    }
}
