//! The canonical form of a record: one text for one content, whatever its layout, order and spelling of numbers.
//!
//! What a seal is taken of. Redacted by the JSON Schema's `x-read-by`, so that a field that is closed by its type to the
//! public or to the buyer too is left out without being named here: a seal stands for ever, and holds nobody's name.

use std::collections::BTreeMap;
use std::ops::Range;
use std::str::FromStr;

use rust_decimal::Decimal;
use serde_json::Value as Json;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::unit::legible::{unseen, without_unseen};

/// A value in canonical form, and where its file says it.
///
/// Two are equal where they say the same; their places do not matter.
#[derive(Debug, Clone)]
pub struct CanonicalValue {
    /// What is said.
    pub form: Form,
    /// Byte range in the file it was read from; empty where it was not read from there.
    pub span: Range<usize>,
}

/// What a canonical value says.
#[derive(Debug, Clone, PartialEq)]
pub enum Form {
    /// Text, without white space around it and with `\n` between its lines.
    Text(String),
    /// A number in its shortest decimal spelling.
    Number(String),
    /// True or false.
    Truth(bool),
    /// A day, as `2026-03-14`.
    Day(String),
    /// A list; a single value that may stand for a list is one, too.
    List(Vec<CanonicalValue>),
    /// A table, by key.
    Table(BTreeMap<String, CanonicalValue>),
}

impl PartialEq for CanonicalValue {
    fn eq(&self, other: &Self) -> bool {
        self.form == other.form
    }
}

impl From<Form> for CanonicalValue {
    fn from(form: Form) -> Self {
        CanonicalValue { form, span: 0..0 }
    }
}

impl CanonicalValue {
    /// A text that was not read from a file.
    pub fn text(text: &str) -> CanonicalValue {
        Form::Text(tidy(text)).into()
    }

    /// The same without the characters that nobody sees, which older seals may hold.
    pub fn without_unseen(&self) -> CanonicalValue {
        let form = match &self.form {
            Form::Text(text) => Form::Text(seen(text)),
            Form::List(list) => Form::List(list.iter().map(CanonicalValue::without_unseen).collect()),
            Form::Table(table) => {
                Form::Table(table.iter().map(|(key, value)| (key.clone(), value.without_unseen())).collect())
            }
            other => other.clone(),
        };
        CanonicalValue { form, span: self.span.clone() }
    }

    /// The value under a key, where this is a table that has it.
    pub fn get(&self, key: &str) -> Option<&CanonicalValue> {
        self.table()?.get(key)
    }

    /// Its table, where it is one.
    pub fn table(&self) -> Option<&BTreeMap<String, CanonicalValue>> {
        match &self.form {
            Form::Table(table) => Some(table),
            _ => None,
        }
    }

    /// Its elements; none where it is no list.
    pub fn list(&self) -> &[CanonicalValue] {
        match &self.form {
            Form::List(list) => list,
            _ => &[],
        }
    }

    /// Its text, where it is one.
    pub fn as_text(&self) -> Option<&str> {
        match &self.form {
            Form::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Puts a value into a table, or takes the key out of it.
    pub(super) fn set(&mut self, key: &str, value: Option<CanonicalValue>) {
        if let Form::Table(table) = &mut self.form {
            match value {
                Some(value) => _ = table.insert(key.to_owned(), value),
                None => _ = table.remove(key),
            }
        }
    }

    /// The one text of this content, as TOML 1.0 that begins with its bare keys, and its tables after them.
    ///
    /// `within` is the name of the table that it is put into, or empty. The writing is our own, so that no release
    /// of a library can change what a seal was taken of.
    pub fn toml(&self, within: &str) -> String {
        let mut text = String::new();
        let Some(table) = self.table() else { return text };
        let (blocks, lines): (Vec<_>, Vec<_>) = table.iter().partition(|(_, value)| value.is_block());
        if !within.is_empty() {
            text.push_str(&format!("[{within}]\n"));
        }
        write_lines(&mut text, lines);
        for (key, value) in blocks {
            let name = match within {
                "" => bare(key),
                within => format!("{within}.{}", bare(key)),
            };
            let (open, close, rows) = match &value.form {
                Form::List(rows) => ("[[", "]]", rows.as_slice()),
                _ => ("[", "]", std::slice::from_ref(value)),
            };
            for row in rows {
                if !text.is_empty() {
                    text.push('\n');
                }
                text.push_str(&format!("{open}{name}{close}\n"));
                write_lines(&mut text, row.table().into_iter().flatten());
            }
        }
        text
    }

    /// The same content as JSON; dates become texts.
    pub fn json(&self) -> Json {
        match &self.form {
            Form::Text(text) | Form::Day(text) => text.as_str().into(),
            Form::Number(number) => serde_json::from_str(number).unwrap_or_else(|_| number.as_str().into()),
            Form::Truth(truth) => (*truth).into(),
            Form::List(list) => list.iter().map(CanonicalValue::json).collect(),
            Form::Table(table) => table
                .iter()
                .map(|(key, value)| (key.clone(), value.json()))
                .collect::<serde_json::Map<_, _>>()
                .into(),
        }
    }

    /// Whether it is written under a heading of its own: a table, or a list of nothing but tables.
    fn is_block(&self) -> bool {
        match &self.form {
            Form::Table(_) => true,
            Form::List(list) => !list.is_empty() && list.iter().all(|each| each.table().is_some()),
            _ => false,
        }
    }

    /// Reads any TOML value as it is, without a schema.
    pub(super) fn of(value: &Spanned<DeValue<'_>>) -> CanonicalValue {
        let form = match value.get_ref() {
            DeValue::String(text) => Form::Text(tidy(text)),
            DeValue::Integer(number) => {
                Form::Number(match i64::from_str_radix(number.as_str(), number.radix()) {
                    Ok(whole) => whole.to_string(),
                    Err(_) => shortest(number.as_str()),
                })
            }
            DeValue::Float(number) => Form::Number(shortest(number.as_str())),
            DeValue::Boolean(truth) => Form::Truth(*truth),
            DeValue::Datetime(moment) => match moment.date {
                Some(date) => Form::Day(date.to_string()),
                None => Form::Text(moment.to_string()),
            },
            DeValue::Array(list) => Form::List(list.iter().map(CanonicalValue::of).collect()),
            DeValue::Table(table) => Form::Table(
                table
                    .iter()
                    .map(|(key, value)| (key.get_ref().to_string(), CanonicalValue::of(value)))
                    .collect(),
            ),
        };
        CanonicalValue { form, span: value.span() }
    }
}

/// A schema with the definitions that it refers to.
#[derive(Clone, Copy)]
pub struct SchemaNode<'a> {
    /// What the value may be.
    pub schema: &'a Json,
    definitions: &'a Json,
}

impl<'a> SchemaNode<'a> {
    /// A whole schema, as `schemars` makes it.
    pub fn of(schema: &'a Json) -> SchemaNode<'a> {
        SchemaNode { schema, definitions: &schema["$defs"] }
    }

    /// The schema of a table's key; `None` where the table has no such key.
    pub fn key(self, key: &str) -> Option<SchemaNode<'a>> {
        let schema = self.resolved().schema.get("properties")?.get(key)?;
        Some(SchemaNode { schema, ..self })
    }

    /// The schema of a list's elements; `None` where it is no list.
    pub fn element(self) -> Option<SchemaNode<'a>> {
        let resolved = self.resolved();
        let schema = match resolved.schema["anyOf"].get(0) {
            // One value or a list of them.
            Some(one) => one,
            None => resolved.schema.get("items")?,
        };
        Some(SchemaNode { schema, ..self })
    }

    /// The schema that this one refers to, or itself.
    pub fn resolved(self) -> SchemaNode<'a> {
        match self.schema["$ref"].as_str().and_then(|name| name.strip_prefix("#/$defs/")) {
            Some(name) => SchemaNode { schema: &self.definitions[name], ..self },
            None => self,
        }
    }

    /// Whether it is for the workshop alone, or for this one buyer, and so in no seal.
    pub fn is_closed(self) -> bool {
        self.schema.get("x-read-by").is_some()
    }
}

/// What is sealed of a table, in canonical form; keys that are not in the schema are left out.
pub(super) fn redacted(table: &DeTable<'_>, guide: SchemaNode<'_>) -> BTreeMap<String, CanonicalValue> {
    let entry = |(key, value): (&Spanned<_>, &Spanned<DeValue<'_>>)| {
        let key: &str = AsRef::<str>::as_ref(key.get_ref());
        let said = known(value, guide.key(key)?)?;
        // A table whose every key is closed must not show that it is there.
        (said.table().is_none_or(|table| !table.is_empty())).then(|| (key.to_owned(), said))
    };
    table.iter().filter_map(entry).collect()
}

/// One value that a schema knows; `None` where it is closed, or says nothing.
fn known(value: &Spanned<DeValue<'_>>, guide: SchemaNode<'_>) -> Option<CanonicalValue> {
    if guide.is_closed() {
        return None;
    }
    let schema = guide.resolved().schema;
    let form = match value.get_ref() {
        _ if schema.get("anyOf").is_some() => {
            let one = guide.element()?;
            let said: Vec<CanonicalValue> = match value.get_ref() {
                DeValue::Array(list) => list.iter().filter_map(|each| known(each, one)).collect(),
                _ => known(value, one).into_iter().collect(),
            };
            Form::List(said)
        }
        DeValue::Array(list) => match guide.element() {
            Some(one) => Form::List(list.iter().filter_map(|each| known(each, one)).collect()),
            None => CanonicalValue::of(value).form,
        },
        // A table that stands where none may is dropped: nothing says who may read what is in it.
        DeValue::Table(table) => match schema.get("properties") {
            Some(_) => Form::Table(redacted(table, guide)),
            None => return None,
        },
        // What nobody sees is sealed no more than it is printed.
        DeValue::String(text) => Form::Text(seen(text)),
        // Years may be written without quotes.
        DeValue::Integer(year) if schema["type"] == "string" => Form::Text(year.as_str().to_owned()),
        _ => CanonicalValue::of(value).form,
    };
    let empty = matches!(&form, Form::List(list) if list.is_empty());
    (!empty).then(|| CanonicalValue { form, span: value.span() })
}

/// Text without white space around it, with `\n` between its lines.
fn tidy(text: &str) -> String {
    text.trim().replace("\r\n", "\n").replace('\r', "\n")
}

/// The same text without what nobody sees.
fn seen(text: &str) -> String {
    without_unseen(&tidy(text)).trim().to_owned()
}

/// The shortest decimal spelling of a number.
fn shortest(written: &str) -> String {
    let plain = written.trim_start_matches('+').replace('_', "");
    let exact = Decimal::from_str(&plain).or_else(|_| Decimal::from_scientific(&plain));
    match exact {
        Ok(number) if number.is_zero() => "0".to_owned(),
        Ok(number) => number.normalize().to_string(),
        // Beyond what any field takes: the nearest binary number tells two of them apart well enough.
        Err(_) => plain.parse::<f64>().map_or(plain, |number| match number.is_finite() {
            true => format!("{number:e}"),
            false => number.to_string().to_lowercase(),
        }),
    }
}

fn write_lines<'a>(text: &mut String, lines: impl IntoIterator<Item = (&'a String, &'a CanonicalValue)>) {
    for (key, value) in lines {
        text.push_str(&format!("{} = {}\n", bare(key), line(value, true)));
    }
}

/// A value behind its key. Only at the top of a table may it go over several lines, for whoever compares two.
fn line(value: &CanonicalValue, top: bool) -> String {
    match &value.form {
        Form::Text(text) if top && text.contains('\n') => lines(text),
        Form::Text(text) => quoted(text),
        Form::Number(number) => number.clone(),
        Form::Day(day) => day.clone(),
        Form::Truth(truth) => truth.to_string(),
        Form::List(list) => {
            let each: Vec<String> = list.iter().map(|each| line(each, false)).collect();
            let long = list.iter().any(|each| matches!(each.form, Form::Table(_) | Form::List(_)))
                || each.iter().map(|each| each.chars().count() + 2).sum::<usize>() > 100;
            match top && long {
                true => format!("[\n{}]", each.iter().map(|each| format!("  {each},\n")).collect::<String>()),
                false => format!("[{}]", each.join(", ")),
            }
        }
        Form::Table(table) if table.is_empty() => "{}".to_owned(),
        Form::Table(table) => {
            let each: Vec<String> =
                table.iter().map(|(key, value)| format!("{} = {}", bare(key), line(value, false))).collect();
            format!("{{ {} }}", each.join(", "))
        }
    }
}

/// A key, in quotes where it needs them. Names of photographs are keys, too, and what nobody sees of them is escaped.
fn bare(key: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !key.is_empty() && key.chars().all(plain) {
        return key.to_owned();
    }
    let escaped = |text: String, (_, c)| text.replace(c, &format!("\\U{:08X}", u32::from(c)));
    unseen(key).fold(quoted(key), escaped)
}

/// A basic string.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => quoted.push_str("\\\""),
            '\n' => quoted.push_str("\\n"),
            c => escape(&mut quoted, c),
        }
    }
    quoted.push('"');
    quoted
}

/// A basic string over several lines.
fn lines(text: &str) -> String {
    let mut lines = String::from("\"\"\"\n");
    for c in text.chars() {
        match c {
            '\n' => lines.push('\n'),
            // Every one of them, so that no run of three can end the text.
            '"' => lines.push_str("\\\""),
            c => escape(&mut lines, c),
        }
    }
    lines.push_str("\"\"\"");
    lines
}

fn escape(text: &mut String, c: char) {
    match c {
        '\\' => text.push_str("\\\\"),
        '\t' => text.push_str("\\t"),
        '\r' => text.push_str("\\r"),
        c if c.is_ascii_control() => text.push_str(&format!("\\u{:04X}", u32::from(c))),
        c => text.push(c),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Any TOML text as it is, canonical.
    fn raw(text: &str) -> CanonicalValue {
        let table = DeTable::parse(text).unwrap_or_else(|error| panic!("{error}\n{text}"));
        let table =
            table.get_ref().iter().map(|(key, value)| (key.get_ref().to_string(), CanonicalValue::of(value)));
        Form::Table(table.collect()).into()
    }

    /// What the buyer may read of a record, as canonical text.
    fn seen(text: &str) -> String {
        let schema = crate::record::record_schema().to_value();
        let table = DeTable::parse(text).unwrap();
        CanonicalValue::from(Form::Table(redacted(table.get_ref(), SchemaNode::of(&schema)))).toml("")
    }

    #[test]
    fn layout_order_comments_and_spelling_do_not_matter() {
        let one = seen(
            "title = \"Table\"\nsize = { width = 910.0, height = 7.35e2, depth = 1_200 }\nmade = 1925\n\
             [[part]]\nname = \" Top \"\nid = \"top\"\nstanding = 'original'\n[[work]]\ndid = \"x\"\npart = \"top\"\n",
        );
        let two = seen(
            "# A table\nmade = \"1925\"\ntitle = 'Table'\n[[work]]\npart = [\"top\"]\ndid = \"\"\"\nx\"\"\"\n\
             [[part]]\nid = \"top\" # here\nstanding = \"original\"\nname = \"Top\"\n\
             [size]\ndepth = 1200\nwidth = 910\nheight = 735\n",
        );
        assert_eq!(one, two);
        assert!(one.contains("[size]\ndepth = 1200\nheight = 735\nwidth = 910\n"), "{one}");
    }

    #[test]
    fn what_is_closed_is_left_out_and_so_is_what_nobody_knows() {
        let text = seen(
            "title = \"T\"\nhours = 3\nnotes = \"n\"\nsecret = \"s\"\nfound = { paid = 3 }\n\
             lesson = [{ text = \"l\" }]\ncost = [{ what = \"c\" }]\nhandover = { to = \"B\", price = 3 }\nreserved = { to = \"B\", on = 2026-03-14 }\n\
             work = [{ did = \"d\", hours = 1 }]\nsize = { width = 1, cost = { of = \"s\" } }\nsummary = { a = \"s\" }\n",
        );
        assert_eq!(
            text,
            "title = \"T\"\n\n[reserved]\non = 2026-03-14\n\n[size]\nwidth = 1\n\n[[work]]\ndid = \"d\"\n"
        );
    }

    #[test]
    fn numbers_have_one_spelling() {
        for (written, canonical) in [
            ("910.0", "910"),
            ("+9_1.50", "91.5"),
            ("-0.0", "0"),
            ("2.4e1", "24"),
            ("1E-3", "0.001"),
            ("1e-300", "1e-300"),
            ("inf", "inf"),
            ("240.00", "240"),
        ] {
            assert_eq!(shortest(written), canonical, "{written}");
            assert_eq!(shortest(canonical), canonical, "{canonical}");
        }
    }

    fn any_canon() -> impl Strategy<Value = CanonicalValue> {
        let number = (-1_000_000_i64..1_000_000, 0_u32..6).prop_map(|(digits, scale)| {
            Form::Number(shortest(&Decimal::new(digits, scale).to_string())).into()
        });
        let text = prop_oneof![any::<String>(), "[a\"\\\\\n\r\t']{0,12}", "(\n|a|\"\"\"){0,6}"];
        let leaf = prop_oneof![
            text.prop_map(|text| CanonicalValue::text(&text)),
            number,
            any::<bool>().prop_map(|truth| Form::Truth(truth).into()),
            Just(Form::Day("2026-03-14".to_owned()).into()),
        ];
        let deep = leaf.prop_recursive(3, 40, 5, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 1..5).prop_map(|list| Form::List(list).into()),
                prop::collection::btree_map("[a-z-]{1,6}|.{0,4}", inner, 0..5)
                    .prop_map(|table| Form::Table(table).into()),
            ]
        });
        prop::collection::btree_map("[a-z-]{1,6}|.{0,4}", deep, 0..6)
            .prop_map(|table| Form::Table(table).into())
    }

    proptest! {
        /// What is written is read again as the same, by itself and within another table.
        #[test]
        fn the_text_says_what_the_value_says(canon in any_canon()) {
            let text = canon.toml("");
            prop_assert_eq!(&raw(&text), &canon, "{}", text);
            prop_assert_eq!(raw(&text).toml(""), text);
            let within = raw(&canon.toml("record"));
            prop_assert_eq!(within.get("record").unwrap(), &canon);
        }

        /// An independent writer's spelling of the same content gives the same text.
        #[test]
        fn another_writer_changes_nothing(canon in any_canon()) {
            let text = canon.toml("");
            let other: toml::Table = toml::from_str(&text).unwrap();
            let spelled = toml::to_string_pretty(&other).unwrap();
            prop_assert_eq!(raw(&spelled).toml(""), text);
        }
    }
}
