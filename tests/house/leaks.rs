//! Nothing leaks: every text and amount of a record is filled with a marker of its own, and each written tree is
//! searched for those that its readers must never get.
//!
//! The record is made from the JSON Schema, so a new field takes part without being named here, and the schema says
//! who may read it (`x-read-by`).

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};
use witnessmark::journey::{self, Quiet};
use witnessmark::source::Tree;
use witnessmark::write::Sealing;
use witnessmark::{diag, record};

use crate::fixture::{Workshop, Writing, below, even, today};

/// Files with their bytes, by their paths.
type Files = BTreeMap<String, Vec<u8>>;

/// The field that each marker stands in, and who may read it.
pub(crate) type Markers = BTreeMap<String, (String, Reader)>;

/// Who may read a field, from everybody to the workshop alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Reader {
    Everybody,
    Buyer,
    Archive,
}

/// Fills a schema with values, each with a marker of its own.
struct Filler<'a> {
    definitions: &'a Map<String, Value>,
    markers: Markers,
}

impl Filler<'_> {
    fn marker(&mut self, path: &str, reader: Reader) -> String {
        // It begins with a digit, since a page may give a word a capital.
        let marker = format!("7q{:04}q7", self.markers.len());
        self.markers.insert(marker.clone(), (path.to_owned(), reader));
        marker
    }

    /// An amount that stands nowhere else: its digits are the marker.
    fn amount(&mut self, path: &str, reader: Reader) -> f64 {
        let amount = 7001.25 + self.markers.len() as f64;
        self.markers.insert(format!("{amount:.2}"), (path.to_owned(), reader));
        amount
    }

    fn fill(&mut self, path: &str, schema: &Value, reader: Reader) -> Value {
        let reader = match schema.get("x-read-by").and_then(Value::as_str) {
            Some("archive") => Reader::Archive,
            Some("buyer") => reader.max(Reader::Buyer),
            Some(other) => panic!("{path}: nobody is called {other}"),
            None => reader,
        };
        if let Some(fixed) = fixed(path) {
            return fixed;
        }
        if let Some(name) = schema.get("$ref").and_then(Value::as_str) {
            let name = name.trim_start_matches("#/$defs/");
            let definition = self.definitions[name].clone();
            return self.fill(path, &definition, reader);
        }
        if let Some(words) = schema.get("oneOf").and_then(Value::as_array) {
            return words[0]["const"].clone();
        }
        if let Some(kinds) = schema.get("anyOf").and_then(Value::as_array) {
            return self.fill(path, &kinds[0].clone(), reader);
        }
        match schema.get("type").and_then(Value::as_str) {
            Some("object") => {
                let properties = schema["properties"].as_object().expect("a table has properties").clone();
                let fields = properties
                    .iter()
                    .map(|(key, schema)| (key.clone(), self.fill(&format!("{path}.{key}"), schema, reader)));
                Value::Object(fields.collect())
            }
            Some("array") if schema.get("minItems").is_some() => {
                let count = schema["minItems"].as_u64().expect("a number");
                Value::Array((0..count).map(|_| json!(0.5)).collect())
            }
            Some("array") if path.ends_with(".steps") => {
                let acts = ["clean", "test", "remove", "abrade", "apply"];
                self.one_of(path, &schema["items"].clone(), reader, &acts)
            }
            Some("array") if path.ends_with(".marks") => {
                self.one_of(path, &schema["items"].clone(), reader, &["at", "line", "area"])
            }
            Some("array") => json!([self.fill(path, &schema["items"].clone(), reader)]),
            Some("string") if schema.get("format").is_some() => json!("2026-03-14"),
            Some("string") => json!(self.marker(path, reader)),
            Some("number")
                if schema.get("maximum").and_then(Value::as_f64).is_some_and(|most| most >= 10_000_000.0) =>
            {
                json!(self.amount(path, reader))
            }
            Some("number") => json!(0.5),
            Some("integer") => json!(2),
            Some("boolean") => json!(true),
            _ => panic!("{path}: {schema}"),
        }
    }

    /// A step says one thing and a mark has one shape, so there is one table for each of `keys`, with only that one.
    fn one_of(&mut self, path: &str, schema: &Value, reader: Reader, keys: &[&str]) -> Value {
        let whole = self.fill(path, schema, reader);
        let one = |kept: &&str| {
            let fields = whole.as_object().expect("a table").iter();
            let fields = fields.filter(|(key, _)| key == kept || !keys.contains(&key.as_str()));
            Value::Object(fields.map(|(key, value)| (key.clone(), value.clone())).collect())
        };
        Value::Array(keys.iter().map(one).collect())
    }
}

/// Values that must mean something in other places of the record.
fn fixed(path: &str) -> Option<Value> {
    let text = match path {
        "record.part.id"
        | "record.finding.part"
        | "record.work.part"
        | "record.fixing.part"
        | "record.test.part"
        | "record.surface.parts"
        | "record.surface.steps.only"
        | "record.photo.marks.part"
        | "record.patch.part"
        | "record.opening.part"
        | "record.use.shelves.part"
        | "record.after.part"
        | "record.swatch.part" => "leaf",
        // It lies under itself, which only a plan would mind.
        "record.part.under" | "record.part.behind" | "record.part.fixed-by" => "leaf",
        "record.finding.id"
        | "record.work.mends"
        | "record.undone.leaves"
        | "record.photo.marks.finding"
        | "record.after.finding" => "f-one",
        "record.work.id" | "record.photo.marks.work" => "w-one",
        "record.work.redoes" | "record.work.follows" => "w-one",
        "record.patch.id" | "record.photo.marks.patch" => "p-one",
        "record.part.from-stock" | "stock.stock.id" => "ply",
        "record.surface.steps.apply" | "record.surface.steps.remove" => "tin:varnish",
        "record.surface.found" => "shellac",
        "workshop.tin.id" | "record.cost.tin" => "varnish",
        "workshop.tin.is" => "oil-polyurethane",
        "workshop.currency" => "GBP",
        "workshop.theme" => "flitch",
        "record.number" => "ZZ-001",
        "record.kind" => "table/gateleg",
        "record.made" | "record.part.since" => "1925",
        "record.photo.file" | "record.cover" | "record.pair.before" | "record.swatch.photo" => {
            "before-front.jpg"
        }
        "record.link.to" => "https://films.example/a",
        "record.pair.after" => "after-front.jpg",
        "record.photo.marks.line" => return Some(json!([[0.1, 0.1], [0.9, 0.9]])),
        "record.photo.marks.area" => return Some(json!([[0.1, 0.1], [0.9, 0.1], [0.5, 0.9]])),
        "record.photo.marks.scale.from" => return Some(json!([0.1, 0.1])),
        // A date in the past says that the piece has gone; both states are looked at.
        "record.photo.private" => return Some(json!(false)),
        // What is planned stands in no paper; that is looked at beside the command.
        "record.part.planned"
        | "record.work.planned"
        | "record.fixing.planned"
        | "record.surface.steps.planned" => {
            return Some(json!(false));
        }
        // Receipts are counted without a gap, and this is the only one.
        "record.receipt.number" => return Some(json!(1)),
        // The way of the decision that is filled in, which the archive has by itself.
        "record.part.option"
        | "record.work.option"
        | "record.fixing.option"
        | "record.surface.steps.option" => "leave it",
        "record.photo.stage" => return Some(json!("before")),
        "workshop.photo-megapixels" => return Some(json!(120)),
        "workshop.photo-widths" => return Some(json!([64])),
        _ => return None,
    };
    let listed = ["found", "parts", "part", "mends", "leaves", "only"];
    let last = path.rsplit('.').next().unwrap_or_default();
    let one = ["record.photo.marks.part", "record.use.shelves.part", "record.patch.part"];
    let is_list = listed.contains(&last) && !one.contains(&path);
    Some(if is_list { json!([text]) } else { json!(text) })
}

/// TOML from JSON, with dates as dates.
fn toml_of(value: &Value) -> String {
    let text = toml::to_string(value).expect("every value of a record has a TOML form");
    text.replace("\"2026-03-14\"", "2026-03-14")
}

fn filled(schema: &schemars::Schema, root: &str, first: usize) -> (String, Markers) {
    let schema = schema.as_value().clone();
    let none = Map::new();
    let definitions = schema.get("$defs").and_then(Value::as_object).unwrap_or(&none);
    let mut filler = Filler { definitions, markers: BTreeMap::new() };
    for skipped in 0..first {
        filler.markers.insert(format!("taken {skipped}"), (String::new(), Reader::Everybody));
    }
    let value = filler.fill(root, &schema, Reader::Everybody);
    let mut markers = filler.markers;
    markers.retain(|marker, _| !marker.starts_with("taken"));
    (toml_of(&value), markers)
}

fn holds(files: &Files, marker: &str) -> Option<String> {
    // An amount is printed with its thousands apart, and kept as it is.
    let apart = match marker.split_at_checked(1) {
        Some((thousands, rest)) if marker.parse::<f64>().is_ok() => format!("{thousands},{rest}"),
        _ => marker.to_owned(),
    };
    let has = |bytes: &[u8], form: &str| bytes.windows(form.len()).any(|window| window == form.as_bytes());
    let within = |bytes: &[u8]| has(bytes, marker) || has(bytes, &apart);
    files.iter().find(|(path, bytes)| path.contains(marker) || within(bytes)).map(|(path, _)| path.clone())
}

/// A workshop of one piece whose every field is filled, the record edited, with all markers.
pub(crate) fn workshop(edit: impl Fn(String) -> String) -> (Workshop, Markers) {
    // Whether it is of a set, or one, is no word of a record by itself.
    let mut schema = record::record_schema().to_value();
    let keys = schema["properties"].as_object_mut().expect("a table has properties");
    ["set", "set-of"].iter().for_each(|key| _ = keys.remove(*key));
    let schema = schema.try_into().expect("a schema with fewer properties is one");
    let (record_toml, mut markers) = filled(&schema, "record", 0);
    let (workshop_toml, more) = filled(&record::workshop_schema(), "workshop", markers.len());
    markers.extend(more);
    let (stock_toml, more) = filled(&record::stock_schema(), "stock", markers.len());
    markers.extend(more);
    let workshop = Workshop::default()
        .write("workshop.toml", workshop_toml)
        .write("stock.toml", stock_toml)
        .write("pieces/one/record.toml", edit(record_toml))
        .write("pieces/one/photos/before-front.jpg", even())
        .write("pieces/one/photos/after-front.jpg", even());
    (workshop, markers)
}

/// Writes the filled workshop and gives its trees' files with all markers.
fn written(edit: impl Fn(String) -> String) -> (BTreeMap<&'static str, Files>, Markers) {
    let (workshop, markers) = workshop(edit);
    let Writing { survey, written, files } = workshop.writeup();
    let mistakes: Vec<String> = survey
        .diagnostics
        .iter()
        .filter(|found| found.rank() == diag::Rank::Mistake)
        .map(|found| format!("{}: {} ({:?})", found.code.name, found.message, found.place))
        .collect();
    assert_eq!(mistakes, Vec::<String>::new(), "the filled record has to be sound");
    assert_eq!(written.pieces.len(), 1);
    let trees = ["showroom", "buyers", "archive"].map(|name| {
        let own = files.iter().filter(|(path, _)| path.split('/').next() == Some(name));
        (name, own.map(|(path, bytes)| (path.clone(), bytes.clone())).collect())
    });
    (BTreeMap::from(trees), markers)
}

#[test]
fn each_tree_holds_only_what_its_readers_may_read() {
    let (trees, markers) = written(|record| record);
    assert!(markers.values().filter(|(_, reader)| *reader == Reader::Archive).count() > 10);
    for (marker, (path, reader)) in &markers {
        if *reader > Reader::Everybody {
            assert_eq!(holds(&trees["showroom"], marker), None, "{path} is in the showroom");
        }
        if *reader > Reader::Buyer {
            assert_eq!(holds(&trees["buyers"], marker), None, "{path} is in the buyer's papers");
        }
    }
}

#[test]
fn the_archive_holds_everything_that_is_printed() {
    let (trees, markers) = written(|record| record);
    // What is not printed as it was written: settings, and what later chapters use.
    let unprinted = [
        "workshop.address",
        "workshop.language",
        "workshop.papers-address",
        "workshop.hourly-rate",
        "workshop.overhead-per-hour",
        "workshop.about",
        "workshop.lead",
        "workshop.how-to-buy.viewing",
        "workshop.how-to-buy.payment",
        "workshop.how-to-buy.collection",
        "workshop.how-to-buy.delivery",
        "workshop.how-to-buy.returns",
        "workshop.tin.note",
        "workshop.tin.price",
        "record.photo.view",
        // Told by the plan alone.
        "record.opening.what",
        "record.opening.width",
        "record.opening.height",
    ];
    let absent: Vec<&str> = markers
        .iter()
        .filter(|(marker, (path, _))| {
            !unprinted.contains(&path.as_str()) && holds(&trees["archive"], marker).is_none()
        })
        .map(|(_, (path, _))| path.as_str())
        .collect();
    assert_eq!(absent, Vec::<&str>::new(), "the archive leaves these out");
}

/// Hands the filled piece over, and gives every file of `sealed/` with all markers.
fn handed_over(edit: impl Fn(String) -> String) -> (Files, Markers) {
    handed_over_from(workshop(edit))
}

/// The same of a workshop that was filled already.
fn handed_over_from((workshop, markers): (Workshop, Markers)) -> (Files, Markers) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    workshop.lay(folder.path());
    let piece = folder.path().join("pieces/one");
    let tree = Tree::open(folder.path()).expect("it is a workshop");
    let order = journey::Order { piece: "one", on: None, with_open_questions: true, signer: None };
    let sealing = Sealing::open(&piece).expect("the folder can be written");
    let (survey, handed) =
        journey::handover(&tree, today(), sealing, &order, &Quiet).expect("nothing refuses");
    handed.unwrap_or_else(|refusal| panic!("{refusal:?}: {:#?}", survey.diagnostics));
    (below(&piece.join("sealed")), markers)
}

#[test]
fn the_pack_and_the_seal_hold_only_what_the_buyer_may_read() {
    let (files, markers) = handed_over(|record| record);
    let (_, zip) = files.iter().find(|(path, _)| path.ends_with(".zip")).expect("there is one");
    assert!(
        zip.windows(5).any(|bytes| bytes == b"title"),
        "it is not compressed, so that a search sees all of it"
    );
    for (marker, (path, _)) in markers.iter().filter(|(_, (_, reader))| *reader == Reader::Archive) {
        assert_eq!(holds(&files, marker), None, "{path} is in the pack or the seal");
    }
    // What is sealed is what everybody may read, but for the settings of the showroom: a seal holds nobody's name.
    let is_sealed = |path: &str| path.ends_with("data/record.toml") || path == "001.toml";
    let record: Files = files.into_iter().filter(|(path, _)| is_sealed(path)).collect();
    assert_eq!(record.len(), 2);
    for (marker, (path, _)) in markers.iter().filter(|(_, (_, reader))| *reader == Reader::Buyer) {
        assert_eq!(holds(&record, marker), None, "{path} is in the seal");
    }
    let absent: Vec<&str> = markers
        .iter()
        .filter(|(marker, (path, reader))| {
            *reader < Reader::Buyer
                && path.starts_with("record.")
                && !["record.asking", "record.link.what"].contains(&path.as_str())
                && holds(&record, marker).is_none()
        })
        .map(|(_, (path, _))| path.as_str())
        .collect();
    assert_eq!(absent, Vec::<&str>::new(), "the sealed record leaves these out");
}

/// Remarks of every kind that a story can hold, each with a marker, among words that are printed.
const REMARKS: &str = "\
[//]: # (remark-one)\n[//]: # (remark-two)\n\nIt came with a [torn][seat] seat.\n\n[comment]: <> (remark-three)\n\n\
> Said by whoever brought it.\n>\n> [//]: # (remark-four)\n\n- The seat\n\n  [//]: # 'remark-five'\n\n\
- [//]: # (remark-six)\n  The back\n\n[//]: # (remark\nseven-over-lines)\n\n\
[unused]: https://example.org/remark-eight \"remark-nine\"\n[seat]: https://example.org/used\n";

#[test]
fn a_remark_in_a_story_is_printed_nowhere_and_not_sealed() {
    let remarked =
        |(workshop, markers): (Workshop, Markers)| (workshop.write("pieces/one/story.md", REMARKS), markers);
    let (files, _) = handed_over_from(remarked(workshop(|record| record)));
    let written = remarked(workshop(|record| record)).0.writeup().files;
    for files in [files, written] {
        for remark in ["remark-one", "remark-two", "remark-three", "remark-four", "remark-five", "remark-six"]
            .into_iter()
            .chain(["seven-over-lines", "remark-eight", "remark-nine"])
        {
            assert_eq!(holds(&files, remark), None, "{remark}");
        }
        for said in ["https://example.org/used", "Said by whoever brought it", "The back"] {
            assert!(holds(&files, said).is_some(), "{said}");
        }
    }
}

#[test]
fn a_private_photograph_is_not_in_the_pack_nor_its_name_in_the_seal() {
    let (files, _) = handed_over(|record| record.replace("private = false", "private = true"));
    assert_eq!(holds(&files, "before-front"), None);
    assert!(holds(&files, "after-front").is_some());
}

#[test]
fn an_unpublished_piece_is_in_no_file_of_the_showroom() {
    let (trees, markers) = written(|record| record.replace("publish = true", "publish = false"));
    for (marker, (path, _)) in markers.iter().filter(|(_, (path, _))| path.starts_with("record.")) {
        assert_eq!(
            holds(&trees["showroom"], marker),
            None,
            "{path} of an unpublished piece is in the showroom"
        );
    }
    assert_eq!(holds(&trees["showroom"], "zz-001"), None);
}

#[test]
fn a_private_photograph_is_in_the_archive_alone() {
    let (trees, _) = written(|record| record.replace("private = false", "private = true"));
    let pictures = |tree: &str, stage: &str| {
        let name = format!("{stage}-");
        trees[tree]
            .iter()
            .filter(|(path, _)| path.rsplit('/').next().is_some_and(|file| file.starts_with(&name)))
            .count()
    };
    assert_eq!(pictures("archive", "before"), 1);
    assert_eq!(pictures("buyers", "before"), 0);
    assert_eq!(pictures("showroom", "before"), 0);
    assert_eq!(pictures("showroom", "after"), 1);
}
