//! A piece as linked data, in the model of Linked Art.
//!
//! # Source
//! Linked Art, API 1.0 (linked.art): the shape of an object, its names, dimensions, time-spans, statements and references;
//! classes and properties are those of CIDOC CRM. Types named by number are of the Art & Architecture Thesaurus.

use serde_json::{Value, json};

use crate::derive::{seen, timber_name};
use crate::unit::edtf::Bound;
use crate::unit::{Edtf, fingerprint};
use crate::view::context::{HouseStyle, PieceContext};
use crate::view::shared::photograph::{Gallery, Sees};

/// What every document of the model begins with.
const CONTEXT: &str = "https://linked.art/ns/v1/linked-art.json";

/// Types of the thesaurus: their numbers, and what it calls them.
mod aat {
    pub(super) const FURNITURE: (u32, &str) = (300_037_680, "furniture");
    pub(super) const PRIMARY_NAME: (u32, &str) = (300_404_670, "preferred terms");
    pub(super) const NUMBER: (u32, &str) = (300_312_355, "accession numbers");
    pub(super) const DESCRIPTION: (u32, &str) = (300_435_416, "descriptions");
    pub(super) const CONDITION: (u32, &str) = (300_435_425, "condition/examination descriptions");
    pub(super) const BRIEF: (u32, &str) = (300_418_049, "brief texts");
    pub(super) const WIDTH: (u32, &str) = (300_055_647, "width");
    pub(super) const DEPTH: (u32, &str) = (300_072_633, "depth");
    pub(super) const HEIGHT: (u32, &str) = (300_055_644, "height");
    pub(super) const WEIGHT: (u32, &str) = (300_056_240, "weight");
    pub(super) const MILLIMETRES: (u32, &str) = (300_379_097, "millimeters");
    pub(super) const KILOGRAMS: (u32, &str) = (300_379_226, "kilograms");
}

/// A piece as a document of its own; `folder` leads from the document to the piece's folder.
pub fn linked(context: &PieceContext<'_>, folder: &str) -> Value {
    let (record, workshop) = (context.record, context.house.view().name.as_str());
    let words = context.house.words();
    let mut said = vec![];
    said.extend(record.summary.as_ref().map(|summary| statement(aat::DESCRIPTION, words.said(summary))));
    said.extend(record.findings.iter().map(|finding| {
        let what = [
            Some(seen(&finding.seen, context.trade)),
            finding.extent.as_ref().map(|extent| extent.to_string()),
        ];
        statement(aat::CONDITION, what.into_iter().flatten().collect::<Vec<_>>().join(", "))
    }));
    let done = own_type(workshop, "done", "what was done");
    said.extend(record.works.iter().map(|work| {
        let day = work.on.as_ref().map(|on| format!("{}: ", on.value)).unwrap_or_default();
        json!({ "type": "LinguisticObject", "classified_as": [done], "content": format!("{day}{}", words.said(&work.did)) })
    }));
    let mut document = json!({
        "@context": CONTEXT,
        "id": name(&[workshop, "piece", context.folder()]),
        "type": "HumanMadeObject",
        "_label": context.bare_title(),
        "identified_by": [
            { "type": "Name", "classified_as": [of(aat::PRIMARY_NAME)], "content": context.bare_title() },
            { "type": "Identifier", "classified_as": [of(aat::NUMBER)], "content": context.number() },
        ],
        "classified_as": [of(aat::FURNITURE), own_type(workshop, &record.kind, &record.kind.replace('/', ", "))],
        "member_of": [{ "id": set(workshop), "type": "Set", "_label": workshop }],
    });
    let mut add = |key: &str, values: Vec<Value>| {
        if !values.is_empty() {
            document[key] = Value::Array(values);
        }
    };
    add("referred_to_by", said);
    add("dimension", dimensions(context));
    add("made_of", timbers(context, workshop));
    add("part", parts(context, workshop));
    add("representation", pictures(context, folder));
    // A piece that has left belongs to somebody else.
    if context.piece.handed_over().is_none() {
        add(
            "current_owner",
            vec![json!({ "id": name(&[workshop, "workshop"]), "type": "Group", "_label": workshop })],
        );
    }
    let maker = record.maker.as_ref().and_then(|maker| maker.known());
    if let Some(produced) = production(record.made.as_deref(), maker.map(|maker| maker.to_string())) {
        document["produced_by"] = produced;
    }
    document
}

/// All pieces in one document, with the set that they are members of.
pub(super) fn linked_whole<'d>(house: &HouseStyle, documents: impl Iterator<Item = &'d Value>) -> Value {
    let workshop = house.view().name.as_str();
    let set = json!({
        "id": set(workshop),
        "type": "Set",
        "_label": workshop,
        "identified_by": [{ "type": "Name", "classified_as": [of(aat::PRIMARY_NAME)], "content": workshop }],
    });
    let pieces = documents.filter(|document| document.is_object()).map(|document| {
        let mut piece = document.clone();
        if let Some(said) = piece.as_object_mut() {
            said.remove("@context");
        }
        piece
    });
    json!({ "@context": CONTEXT, "@graph": std::iter::once(set).chain(pieces).collect::<Vec<_>>() })
}

/// A name that no other thing has and this one keeps, made from words: a UUID of version 8.
///
/// # Source
/// RFC 9562, section 5.8.
fn name(words: &[&str]) -> String {
    let hex = fingerprint(words.join("\u{0}").as_bytes());
    let variant = ["8", "9", "a", "b"][usize::from(hex.as_bytes()[16]) % 4];
    format!(
        "urn:uuid:{}-{}-8{}-{variant}{}-{}",
        &hex[..8],
        &hex[8..12],
        &hex[13..16],
        &hex[17..20],
        &hex[20..32]
    )
}

fn set(workshop: &str) -> String {
    name(&[workshop, "archive"])
}

/// A type of the thesaurus.
fn of((number, label): (u32, &str)) -> Value {
    json!({ "id": format!("http://vocab.getty.edu/aat/{number}"), "type": "Type", "_label": label })
}

/// A type in the workshop's own words.
fn own_type(workshop: &str, word: &str, label: &str) -> Value {
    json!({ "id": name(&[workshop, "type", word]), "type": "Type", "_label": label })
}

fn statement(of_kind: (u32, &str), content: String) -> Value {
    let mut kind = of(of_kind);
    kind["classified_as"] = json!([of(aat::BRIEF)]);
    json!({ "type": "LinguisticObject", "classified_as": [kind], "content": content })
}

fn dimension(of_kind: (u32, &str), value: f64, (unit, label): (u32, &str)) -> Value {
    let unit = json!({ "id": format!("http://vocab.getty.edu/aat/{unit}"), "type": "MeasurementUnit", "_label": label });
    json!({ "type": "Dimension", "classified_as": [of(of_kind)], "value": value, "unit": unit })
}

fn dimensions(context: &PieceContext<'_>) -> Vec<Value> {
    let mut found = Vec::new();
    if let Some(size) = &context.record.size {
        let sides = [(aat::WIDTH, &size.width), (aat::DEPTH, &size.depth), (aat::HEIGHT, &size.height)];
        found.extend(sides.map(|(side, length)| dimension(side, length.value.mm(), aat::MILLIMETRES)));
    }
    let weight = context.record.weighs.as_ref();
    found.extend(weight.map(|weighs| dimension(aat::WEIGHT, weighs.value.kg(), aat::KILOGRAMS)));
    found
}

fn material(workshop: &str, timber: &str) -> Value {
    json!({ "id": name(&[workshop, "material", timber]), "type": "Material", "_label": timber })
}

/// The timbers of the parts that are there today.
fn timbers(context: &PieceContext<'_>, workshop: &str) -> Vec<Value> {
    super::made_of::timbers(context).iter().map(|timber| material(workshop, timber)).collect()
}

/// The parts that are there today.
fn parts(context: &PieceContext<'_>, workshop: &str) -> Vec<Value> {
    let present = context.record.parts.iter().filter(|part| part.present());
    let part = |part: &crate::record::Part| {
        let timber = part.veneer.as_ref().or(part.timber.as_ref()).filter(|timber| timber.known().is_some());
        let mut told = json!({
            "type": "HumanMadeObject",
            "_label": part.name.to_string(),
            "identified_by": [{ "type": "Name", "content": part.name.to_string() }],
            "classified_as": [own_type(workshop, part.standing.word(), part.standing.word())],
        });
        if let Some(timber) = timber {
            told["made_of"] = json!([material(
                workshop,
                &context.house.words().value(&timber_name(timber, context.trade))
            )]);
        }
        told
    };
    present.map(|row| part(row)).collect()
}

/// The photograph that stands for the piece.
fn pictures(context: &PieceContext<'_>, folder: &str) -> Vec<Value> {
    let cover = Gallery::of(context, Sees::Everything).cover();
    let shown = cover.as_ref().and_then(|cover| Some((cover, cover.files.first()?)));
    let picture = shown.map(|(cover, file)| {
        let file = json!({ "id": format!("{folder}{}", file.src), "type": "DigitalObject", "_label": cover.alt });
        json!({
            "type": "VisualItem",
            "_label": cover.alt,
            "digitally_shown_by": [{ "type": "DigitalObject", "format": "image/jpeg", "access_point": [file] }],
        })
    });
    picture.into_iter().collect()
}

/// When it was made and by whom, as far as is recorded.
fn production(made: Option<&Edtf>, maker: Option<String>) -> Option<Value> {
    if made.is_none() && maker.is_none() {
        return None;
    }
    let mut produced = json!({ "type": "Production" });
    if let Some(made) = made {
        let mut span =
            json!({ "type": "TimeSpan", "identified_by": [{ "type": "Name", "content": made.to_string() }] });
        let years = made.years();
        let year = |bound: Bound| match bound {
            Bound::Year(year) if (0..=9999).contains(&year) => Some(year),
            _ => None,
        };
        if let Some(year) = year(years.earliest) {
            span["begin_of_the_begin"] = json!(format!("{year:04}-01-01T00:00:00Z"));
        }
        if let Some(year) = year(years.latest) {
            span["end_of_the_end"] = json!(format!("{year:04}-12-31T23:59:59Z"));
        }
        produced["timespan"] = span;
    }
    if let Some(maker) = maker {
        produced["referred_to_by"] = json!([statement(aat::DESCRIPTION, maker)]);
    }
    Some(produced)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    fn told(record: &str) -> Value {
        shown(record, "", |context| linked(context, ""))
    }

    #[test]
    fn a_piece_is_a_human_made_object_with_its_names_and_what_is_recorded() {
        let piece = told(
            "made = \"1920/1935~\"\nmaker = \"a joiner\"\nsummary = \"For six.\"\nweighs = 21.5\n\
             size = { width = 910, depth = 1200, height = 735 }\n\
             part = [{ id = \"a\", name = \"Top\", standing = \"original\", timber = \"white-oak\" }]\n\
             finding = [{ id = \"f1\", part = \"a\", seen = \"split\", extent = \"a hand long\" }]\n",
        );
        assert_eq!((&piece["@context"], &piece["type"]), (&json!(CONTEXT), &json!("HumanMadeObject")));
        assert_eq!(piece["identified_by"][0]["content"], "Table");
        assert_eq!(piece["identified_by"][1]["content"], "T-1");
        let of_width = &piece["dimension"][0];
        assert_eq!(
            (of_width["value"].as_f64(), &of_width["unit"]["_label"]),
            (Some(910.0), &json!("millimeters"))
        );
        assert_eq!(piece["dimension"][3]["value"], 21.5);
        assert_eq!(piece["made_of"][0]["_label"], "white oak");
        assert_eq!(piece["part"][0]["made_of"][0]["id"], piece["made_of"][0]["id"]);
        assert_eq!(piece["produced_by"]["timespan"]["begin_of_the_begin"], "1920-01-01T00:00:00Z");
        assert_eq!(piece["produced_by"]["timespan"]["end_of_the_end"], "1935-12-31T23:59:59Z");
        assert_eq!(piece["produced_by"]["referred_to_by"][0]["content"], "a joiner");
        assert_eq!(piece["referred_to_by"][1]["content"], "split, a hand long");
        assert_eq!(piece["current_owner"][0]["_label"], "Bench");
    }

    #[test]
    fn what_is_not_recorded_is_not_said() {
        let piece = told("maker = \"unknown\"\nhandover = { on = 2020-01-01 }\n");
        for key in [
            "dimension",
            "made_of",
            "part",
            "representation",
            "produced_by",
            "referred_to_by",
            "current_owner",
        ] {
            assert_eq!(piece.get(key), None, "{key}");
        }
    }

    #[test]
    fn names_are_uuids_of_version_8_that_stay() {
        let one = name(&["Bench", "piece", "table"]);
        assert_eq!(one, name(&["Bench", "piece", "table"]));
        assert_ne!(one, name(&["Bench", "piece", "chair"]));
        let uuid = one.strip_prefix("urn:uuid:").unwrap();
        let groups: Vec<usize> = uuid.split('-').map(str::len).collect();
        assert_eq!(groups, [8, 4, 4, 4, 12], "{uuid}");
        assert!(uuid.as_bytes()[14] == b'8' && b"89ab".contains(&uuid.as_bytes()[19]), "{uuid}");
    }

    #[test]
    fn the_whole_has_the_set_and_each_piece_once() {
        let piece = told("");
        let whole =
            shown("", "", |context| linked_whole(context.house(), [&piece, &Value::Null].into_iter()));
        let graph = whole["@graph"].as_array().unwrap();
        assert_eq!(graph.len(), 2);
        assert_eq!(graph[0]["id"], piece["member_of"][0]["id"]);
        assert_eq!((graph[1].get("@context"), &graph[1]["id"]), (None, &piece["id"]));
    }
}
