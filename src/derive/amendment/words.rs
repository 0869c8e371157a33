//! The words of amendments: what rows and fields are called, and how values are told.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::places::is_place;
use crate::record::{CanonicalValue, Form, SchemaNode};
use crate::unit::capital;

/// Texts longer than this are not quoted whole; what changed within them is.
pub(super) const LONGEST_QUOTE: usize = 90;

/// Words of a long text that are quoted where it changed.
const MOST_WORDS: usize = 24;

/// A table's entries; none where it is no table.
pub(super) fn table(canon: &CanonicalValue) -> &BTreeMap<String, CanonicalValue> {
    static NONE: BTreeMap<String, CanonicalValue> = BTreeMap::new();
    canon.table().unwrap_or(&NONE)
}

/// What things are called that rows name by their ids, by the key that names them and the id.
pub(super) type RowNames = BTreeMap<(&'static str, String), String>;

/// The names in some records; where they differ, the first record's.
pub(super) fn names(records: [&BTreeMap<String, CanonicalValue>; 2]) -> RowNames {
    let mut names = RowNames::new();
    for key in ["finding", "part", "patch", "work"] {
        for row in records.iter().filter_map(|record| record.get(key)).flat_map(CanonicalValue::list) {
            let name = main_words(key).first().and_then(|word| row.get(word)?.as_text());
            if let (Some(id), Some(name)) = (row.get("id").and_then(CanonicalValue::as_text), name) {
                names.entry((key, id.to_owned())).or_insert_with(|| name.to_owned());
            }
        }
    }
    names
}

/// The keys whose words a row is known and called by.
pub(super) fn main_words(key: &str) -> &'static [&'static str] {
    match key {
        "part" | "surface" | "tin" => &["name", "id", "parts"],
        "finding" => &["seen"],
        "decision" => &["ask"],
        "work" => &["did"],
        "fixing" => &["kind"],
        "test" => &["of"],
        "undone" | "open" | "stock" | "patch" => &["what"],
        "photo" => &["file"],
        "pair" => &["after", "before"],
        "swatch" => &["photo"],
        "options" => &["plan"],
        "shelves" => &["part"],
        "mix" => &["of"],
        "marks" => &["finding", "patch", "part", "work", "note"],
        _ => &[],
    }
}

/// What the papers call a row, such as `Part “Left leaf”`; by its place where it has no words of its own.
pub(super) fn called(key: &str, row: &CanonicalValue, place: usize, names: &RowNames) -> String {
    let noun = one(key);
    if let Some(text) = row.as_text() {
        return format!("{noun} “{}”", shortened(text));
    }
    let words = main_words(key).iter().find_map(|&key| {
        let name = |text: &str| names.get(&(key, text.to_owned())).map_or(text.to_owned(), Clone::clone);
        match &row.get(key)?.form {
            Form::Text(text) => Some(name(text)),
            Form::List(list) => {
                Some(list.iter().filter_map(CanonicalValue::as_text).map(name).collect::<Vec<_>>().join(", "))
            }
            _ => None,
        }
    });
    match words {
        Some(words) => format!("{noun} “{}”", shortened(&words)),
        None => format!("{noun} {}", place + 1),
    }
}

/// What a row says that went or came, after a colon; nothing where its name says it all.
pub(super) fn content(key: &str, row: &CanonicalValue, guide: Option<SchemaNode<'_>>) -> String {
    let name = main_words(key).iter().find(|word| row.get(word).is_some());
    let known = |field: &str| name == Some(&field) || field == "id";
    let fields = table(row).iter().filter(|(field, value)| !known(field) && !is_place(field, value));
    let said: Vec<String> = fields
        .filter_map(|(field, value)| {
            let guide = guide.and_then(|guide| guide.key(field));
            (!guide.is_some_and(SchemaNode::is_personal))
                .then(|| format!("{} {}", label(field), said(value, guide)))
        })
        .collect();
    if said.is_empty() { String::new() } else { format!(": {}", said.join("; ")) }
}

/// A value in words.
pub(super) fn said(value: &CanonicalValue, guide: Option<SchemaNode<'_>>) -> String {
    match &value.form {
        Form::Text(text) if is_word(text, guide) => format!("“{}”", text.replace('-', " ")),
        Form::Text(text) => format!("“{}”", shortened(text)),
        Form::Number(number) => format!("{number}{}", unit(guide)),
        Form::Truth(true) => "yes".to_owned(),
        Form::Truth(false) => "no".to_owned(),
        Form::Day(day) => {
            day.parse::<NaiveDate>().map_or(day.clone(), |day| day.format("%-d %B %Y").to_string())
        }
        Form::List(list) => {
            let element = guide.and_then(SchemaNode::element);
            list.iter().map(|each| said(each, element)).collect::<Vec<_>>().join(", ")
        }
        Form::Table(table) => {
            let fields = table.iter().filter(|(key, value)| !is_place(key, value)).map(|(key, value)| {
                format!("{} {}", label(key), said(value, guide.and_then(|guide| guide.key(key))))
            });
            fields.collect::<Vec<_>>().join(", ")
        }
    }
}

/// Whether a text is a word of a closed list.
fn is_word(text: &str, guide: Option<SchemaNode<'_>>) -> bool {
    let words = guide.and_then(|guide| guide.resolved().schema["oneOf"].as_array());
    words.is_some_and(|words| words.iter().any(|word| word["const"] == text))
}

/// The unit of a number, where its type has one.
fn unit(guide: Option<SchemaNode<'_>>) -> String {
    let unit = guide.and_then(|guide| guide.resolved().schema["x-unit"].as_str());
    unit.map_or_else(String::new, |unit| format!(" {unit}"))
}

/// How a long text changed: the words that went and came, where they are few, or else how many.
pub(super) fn rewritten(was: &str, is: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) =
        (was.split_whitespace().collect(), is.split_whitespace().collect());
    if old == new {
        return "was broken into other lines".to_owned();
    }
    let first = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[first..], &new[first..]);
    let last = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[..old.len() - last], &new[..new.len() - last]);
    let words = |number: usize| if number == 1 { "1 word".to_owned() } else { format!("{number} words") };
    match (old, new) {
        ([], new) if new.len() <= MOST_WORDS => format!("was changed: “{}” was added", new.join(" ")),
        (old, []) if old.len() <= MOST_WORDS => format!("was changed: “{}” was taken out", old.join(" ")),
        (old, new) if old.len().max(new.len()) <= MOST_WORDS => {
            format!("was changed: “{}” is now “{}”", old.join(" "), new.join(" "))
        }
        (old, new) => {
            let from = format!("from its {}th word on", first + 1);
            format!("was changed {from}: {} were there, {} are now", words(old.len()), words(new.len()))
        }
    }
}

/// Text as a quotation of one line.
fn shortened(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    match line.char_indices().nth(LONGEST_QUOTE) {
        Some((end, _)) => format!("{} …", line[..end].trim_end()),
        None => line,
    }
}

/// Someone's thing within another: `Surface “Top”, step 3`.
pub(super) fn within(subject: &str, thing: &str) -> String {
    match subject {
        "" => capital(thing),
        subject => format!("{subject}, {thing}"),
    }
}

/// One row of a list, as a noun.
fn one(key: &str) -> String {
    match key {
        "options" => "option",
        "steps" => "step",
        "marks" => "mark",
        "shelves" => "shelf",
        "landmarks" => "landmark",
        "photo" => "words to photograph",
        "pair" => "pair of photographs",
        "assembly" => "step of assembly",
        "moving" => "step of moving",
        "cautions" => "caution",
        "given" => "what goes with it,",
        "undone" => "left undone,",
        "open" => "open question",
        "mix" => "ingredient",
        "found" => "layer found,",
        key => return key.replace('-', " "),
    }
    .to_owned()
}

/// The rows of a list, as a noun.
pub(super) fn several(key: &str) -> String {
    match key {
        "open" => "open questions".to_owned(),
        "undone" => "things left undone".to_owned(),
        "given" => "things that go with it".to_owned(),
        "photo" => "words to photographs".to_owned(),
        "pair" => "pairs of photographs".to_owned(),
        "swatch" => "swatches".to_owned(),
        "mix" => "ingredients".to_owned(),
        "assembly" | "moving" => format!("steps of {key}"),
        "stock" | "shelves" | "steps" | "options" | "marks" | "landmarks" | "cautions" => label(key),
        "patch" => "patches".to_owned(),
        key => format!("{}s", key.replace('-', " ")),
    }
}

/// Whether a field's words are of several things.
pub(super) fn is_plural(label: &str) -> bool {
    let several = |word: Option<&str>| word.is_some_and(|word| word.ends_with('s') && word != "its");
    let singular = label.starts_with("basis") || label.starts_with("wh");
    !singular && (several(label.split(' ').next()) || several(label.split(' ').next_back()))
}

/// A field's key as words.
pub(super) fn label(key: &str) -> String {
    match key {
        "on" => "the day",
        "to" => "to whom it goes",
        "at" => "its place",
        "part" => "parts",
        "did" => "what was done",
        "by" => "the means",
        "for" => "what it is for",
        "of" => "what it is of",
        "ask" => "the question",
        "chose" => "the choice",
        "because" => "the reason",
        "rest" => "parts not listed",
        "with" => "what it was made with",
        "made" => "years of making",
        "basis" => "basis of the years",
        "told-by" => "what it can be told by",
        "seen" => "what is seen",
        "mends" => "findings mended",
        "leaves" => "findings left",
        "redoes" => "work done again",
        "turned-out" => "how it turned out",
        "undo" => "how to undo it",
        "undoable" => "whether it can be undone",
        "weighs" => "weight",
        "apply" => "what was applied",
        "remove" => "what was removed",
        "abrade" => "grits",
        "clean" => "what it was cleaned with",
        "test" => "what was tested",
        "only" => "parts it was done to",
        "found" => "layers found",
        "given" => "what goes with it",
        "alt" => "its description",
        "is" => "family",
        "scale" => "known length",
        "mm" => "length",
        key => return key.replace('-', " "),
    }
    .to_owned()
}
