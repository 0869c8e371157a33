//! The words of amendments: what rows and fields are called, and how values are told.

use std::collections::BTreeMap;

use chrono::NaiveDate;

use super::places::is_place;
use crate::claim::{Message, Value, says};
use crate::record::{CanonicalValue, Form, SchemaNode};

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
        "day-book" => &["said"],
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

/// What the papers call a row, such as `part “Left leaf”`; by its place where it has no words of its own.
pub(super) fn called(key: &str, row: &CanonicalValue, place: usize, names: &RowNames) -> Value {
    let noun = named("row", key);
    if let Some(text) = row.as_text() {
        return says!("amended-row", row = noun, name = shortened(text)).into();
    }
    let words = main_words(key).iter().find_map(|&key| {
        let name = |text: &str| Value::from(names.get(&(key, text.to_owned())).map_or(text, String::as_str));
        match &row.get(key)?.form {
            Form::Text(text) => Some(name(&shortened(text))),
            Form::List(list) => {
                Some(Value::Series(list.iter().filter_map(CanonicalValue::as_text).map(name).collect()))
            }
            _ => None,
        }
    });
    match words {
        Some(words) => says!("amended-row", row = noun, name = words).into(),
        None => says!("amended-row-number", row = noun, number = place + 1).into(),
    }
}

/// What a row says that went or came; nothing where its name says it all.
pub(super) fn content(key: &str, row: &CanonicalValue, guide: Option<SchemaNode<'_>>) -> Option<Value> {
    let name = main_words(key).iter().find(|word| row.get(word).is_some());
    let known = |field: &str| name == Some(&field) || field == "id";
    let fields = table(row).iter().filter(|(field, value)| !known(field) && !is_place(field, value));
    let said: Vec<Value> = fields
        .filter_map(|(field, value)| {
            let guide = guide.and_then(|guide| guide.key(field));
            (!guide.is_some_and(SchemaNode::is_closed)).then(|| told(field, value, guide))
        })
        .collect();
    (!said.is_empty()).then_some(Value::Series(said))
}

/// A field with what it says.
fn told(field: &str, value: &CanonicalValue, guide: Option<SchemaNode<'_>>) -> Value {
    says!("amended-told", field = label(field), value = said(value, guide)).into()
}

/// A value in words.
pub(super) fn said(value: &CanonicalValue, guide: Option<SchemaNode<'_>>) -> Value {
    match &value.form {
        Form::Text(text) if is_word(text, guide) => {
            says!("amended-quoted", text = named("word", text)).into()
        }
        Form::Text(text) => says!("amended-quoted", text = shortened(text)).into(),
        Form::Number(number) => {
            let number = number.to_string();
            match guide.and_then(|guide| guide.resolved().schema["x-unit"].as_str()) {
                Some("mm") => says!("unit-mm", figure = number).into(),
                Some("kg") => says!("unit-kg", figure = number).into(),
                Some("cm²") => says!("unit-cm2", figure = number).into(),
                Some(_) => says!("share-percent", figure = number).into(),
                None => number.into(),
            }
        }
        Form::Truth(true) => says!("amended-yes").into(),
        Form::Truth(false) => says!("amended-no").into(),
        Form::Day(day) => day.parse::<NaiveDate>().map_or_else(|_| day.as_str().into(), Value::Day),
        Form::List(list) => {
            let element = guide.and_then(SchemaNode::element);
            Value::Series(list.iter().map(|each| said(each, element)).collect())
        }
        Form::Table(table) => {
            let fields = table.iter().filter(|(key, value)| !is_place(key, value));
            let told = |(key, value): (&String, &CanonicalValue)| {
                told(key, value, guide.and_then(|guide| guide.key(key)))
            };
            Value::Series(fields.map(told).collect())
        }
    }
}

/// Whether a text is a word of a closed list.
fn is_word(text: &str, guide: Option<SchemaNode<'_>>) -> bool {
    let words = guide.and_then(|guide| guide.resolved().schema["oneOf"].as_array());
    words.is_some_and(|words| words.iter().any(|word| word["const"] == text))
}

/// How a long text changed: the words that went and came, where they are few, or else how many.
pub(super) fn rewritten(was: &str, is: &str) -> Message {
    let (old, new): (Vec<&str>, Vec<&str>) =
        (was.split_whitespace().collect(), is.split_whitespace().collect());
    if old == new {
        return says!("rewritten-lines");
    }
    let first = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[first..], &new[first..]);
    let last = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
    let (old, new) = (&old[..old.len() - last], &new[..new.len() - last]);
    match (old, new) {
        ([], new) if new.len() <= MOST_WORDS => says!("rewritten-added", new = new.join(" ")),
        (old, []) if old.len() <= MOST_WORDS => says!("rewritten-out", old = old.join(" ")),
        (old, new) if old.len().max(new.len()) <= MOST_WORDS => {
            says!("rewritten-words", old = old.join(" "), new = new.join(" "))
        }
        (old, new) => says!("rewritten-much", word = first + 1, old = old.len(), new = new.len()),
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

/// Someone's thing within another: `surface “Top”, step 3`.
pub(super) fn within(subject: Option<&Value>, thing: Value) -> Value {
    match subject {
        None => thing,
        Some(subject) => says!("amended-within", subject = subject.clone(), thing = thing).into(),
    }
}

/// The rows of a list, as a noun.
pub(super) fn several(key: &str) -> Value {
    named("rows", key)
}

/// A field's key as words.
pub(super) fn label(key: &str) -> Value {
    named("field", key)
}

/// What a language calls a key or a word of a record; the key itself where it has no word for it.
fn named(family: &str, key: &str) -> Value {
    let message = match family {
        "row" => Message::word("row", key),
        "rows" => Message::word("rows", key),
        "field" => Message::word("field", key),
        _ => Message::word("word", key),
    };
    Value::Named(message, key.replace('-', " "))
}
