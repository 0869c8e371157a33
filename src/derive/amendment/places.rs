//! How amendments tell of places on a picture: in words, since nobody gains by reading where a corner of a patch lay.

use std::collections::BTreeMap;

use crate::record::{CanonicalValue, Form};

/// What places of some keys are together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// A mark, which is one shape or another.
    Shape(&'static str),
    /// Several places with one name, in the plural.
    Several(&'static str),
}

/// What a key's numbers are, where they are places on a picture.
fn kind(key: &str) -> Option<Kind> {
    Some(match key {
        "at" => Kind::Shape("a point"),
        "line" => Kind::Shape("a line"),
        "area" => Kind::Shape("an outlined area"),
        "from" | "to" => Kind::Several("its ends on the picture"),
        "landmarks" => Kind::Several("the points that lay before onto after"),
        "grey" | "target" | "result" => Kind::Several("the patches of the colour match"),
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
) -> Vec<(String, Option<std::ops::Range<usize>>)> {
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
fn clause(was: &Places<'_>, is: &Places<'_>) -> Option<String> {
    let kind = kind(was.first().or(is.first())?.0)?;
    let shape = |places: &Places<'_>| {
        let shapes = places.iter().filter_map(|(key, _)| match self::kind(key) {
            Some(Kind::Shape(shape)) => Some(shape),
            _ => None,
        });
        shapes.collect::<Vec<_>>().join(" and ")
    };
    let as_many = was.len() == is.len()
        && was.iter().zip(is).all(|(a, b)| a.0 == b.0 && a.1.list().len() == b.1.list().len());
    Some(match (kind, was.is_empty(), is.is_empty()) {
        (Kind::Shape(_), true, _) => format!("it is now shown on the picture, as {}", shape(is)),
        (Kind::Shape(_), _, true) => "it is no longer shown on the picture".to_owned(),
        (Kind::Shape(_), ..) if shape(was) != shape(is) => {
            format!("it is now {} instead of {}", shape(is), shape(was))
        }
        (Kind::Shape(_), ..) => "it was moved on the picture".to_owned(),
        (Kind::Several(what), true, _) => format!("{what} were added"),
        (Kind::Several(what), _, true) => format!("{what} were taken out"),
        (Kind::Several(what), ..) if as_many => format!("{what} were moved"),
        (Kind::Several(what), ..) => format!("{what} were changed"),
    })
}
