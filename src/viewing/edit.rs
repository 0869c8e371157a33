//! Putting a change into the text of a record, and leaving every other byte of it as it was.
//!
//! The text is read by `toml_edit`, which tells where each table and value lies. What changes is written into that
//! place; the rest, with its comments, blank lines and line ends, is never taken apart.

use std::ops::Range;

use toml_edit::{Array, ArrayOfTables, Document, InlineTable, Item, Table, TableLike, Value};

use super::change::{Change, landmark};

/// Why a change does not go into a record; a sentence without its full stop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// The record does not read as TOML.
    #[error("the record breaks the grammar of TOML in line {0}, and has to be mended by hand first")]
    Broken(usize),
    /// A key holds something else than the record's format wants there.
    #[error("`{0}` holds something else in this record, and has to be mended by hand first")]
    Unlike(&'static str),
    /// The record would not read as well as it did.
    #[error("the record would then have a mistake: {0}")]
    Mistake(String),
}

/// The text of a record with a change in it.
///
/// Landmarks replace those of an entry for the same two photographs, marks are put after those of the photograph's
/// entry, and swatches after other swatches. An entry that is missing is added after the last one of its kind, or at
/// the end. All else is kept byte for byte.
///
/// # Errors
/// [`Refused`] where the text breaks the grammar, or holds something of another kind in that place.
pub fn added(text: &str, change: &Change) -> Result<String, Refused> {
    let document = Document::parse(text)
        .map_err(|error| Refused::Broken(line_of(text, error.span().map_or(0, |span| span.start))))?;
    Ok(spliced(text, splice(text, document.as_table(), change)?))
}

/// The text with its one change.
pub(super) fn spliced(text: &str, Splice { at, new }: Splice) -> String {
    // Lines end in the new ones as they end in the first old one.
    let crlf = text.find('\n').is_some_and(|end| text[..end].ends_with('\r'));
    let new = if crlf { new.replace("\r\n", "\n").replace('\n', "\r\n") } else { new };
    format!("{}{new}{}", &text[..at.start], &text[at.end..])
}

/// The one place of a text that changes.
pub(super) struct Splice {
    pub(super) at: Range<usize>,
    pub(super) new: String,
}

fn splice(text: &str, root: &Table, change: &Change) -> Result<Splice, Refused> {
    let name = change.table();
    match root.get(name) {
        None => Ok(at_end(text, change)),
        Some(Item::ArrayOfTables(tables)) => match tables.iter().find(|table| is_meant(*table, change)) {
            Some(table) => into_table(text, table, change),
            None => Ok(after(text, end_of_tables(tables), name, change.keys())),
        },
        // Written as one list: `pair = [{ … }]`.
        Some(Item::Value(Value::Array(array))) => {
            let meant =
                array.iter().filter_map(Value::as_inline_table).find(|table| is_meant(*table, change));
            match meant {
                Some(table) => into_inline_table(text, table, change),
                None => {
                    let entry = change
                        .keys()
                        .into_iter()
                        .map(|(key, value)| (key, flat(value)))
                        .collect::<InlineTable>();
                    extended(text, array, vec![Value::InlineTable(entry)]).ok_or(Refused::Unlike(name))
                }
            }
        }
        Some(_) => Err(Refused::Unlike(name)),
    }
}

/// Whether an entry is the one that the change is about.
fn is_meant(table: &dyn TableLike, change: &Change) -> bool {
    let known_by = change.known_by();
    let same = |(key, value): (&str, &str)| table.get(key).and_then(Item::as_str) == Some(value);
    !known_by.is_empty() && known_by.into_iter().all(same)
}

/// Puts the change into an entry that is a table of its own.
fn into_table(text: &str, table: &Table, change: &Change) -> Result<Splice, Refused> {
    let (key, fresh) = what(change);
    match table.get(key) {
        Some(Item::Value(Value::Array(array))) => into_array(text, array, change).ok_or(Refused::Unlike(key)),
        // Marks may be tables of their own too.
        Some(Item::ArrayOfTables(marks)) => match change {
            Change::Marks { marks: new, .. } => {
                let end = end_of_tables(marks);
                let blocks = new.iter().map(|mark| block("photo.marks", inline_keys(&mark.value())));
                Ok(after_text(text, end, blocks.collect::<Vec<_>>().join("\n")))
            }
            _ => Err(Refused::Unlike(key)),
        },
        None => {
            let end = end_of_keys(table).ok_or(Refused::Unlike(change.table()))?;
            let end = line_end(text, end);
            let indent = indent_at(text, first_key(table).unwrap_or(end));
            Ok(Splice { at: end..end, new: format!("\n{indent}{key} = {}", fresh.to_string().trim()) })
        }
        Some(_) => Err(Refused::Unlike(key)),
    }
}

/// Puts the change into an entry that stands within a list.
fn into_inline_table(text: &str, table: &InlineTable, change: &Change) -> Result<Splice, Refused> {
    let (key, fresh) = what(change);
    match table.get(key) {
        Some(Value::Array(array)) => into_array(text, array, change).ok_or(Refused::Unlike(key)),
        None => {
            let mut table = detached(text, table.span()).ok_or(Refused::Unlike(change.table()))?;
            let inline = table.1.as_inline_table_mut().ok_or(Refused::Unlike(change.table()))?;
            // The white space before the closing brace stays there.
            let mut fresh = flat(fresh);
            if let Some((_, last)) = inline.iter_mut().last() {
                let suffix =
                    last.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or("").to_owned();
                last.decor_mut().set_suffix("");
                fresh.decor_mut().set_prefix(" ");
                fresh.decor_mut().set_suffix(suffix);
            }
            inline.insert(key, fresh);
            Ok(Splice { at: table.0, new: table.1.to_string() })
        }
        Some(_) => Err(Refused::Unlike(key)),
    }
}

/// The key that the change is about, with its whole value.
fn what(change: &Change) -> (&'static str, Value) {
    // It is the last one for landmarks and marks; a swatch is never put into an entry that is there.
    change.keys().pop().expect("every change has keys")
}

fn into_array(text: &str, array: &Array, change: &Change) -> Option<Splice> {
    match change {
        Change::Landmarks { landmarks, .. } => {
            replaced(text, array, landmarks.iter().map(landmark).collect())
        }
        Change::Marks { marks, .. } => extended(text, array, marks.iter().map(|mark| mark.value()).collect()),
        Change::Swatch { .. } => None,
    }
}

/// A list with other values, in the layout and with the comments that it had.
pub(super) fn replaced(text: &str, array: &Array, values: Vec<Value>) -> Option<Splice> {
    let (at, mut value) = detached(text, array.span())?;
    let array = value.as_array_mut()?;
    if array.is_empty() {
        return extended_detached(at, value, values);
    }
    while array.len() > values.len() {
        array.remove(array.len() - 1);
    }
    let mut values = values.into_iter();
    for (place, new) in array.iter_mut().zip(values.by_ref()) {
        let decor = place.decor().clone();
        *place = new;
        *place.decor_mut() = decor;
    }
    extended_detached(at, value, values.collect())
}

/// A list with more values at its end.
pub(super) fn extended(text: &str, array: &Array, values: Vec<Value>) -> Option<Splice> {
    let (at, value) = detached(text, array.span())?;
    extended_detached(at, value, values)
}

fn extended_detached(at: Range<usize>, mut value: Value, values: Vec<Value>) -> Option<Splice> {
    let array = value.as_array_mut()?;
    let trailing = array.trailing().as_str().unwrap_or_default().to_owned();
    let last = array.iter().last();
    let before_last =
        last.and_then(|last| last.decor().prefix()).and_then(|prefix| prefix.as_str()).unwrap_or("");
    let suffix = last.and_then(|last| last.decor().suffix()).and_then(|suffix| suffix.as_str()).unwrap_or("");
    let in_lines = before_last.contains('\n') || trailing.contains('\n') || suffix.contains('\n');
    if array.is_empty() && !in_lines {
        let fresh: Array = values.into_iter().collect();
        let mut fresh = rows(fresh);
        fresh.decor_mut().clear();
        return Some(Splice { at, new: fresh.to_string() });
    }
    if values.is_empty() {
        return Some(Splice { at, new: value.to_string() });
    }
    if in_lines {
        // What stands behind the last value, such as a remark on it, stays behind it.
        let behind =
            if array.trailing_comma() || array.is_empty() { trailing } else { suffix.to_owned() + &trailing };
        let (remarks, close) = behind.rsplit_once('\n').unwrap_or(("", &behind));
        let indent = match before_last.rsplit_once('\n') {
            Some((_, indent)) => indent.to_owned(),
            None => format!("{close}  "),
        };
        let (remarks, close) = (remarks.to_owned(), format!("\n{close}"));
        if let Some(last) = array.iter_mut().last() {
            last.decor_mut().set_suffix("");
        }
        for (index, mut new) in values.into_iter().enumerate() {
            let remarks = if index == 0 { remarks.as_str() } else { "" };
            new.decor_mut().set_prefix(format!("{remarks}\n{indent}"));
            new.decor_mut().set_suffix("");
            array.push_formatted(new);
        }
        array.set_trailing_comma(true);
        array.set_trailing(close);
    } else {
        for mut new in values {
            new.decor_mut().set_prefix(if array.is_empty() { "" } else { " " });
            new.decor_mut().set_suffix(suffix_of_last(array));
            if let Some(last) = array.iter_mut().last() {
                last.decor_mut().set_suffix("");
            }
            array.push_formatted(new);
        }
    }
    Some(Splice { at, new: value.to_string() })
}

fn suffix_of_last(array: &Array) -> String {
    let last = array.iter().last();
    last.and_then(|last| last.decor().suffix()).and_then(|suffix| suffix.as_str()).unwrap_or("").to_owned()
}

/// A value read by itself, with the place it has in the text.
pub(super) fn detached(text: &str, span: Option<Range<usize>>) -> Option<(Range<usize>, Value)> {
    let span = span?;
    let value = text.get(span.clone())?.parse().ok()?;
    Some((span, value))
}

/// A list with a line for each value, where there are several.
pub(super) fn rows(mut array: Array) -> Value {
    if array.len() > 1 {
        array.iter_mut().for_each(|value| value.decor_mut().set_prefix("\n  "));
        array.set_trailing_comma(true);
        array.set_trailing("\n");
    }
    Value::Array(array)
}

/// A list on one line.
pub(super) fn flat(mut value: Value) -> Value {
    if let Some(array) = value.as_array_mut() {
        array.set_trailing_comma(false);
        array.set_trailing("");
        array.fmt();
    }
    value
}

fn inline_keys(value: &Value) -> Vec<(String, Value)> {
    let table = value.as_inline_table();
    table.into_iter().flatten().map(|(key, value)| (key.to_owned(), value.clone())).collect()
}

/// A table of its own.
pub(super) fn block<K: AsRef<str>>(name: &str, keys: impl IntoIterator<Item = (K, Value)>) -> String {
    let lines =
        keys.into_iter().map(|(key, value)| format!("{} = {}\n", key.as_ref(), value.to_string().trim()));
    format!("[[{name}]]\n{}", lines.collect::<String>())
}

/// A new entry at the end of the text.
fn at_end(text: &str, change: &Change) -> Splice {
    at_end_text(text, &change.toml())
}

/// Some text at the end, an empty line away from what stands there.
pub(super) fn at_end_text(text: &str, block: &str) -> Splice {
    let end = text.len();
    let gap = match text {
        "" => "",
        _ if text.ends_with("\n\n") || text.ends_with("\n\r\n") => "",
        _ if text.ends_with('\n') => "\n",
        _ => "\n\n",
    };
    Splice { at: end..end, new: format!("{gap}{block}") }
}

/// A new entry after the one that ends at `end`.
fn after(text: &str, end: usize, name: &str, keys: Vec<(&'static str, Value)>) -> Splice {
    after_text(text, end, block(name, keys))
}

pub(super) fn after_text(text: &str, end: usize, block: String) -> Splice {
    let at = end_of_remarks(text, end);
    // What follows begins with a line end, or the text ends here.
    let rest = &text[at..];
    let block = block.trim_end_matches('\n');
    let follows = match rest {
        "" => "\n",
        _ if blank_first(rest) => "",
        _ => "\n",
    };
    Splice { at: at..at, new: format!("\n\n{block}{follows}") }
}

/// Whether the line after the next line end is empty, or there is none.
fn blank_first(rest: &str) -> bool {
    let mut lines = rest.split('\n').skip(1);
    lines.next().is_none_or(|line| line.trim().is_empty())
}

/// The end of the lines of remarks that follow without a gap, the last line end not counted.
fn end_of_remarks(text: &str, from: usize) -> usize {
    let mut end = line_end(text, from);
    loop {
        let after_break = end
            + text[end..].chars().take_while(|c| matches!(c, '\r' | '\n')).map(char::len_utf8).sum::<usize>();
        let breaks = text[end..after_break].matches('\n').count();
        let next = &text[after_break..];
        if breaks == 1 && next.trim_start_matches([' ', '\t']).starts_with('#') {
            end = line_end(text, after_break);
        } else {
            return end;
        }
    }
}

/// The end of the line that holds a place, its line end not counted.
pub(super) fn line_end(text: &str, from: usize) -> usize {
    let end = text[from..].find('\n').map_or(text.len(), |length| from + length);
    if text[..end].ends_with('\r') && end > from { end - 1 } else { end }
}

pub(super) fn line_of(text: &str, offset: usize) -> usize {
    crate::diag::line_and_column(text, offset).0
}

/// The white space before the first thing on the line that holds a place.
pub(super) fn indent_at(text: &str, place: usize) -> &str {
    let start = text[..place].rfind('\n').map_or(0, |end| end + 1);
    let line = &text[start..];
    &line[..line.len() - line.trim_start_matches([' ', '\t']).len()]
}

pub(super) fn first_key(table: &Table) -> Option<usize> {
    let first = table.iter().filter_map(|(name, _)| table.key(name)).filter_map(|key| key.span());
    first.map(|span| span.start).min()
}

/// Where the keys of a table end that are not tables themselves; its head's end where it has none.
pub(super) fn end_of_keys(table: &Table) -> Option<usize> {
    let ends = table.iter().filter(|(_, item)| item.is_value()).filter_map(|(_, item)| item.span());
    ends.map(|span| span.end).max().or_else(|| table.span().map(|span| span.end))
}

/// Where the last of some tables ends, with the tables below it.
pub(super) fn end_of_tables(tables: &ArrayOfTables) -> usize {
    tables.iter().map(end_of_table).max().unwrap_or(0)
}

pub(super) fn end_of_table(table: &Table) -> usize {
    let head = table.span().map_or(0, |span| span.end);
    let item = |(_, item): (&str, &Item)| match item {
        Item::Table(table) => end_of_table(table),
        Item::ArrayOfTables(tables) => end_of_tables(tables),
        item => item.span().map_or(0, |span| span.end),
    };
    table.iter().map(item).max().unwrap_or(0).max(head)
}
