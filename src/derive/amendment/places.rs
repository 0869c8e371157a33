//! How amendments tell of places on a picture: in words, since nobody gains by reading where a corner of a patch lay.

use std::collections::BTreeMap;

use crate::claim::{Message, Value, says};
use crate::record::{CanonicalValue, Form};

/// What places of some keys are together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A mark, which is one shape or another.
    Shape(Shape),
    /// Several places with one name, in the plural.
    Several(Several),
}

/// A shape of a mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    Point,
    Line,
    Area,
}

/// Places that have one name together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Several {
    Ends,
    Landmarks,
    Patches,
}

/// What a key's numbers are, where they are places on a picture.
fn kind(key: &str) -> Option<Kind> {
    Some(match key {
        "at" => Kind::Shape(Shape::Point),
        "line" => Kind::Shape(Shape::Line),
        "area" => Kind::Shape(Shape::Area),
        "from" | "to" => Kind::Several(Several::Ends),
        "landmarks" => Kind::Several(Several::Landmarks),
        "grey" | "target" | "result" => Kind::Several(Several::Patches),
        _ => return None,
    })
}

/// Whether a field is a place on a picture. Other fields share some of the keys, but are no lists of numbers.
pub(super) fn is_place(key: &str, value: &CanonicalValue) -> bool {
    fn numbers(value: &CanonicalValue) -> bool {
        value.list().iter().all(|each| matches!(each.form, Form::Number(_)) || is_list_of_numbers(each))
    }
    fn is_list_of_numbers(value: &CanonicalValue) -> bool {
        !value.list().is_empty() && numbers(value)
    }
    kind(key).is_some() && is_list_of_numbers(value)
}

/// The places among a table's fields.
type Places<'a> = Vec<(&'a str, &'a CanonicalValue)>;

/// What became of the places that a table said, a clause for each kind, with the place's span today where it has one.
pub(super) fn told(
    was: &BTreeMap<String, CanonicalValue>,
    is: &BTreeMap<String, CanonicalValue>,
) -> Vec<(Message, Option<std::ops::Range<usize>>)> {
    let (was, is) = (places(was), places(is));
    let mut groups: Vec<(Places<'_>, Places<'_>)> = Vec::new();
    for (key, _) in was.iter().chain(&is) {
        let group = (of_kind(&was, key), of_kind(&is, key));
        if group.0 != group.1 && !groups.contains(&group) {
            groups.push(group);
        }
    }
    let clause = |(was, is): (Places<'_>, Places<'_>)| {
        Some((clause(&was, &is)?, is.first().map(|(_, place)| place.span.clone())))
    };
    groups.into_iter().filter_map(clause).collect()
}

fn places(table: &BTreeMap<String, CanonicalValue>) -> Places<'_> {
    let fields = table.iter().filter(|(key, value)| is_place(key, value));
    fields.map(|(key, value)| (key.as_str(), value)).collect()
}

/// The places that are told together with a key's.
fn of_kind<'a>(places: &Places<'a>, key: &str) -> Places<'a> {
    places.iter().filter(|(other, _)| is_one(key, other)).copied().collect()
}

/// Whether places of two keys are told together.
fn is_one(one: &str, other: &str) -> bool {
    match (kind(one), kind(other)) {
        (Some(Kind::Shape(_)), Some(Kind::Shape(_))) => true,
        (one, other) => one == other,
    }
}

/// What became of places of one kind.
fn clause(was: &Places<'_>, is: &Places<'_>) -> Option<Message> {
    let kind = kind(was.first().or(is.first())?.0)?;
    let shapes = |places: &Places<'_>| {
        let shapes = places.iter().filter_map(|(key, _)| match self::kind(key) {
            Some(Kind::Shape(Shape::Point)) => Some(says!("mark-point").into()),
            Some(Kind::Shape(Shape::Line)) => Some(says!("places-line").into()),
            Some(Kind::Shape(Shape::Area)) => Some(says!("mark-area").into()),
            _ => None,
        });
        Value::All(shapes.collect())
    };
    let several = |several: Several| match several {
        Several::Ends => says!("places-ends"),
        Several::Landmarks => says!("places-landmarks"),
        Several::Patches => says!("places-patches"),
    };
    let as_many = was.len() == is.len()
        && was.iter().zip(is).all(|(a, b)| a.0 == b.0 && a.1.list().len() == b.1.list().len());
    Some(match (kind, was.is_empty(), is.is_empty()) {
        (Kind::Shape(_), true, _) => says!("places-shown", shape = shapes(is)),
        (Kind::Shape(_), _, true) => says!("places-not-shown"),
        (Kind::Shape(_), ..) if shapes(was) != shapes(is) => {
            says!("places-reshaped", shape = shapes(is), instead = shapes(was))
        }
        (Kind::Shape(_), ..) => says!("places-moved"),
        (Kind::Several(what), true, _) => says!("places-several-added", what = several(what)),
        (Kind::Several(what), _, true) => says!("places-several-out", what = several(what)),
        (Kind::Several(what), ..) if as_many => says!("places-several-moved", what = several(what)),
        (Kind::Several(what), ..) => says!("places-several-changed", what = several(what)),
    })
}
