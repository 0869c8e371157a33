//! Places on a photograph, as fractions of it.

use std::borrow::Cow;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::DeValue;

use super::scalar::{out_of_range, simple_schema};
use super::{About, MOST_ELEMENTS, Reader, Sort, Value, code, wrong_kind};
use crate::unit::{Fraction, Point, Rectangle};

/// A line with an arrow at its end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Where it begins.
    pub from: Point,
    /// Where its arrow points.
    pub to: Point,
}

/// The corners of an outlined area, three or more, one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline(pub Vec<Point>);

/// The four numbers of one landmark: x and y before, x and y after.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Landmark {
    /// Where the point is in the picture before.
    pub before: Point,
    /// Where the same point is in the picture after.
    pub after: Point,
}

/// Reads a list of exactly `N` fractions.
fn fractions<const N: usize>(
    value: &Spanned<DeValue<'_>>,
    example: &str,
    reader: &mut Reader<'_>,
) -> Option<[Fraction; N]> {
    let help = format!("write it as {example}");
    let DeValue::Array(array) = value.get_ref() else {
        return wrong_kind(value, "a list of fractions", &help, reader);
    };
    if array.len() != N {
        reader.note(
            &code::WRONG_KIND,
            &value.span(),
            format!("{N} fractions are wanted, and this has {}", array.len()),
            help,
        );
        return None;
    }
    let read: Vec<Fraction> = array.iter().filter_map(|each| Fraction::read(each, reader)).collect();
    read.try_into().ok()
}

impl Value for Point {
    const ABOUT: &'static About = &About::list("[0.42, 0.66]").of(Sort::Place);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let [x, y] = fractions(value, "[0.42, 0.66]", reader)?;
        Some(Point { x, y })
    }
}

simple_schema!(Point, "Point", {
    "description": "x and y as fractions of the upright photograph, from its top left corner.",
    "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 2, "maxItems": 2
});

impl Value for Rectangle {
    const ABOUT: &'static About = &About::list("[0.30, 0.40, 0.05, 0.05]").of(Sort::Place);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let example = "[0.30, 0.40, 0.05, 0.05]";
        let [x, y, width, height] = fractions(value, example, reader)?;
        match Rectangle::new(Point { x, y }, width, height) {
            Some(rectangle) => Some(rectangle),
            None => out_of_range(
                value,
                "a rectangle on the photograph: its corner and its size",
                &format!(
                    "{example}: x, y, width, height; x and width together, and y and height, come to 1 at most"
                ),
                reader,
            ),
        }
    }
}

simple_schema!(Rectangle, "Rectangle", {
    "description": "x, y, width and height as fractions of the upright photograph.",
    "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 4, "maxItems": 4
});

impl Value for Line {
    const ABOUT: &'static About = &About::list("[[0.42, 0.66], [0.51, 0.60]]").of(Sort::Place);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let points = points(value, "a list of two points", "[[0.42, 0.66], [0.51, 0.60]]", reader)?;
        match points[..] {
            [from, to] => Some(Line { from, to }),
            _ => {
                let message = format!("two points are wanted, and this has {}", points.len());
                reader.note(
                    &code::WRONG_KIND,
                    &value.span(),
                    message,
                    "write where it begins and where its arrow points",
                );
                None
            }
        }
    }
}

simple_schema!(Line, "Line", {
    "description": "Where a line begins and where its arrow points, as fractions of the upright photograph.",
    "type": "array", "minItems": 2, "maxItems": 2,
    "items": { "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 2, "maxItems": 2 }
});

impl Value for Outline {
    const ABOUT: &'static About = &About::list("[[0.42, 0.66], [0.51, 0.60], [0.47, 0.71]]").of(Sort::Place);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let points = points(value, "a list of points", "[[0.42, 0.66], [0.51, 0.60], [0.47, 0.71]]", reader)?;
        if points.len() < 3 {
            let message = format!("an outline has three points or more, and this has {}", points.len());
            reader.note(
                &code::WRONG_KIND,
                &value.span(),
                message,
                "write a point for each corner; `line` takes two",
            );
            return None;
        }
        Some(Outline(points))
    }
}

simple_schema!(Outline, "Outline", {
    "description": "The corners of an outlined area, one after the other, as fractions of the upright photograph.",
    "type": "array", "minItems": 3,
    "items": { "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 2, "maxItems": 2 }
});

/// Reads a list of points, all of which must be sound.
fn points(
    value: &Spanned<DeValue<'_>>,
    wanted: &str,
    example: &str,
    reader: &mut Reader<'_>,
) -> Option<Vec<Point>> {
    let DeValue::Array(array) = value.get_ref() else {
        return wrong_kind(value, wanted, &format!("write it as {example}"), reader);
    };
    if array.len() > MOST_ELEMENTS {
        let message = format!("this has {} points, and at most {MOST_ELEMENTS} are read", array.len());
        reader.note(&code::TOO_LONG, &value.span(), message, "leave out points that lie on a straight line");
        return None;
    }
    let read: Vec<Option<Point>> = array.iter().map(|each| Point::read(each, reader)).collect();
    read.into_iter().collect()
}

impl Value for Landmark {
    const ABOUT: &'static About = &About::list("[0.21, 0.30, 0.23, 0.31]").of(Sort::Place);

    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let [x, y, u, v] = fractions(value, "[0.21, 0.30, 0.23, 0.31]", reader)?;
        Some(Landmark { before: Point { x, y }, after: Point { x: u, y: v } })
    }
}

simple_schema!(Landmark, "Landmark", {
    "description": "x and y of a point before, then x and y of the same point after, as fractions.",
    "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 4, "maxItems": 4
});
