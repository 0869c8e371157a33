//! The single values of a record: text, numbers, dates, money, places on a picture.

use std::borrow::Cow;
use std::str::FromStr;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::DeValue;

use super::code;
use super::{Reader, Value, list, wrong_kind};
use crate::diag::nearest;
use crate::unit::{Edtf, Fraction, Hours, Length, Mass, Money, Point, Rectangle};

/// Text as somebody typed it; never empty.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Text(pub String);

/// A short name by which other places of the record point at something.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Id(pub String);

/// How many of something; at least one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Count(pub u32);

/// How many faces of a board something was done to: one or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Faces(pub u32);

/// Percent, from 0 to 100.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Percent(pub f64);

/// A room's temperature in degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Celsius(pub f64);

/// A quantity of a liquid in litres; above zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Litres(pub f64);

/// A share of a whole, above 0; exact, since money is multiplied by it. Above 1 it is more than the whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Share(pub Decimal);

/// A percentage that is added to money, from 0 to 1000; exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Surcharge(pub Decimal);

/// A year of our era; negative before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Year(pub i32);

/// A figure of a table, above zero, in the unit its key names.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Figure(pub f64);

/// A number of a table that may be below zero.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Number(pub f64);

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

/// A low and a high end of a span of time or of anything counted.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Range {
    /// The low end.
    pub low: f64,
    /// The high end; never below the low one.
    pub high: f64,
}

macro_rules! simple_schema {
    ($type:ty, $name:expr, $schema:tt) => {
        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                $name.into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!($schema)
            }

            fn inline_schema() -> bool {
                true
            }
        }
    };
}

impl std::ops::Deref for Text {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Text {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl Value for Text {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let DeValue::String(text) = value.get_ref() else {
            return wrong_kind(value, "text", "put it in double quotes", reader);
        };
        let text = text.trim();
        if text.is_empty() {
            reader.note(
                &code::EMPTY_TEXT,
                &value.span(),
                "this says nothing",
                "write something, or leave the key out",
            );
            return None;
        }
        Some(Text(text.to_owned()))
    }
}

simple_schema!(Text, "Text", { "type": "string", "minLength": 1 });

impl std::ops::Deref for Id {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

impl Value for Id {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = Text::read(value, reader)?.0;
        let sound = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !text.chars().all(sound) || text.chars().count() > 60 {
            let tidy: String = slug::slugify(&text).chars().take(60).collect();
            let help = if tidy.is_empty() {
                "write something like `leaf-left`".to_owned()
            } else {
                format!("write `{tidy}`")
            };
            reader.note(
                &code::UNSOUND_ID,
                &value.span(),
                format!("`{text}` is no id: small letters, digits and hyphens, at most 60"),
                help,
            );
            return None;
        }
        Some(Id(text))
    }
}

simple_schema!(Id, "Id", { "type": "string", "pattern": "^[a-z0-9-]{1,60}$" });

impl Value for bool {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::Boolean(truth) => Some(*truth),
            _ => wrong_kind(value, "true or false", "write `true` or `false`, without quotes", reader),
        }
    }
}

impl Value for NaiveDate {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let DeValue::Datetime(written) = value.get_ref() else {
            return wrong_kind(value, "a date", "write it as 2026-03-14, without quotes", reader);
        };
        let date = written.date.and_then(|date| {
            NaiveDate::from_ymd_opt(i32::from(date.year), u32::from(date.month), u32::from(date.day))
        });
        if date.is_none() {
            reader.note(
                &code::WRONG_KIND,
                &value.span(),
                "this is no date",
                "write it as 2026-03-14, without quotes",
            );
        }
        date
    }
}

impl Value for Edtf {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let written = match value.get_ref() {
            DeValue::Integer(year) => year.as_str().to_owned(),
            DeValue::String(text) => text.to_string(),
            _ => {
                return wrong_kind(
                    value,
                    "a year in quotes",
                    "write it as \"1925\" or \"1920/1935~\"",
                    reader,
                );
            }
        };
        match Edtf::parse(&written) {
            Ok(edtf) => Some(edtf),
            Err(fault) => {
                let help = fault.help();
                reader.note(&code::UNREADABLE_YEAR, &value.span(), fault.to_string(), help);
                None
            }
        }
    }
}

simple_schema!(Edtf, "Edtf", {
    "description": "A year or a span of years in EDTF, levels 0 and 1: \"1925\", \"1920/1935~\", \"188X\", \"1900~\".",
    "type": "string"
});

/// Reads a number exactly as written, or notes that it is none.
fn decimal(
    value: &Spanned<DeValue<'_>>,
    wanted: &str,
    example: &str,
    reader: &mut Reader<'_>,
) -> Option<Decimal> {
    let written = match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_owned(),
        DeValue::Float(number) => number.as_str().to_owned(),
        _ => {
            return wrong_kind(value, wanted, &format!("write it as {example}, without quotes"), reader);
        }
    };
    let written = written.trim_start_matches('+').replace('_', "");
    let number = if written.contains(['e', 'E']) {
        Decimal::from_scientific(&written)
    } else {
        Decimal::from_str(&written)
    };
    match number {
        Ok(number) => Some(number),
        Err(_) => out_of_range(value, wanted, example, reader),
    }
}

/// Reads a number for which binary fractions do.
fn number(value: &Spanned<DeValue<'_>>, wanted: &str, example: &str, reader: &mut Reader<'_>) -> Option<f64> {
    let number = match value.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => number.as_str().parse().ok(),
        DeValue::Float(number) => number.as_str().parse().ok(),
        _ => {
            return wrong_kind(value, wanted, &format!("write it as {example}, without quotes"), reader);
        }
    };
    match number {
        Some(number) => Some(number),
        None => out_of_range(value, wanted, example, reader),
    }
}

/// Notes that a number cannot be what it is meant to be.
fn out_of_range<T>(
    value: &Spanned<DeValue<'_>>,
    wanted: &str,
    example: &str,
    reader: &mut Reader<'_>,
) -> Option<T> {
    reader.note(
        &code::OUT_OF_RANGE,
        &value.span(),
        format!("this cannot be {wanted}"),
        format!("write it as {example}"),
    );
    None
}

/// A value type made of one binary number that a predicate admits.
macro_rules! numeric {
    ($type:ty, $wanted:expr, $example:literal, $make:expr, $schema:tt) => {
        impl Value for $type {
            fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
                let make: fn(f64) -> Option<$type> = $make;
                let read = number(value, $wanted, $example, reader)?;
                match make(read) {
                    Some(made) => Some(made),
                    None => out_of_range(value, $wanted, $example, reader),
                }
            }
        }

        simple_schema!($type, stringify!($type), $schema);
    };
}

/// What a length is, for messages.
pub const LENGTH: &str = "a length in millimetres, above 0 and at most 20 000";

numeric!(Length, LENGTH, "900", Length::from_mm, {
    "description": "Millimetres.", "x-unit": "mm", "type": "number", "exclusiveMinimum": 0, "maximum": 20000
});
numeric!(Percent, "a percentage from 0 to 100", "45", |n| (0.0..=100.0).contains(&n).then_some(Percent(n)), {
    "x-unit": "%", "type": "number", "minimum": 0, "maximum": 100
});
numeric!(Celsius, "a room's temperature in degrees Celsius, from -10 to 50", "20",
    |n| (-10.0..=50.0).contains(&n).then_some(Celsius(n)),
    { "description": "Degrees Celsius.", "type": "number", "minimum": -10, "maximum": 50 });
numeric!(Litres, "a quantity in litres, above 0 and at most 1000", "0.75",
    |n| (n > 0.0 && n <= 1000.0).then_some(Litres(n)),
    { "description": "Litres.", "type": "number", "exclusiveMinimum": 0, "maximum": 1000 });
numeric!(Year, "a year from -10 000 to 2200", "1936",
    |n| (n.fract() == 0.0 && (-10_000.0..=2200.0).contains(&n)).then_some(Year(n as i32)),
    { "type": "integer", "minimum": -10_000, "maximum": 2200 });
numeric!(Figure, "a figure above 0", "0.00365", |n| (n > 0.0 && n.is_finite()).then_some(Figure(n)),
    { "type": "number", "exclusiveMinimum": 0 });
numeric!(Number, "a number", "-0.000303", |n| n.is_finite().then_some(Number(n)), { "type": "number" });
numeric!(Mass, "a mass in kilograms, above 0 and at most 5000", "42.5",
    |n| if n > 0.0 && n <= 5000.0 { Mass::from_kg(n) } else { None },
    { "description": "Kilograms.", "x-unit": "kg", "type": "number", "exclusiveMinimum": 0, "maximum": 5000 });
numeric!(Fraction, "a fraction from 0 to 1", "0.42", Fraction::new, { "type": "number", "minimum": 0, "maximum": 1 });
numeric!(Count, "a count, a whole number from 1 to 100 000", "4",
    |n| (n.fract() == 0.0 && (1.0..=100_000.0).contains(&n)).then_some(Count(n as u32)),
    { "type": "integer", "minimum": 1, "maximum": 100_000 });

numeric!(Faces, "a number of faces, 1 or 2", "2", |n| (n == 1.0 || n == 2.0).then_some(Faces(n as u32)),
    { "type": "integer", "minimum": 1, "maximum": 2 });

impl Value for Money {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "an amount of money, from 0 to 10 000 000";
        let amount = decimal(value, wanted, "35.00", reader)?;
        if amount.is_sign_negative() && !amount.is_zero() || amount > Decimal::from(10_000_000) {
            return out_of_range(value, wanted, "35.00", reader);
        }
        Some(Money(amount))
    }
}

simple_schema!(Money, "Money", { "type": "number", "minimum": 0, "maximum": 10_000_000 });

impl Value for Hours {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "hours of work, from 0 to 10 000";
        let hours = decimal(value, wanted, "1.5", reader)?;
        match Hours::new(hours) {
            Some(hours) if hours.count() <= Decimal::from(10_000) => Some(hours),
            _ => out_of_range(value, wanted, "1.5", reader),
        }
    }
}

simple_schema!(Hours, "Hours", { "type": "number", "minimum": 0, "maximum": 10_000 });

impl Value for Share {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "a share, above 0 and at most 100";
        let share = decimal(value, wanted, "0.25", reader)?;
        if share <= Decimal::ZERO || share > Decimal::ONE_HUNDRED {
            return out_of_range(value, wanted, "0.25, for a quarter", reader);
        }
        Some(Share(share))
    }
}

simple_schema!(Share, "Share", {
    "description": "A share of the whole: 0.25 is a quarter.",
    "type": "number", "exclusiveMinimum": 0, "maximum": 100
});

impl Value for Surcharge {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let wanted = "a percentage from 0 to 1000";
        let percent = decimal(value, wanted, "12.5", reader)?;
        if percent.is_sign_negative() && !percent.is_zero() || percent > Decimal::ONE_THOUSAND {
            return out_of_range(value, wanted, "12.5", reader);
        }
        Some(Surcharge(percent))
    }
}

simple_schema!(Surcharge, "Surcharge", {
    "description": "Percent.", "type": "number", "minimum": 0, "maximum": 1000
});

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
    let read: Vec<Option<Point>> = array.iter().map(|each| Point::read(each, reader)).collect();
    read.into_iter().collect()
}

impl Value for Landmark {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let [x, y, u, v] = fractions(value, "[0.21, 0.30, 0.23, 0.31]", reader)?;
        Some(Landmark { before: Point { x, y }, after: Point { x: u, y: v } })
    }
}

simple_schema!(Landmark, "Landmark", {
    "description": "x and y of a point before, then x and y of the same point after, as fractions.",
    "type": "array", "items": { "type": "number", "minimum": 0, "maximum": 1 }, "minItems": 4, "maxItems": 4
});

impl Value for Range {
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
        let help = "write it as [4, 6], the low end first";
        let (low, high) = match value.get_ref() {
            DeValue::Array(array) if array.len() == 2 => {
                let mut ends = array.iter().map(|each| number(each, "a number", "4", reader));
                (ends.next()??, ends.next()??)
            }
            DeValue::Array(_) => return wrong_kind(value, "a list of two numbers", help, reader),
            _ => {
                let both = number(value, "a number or a list of two", "[4, 6]", reader)?;
                (both, both)
            }
        };
        if !(low >= 0.0 && high >= low && high <= 100_000.0) {
            return out_of_range(
                value,
                "a span from a low to a high number",
                "[4, 6], the low end first",
                reader,
            );
        }
        Some(Range { low, high })
    }
}

simple_schema!(Range, "Range", {
    "description": "A number, or a list of a low and a high one.",
    "anyOf": [
        { "type": "number", "minimum": 0 },
        { "type": "array", "items": { "type": "number", "minimum": 0 }, "minItems": 2, "maxItems": 2 }
    ]
});

/// Reads one word of a closed list, or notes the nearest right one.
pub(crate) fn word<'w>(
    value: &Spanned<DeValue<'_>>,
    words: &'w [&'static str],
    reader: &mut Reader<'_>,
) -> Option<&'w str> {
    let DeValue::String(written) = value.get_ref() else {
        return wrong_kind(value, "a word", &format!("write one of {}, in quotes", list(words)), reader);
    };
    let found = words.iter().copied().find(|word| *word == written.as_ref());
    if found.is_none() {
        let help = match nearest(written, words.iter().copied()) {
            Some(near) => format!("write \"{near}\""),
            None => format!("write one of {}", list(words)),
        };
        reader.note(
            &code::UNKNOWN_WORD,
            &value.span(),
            format!("`{written}` is not a word that is known here"),
            help,
        );
    }
    found
}
