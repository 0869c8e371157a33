//! One change of a record's text: a key set or taken out, a row put in or taken out, and every other byte left alone.
//!
//! What a change does is worked out twice: in the text, and in what the text says. Where the two differ, nothing is done.

use std::ops::Range;

use toml_edit::{Array, Document, InlineTable, Item, Table, Value};

use super::place::{Step, rows};
use super::sound::Sound;
use crate::fields::Key;
use crate::record::Record;
use crate::viewing::edit::{
    Refused, Splice, after_text, at_end_text, block, detached, end_of_table, end_of_tables, extended, flat,
    indent_at, line_end, replaced, rows as in_rows, spliced,
};
use crate::viewing::entry::{end_of_own, inline, into_item, lines, list};

/// A change.
#[derive(Debug, Clone)]
pub(super) enum Op {
    /// A key of a table says this; of one that is a table itself and stands nowhere yet, all of it.
    Set(Vec<Step>, &'static Key, Value),
    /// A key of a table says nothing any more.
    Unset(Vec<Step>, &'static Key),
    /// A list of a table has one more row.
    Push(Vec<Step>, &'static Key, Vec<(&'static str, Value)>),
    /// A list lacks the row that it had at this place.
    Drop(Vec<Step>),
}

/// The text of a record after a change.
///
/// # Errors
/// [`Refused`] where the text does not take it.
pub(super) fn changed(text: &str, op: &Op) -> Result<String, Refused> {
    let sound = Sound::of(text)?;
    let document = Document::parse(sound.text.as_str()).map_err(|_| Refused::Broken(1))?;
    let name = op.name();
    let splice = splice(&sound.text, document.as_table(), op)?;
    if sound.broken.iter().any(|(span, _)| span.start < splice.at.end && splice.at.start < span.end) {
        return Err(Refused::Unlike(name));
    }
    // What the record says now, with the change made in it, is what the new text must say.
    let mut meant: toml::Table = toml::from_str(&sound.text).map_err(|_| Refused::Unlike(name))?;
    apply(&mut meant, op).ok_or(Refused::Unlike(name))?;
    let says = spliced(&sound.text, Splice { at: splice.at.clone(), new: splice.new.clone() });
    let says: toml::Table = toml::from_str(&says).map_err(|_| Refused::Unlike(name))?;
    if filled(says) != filled(meant) {
        return Err(Refused::Unlike(name));
    }
    Ok(spliced(text, splice))
}

/// The text of a record without one key of a table of its own.
///
/// # Errors
/// [`Refused`] where the text does not take it, or a record has no such key.
pub(in crate::viewing) fn without_key(text: &str, table: &str, key: &str) -> Result<String, Refused> {
    let named = |keys: &'static [Key], name: &str| keys.iter().find(|known| known.name == name);
    let table = named(Record::KEYS, table).ok_or(Refused::Unlike("record"))?;
    let key = named(table.about.keys, key).ok_or(Refused::Unlike(table.name))?;
    changed(text, &Op::Unset(vec![Step::Key(table)], key))
}

/// What a record says, without lists that have no row: one of sections is gone with its last one, and one in brackets
/// stands there empty.
fn filled(mut says: toml::Table) -> toml::Table {
    says.retain(|_, value| match value {
        toml::Value::Array(list) => {
            for row in list.iter_mut().filter_map(toml::Value::as_table_mut) {
                *row = filled(std::mem::take(row));
            }
            !list.is_empty()
        }
        _ => true,
    });
    says
}

impl Op {
    /// The key that it is about.
    fn name(&self) -> &'static str {
        let last = |steps: &[Step]| {
            let keys = steps
                .iter()
                .rev()
                .filter_map(|step| if let Step::Key(key) = step { Some(key.name) } else { None });
            keys.into_iter().next().unwrap_or("record")
        };
        match self {
            Op::Set(_, key, _) | Op::Unset(_, key) | Op::Push(_, key, _) => key.name,
            Op::Drop(steps) => last(steps),
        }
    }
}

/// Where a table stands: by itself, or within a value.
enum Spot<'a> {
    Table(&'a Table),
    Within { outer: Option<Range<usize>>, rest: &'a [Step] },
}

fn spot<'a>(table: &'a Table, steps: &'a [Step]) -> Option<Spot<'a>> {
    let [Step::Key(key), rest @ ..] = steps else {
        return steps.is_empty().then_some(Spot::Table(table));
    };
    match (table.get(key.name)?, rest) {
        (Item::Table(table), rest) => spot(table, rest),
        (Item::ArrayOfTables(tables), [Step::Row(row), rest @ ..]) => spot(tables.get(*row)?, rest),
        (Item::Value(value), rest) => Some(Spot::Within { outer: value.span(), rest }),
        _ => None,
    }
}

fn splice(text: &str, root: &Table, op: &Op) -> Result<Splice, Refused> {
    let name = op.name();
    let unlike = || Refused::Unlike(name);
    match op {
        Op::Set(at, key, value) => match spot(root, at).ok_or_else(unlike)? {
            Spot::Table(table) => match table.get(key.name) {
                Some(item) => over(text, item, value).ok_or_else(unlike),
                None if at.is_empty() => Ok(of_record(text, root, key, value)),
                None => into_item(text, &Item::Table(table.clone()), name, vec![(name, value.clone())]),
            },
            Spot::Within { outer, rest } => {
                within(text, outer, rest, |table| set(table, name, value)).ok_or_else(unlike)
            }
        },
        Op::Unset(at, key) => match spot(root, at).ok_or_else(unlike)? {
            Spot::Table(table) => out(text, table, key).ok_or_else(unlike),
            Spot::Within { outer, rest } => {
                within(text, outer, rest, |table| unset(table, name)).ok_or_else(unlike)
            }
        },
        Op::Push(at, key, keys) => match spot(root, at).ok_or_else(unlike)? {
            Spot::Table(table) => put(text, table, at, key, keys.clone()),
            Spot::Within { outer, rest } => {
                within(text, outer, rest, |table| push(table, name, keys)).ok_or_else(unlike)
            }
        },
        Op::Drop(steps) => drop_row(text, root, steps).ok_or_else(unlike),
    }
}

/// Another value in the place of one.
fn over(text: &str, item: &Item, value: &Value) -> Option<Splice> {
    let Item::Value(old) = item else { return None };
    if let (Some(array), Some(new)) = (old.as_array(), value.as_array()) {
        return replaced(text, array, new.iter().cloned().map(bare).collect());
    }
    Some(Splice { at: old.span()?, new: value.to_string().trim().to_owned() })
}

/// A key of the record itself that it did not have: on a line behind the others, or a section at the end.
fn of_record(text: &str, root: &Table, key: &'static Key, value: &Value) -> Splice {
    // Dimensions are written in a row.
    if let Some(table) = value.as_inline_table()
        && key.about.order.is_empty()
    {
        let keys: Vec<(&str, Value)> = table.iter().map(|(key, value)| (key, bare(value.clone()))).collect();
        let lines: String = keys.iter().map(|(key, value)| format!("{key} = {value}\n")).collect();
        return at_end_text(text, &format!("[{}]\n{lines}", key.name));
    }
    let lines = lines(&[(key.name, value.clone())], "");
    match end_of_own(root) {
        Some(end) => {
            let end = line_end(text, end);
            Splice { at: end..end, new: format!("\n{}", lines.trim_end_matches('\n')) }
        }
        None => Splice { at: 0..0, new: lines },
    }
}

/// The lines of a key, or its section, taken out.
fn out(text: &str, table: &Table, key: &'static Key) -> Option<Splice> {
    let (start, end) = match table.get(key.name)? {
        Item::Value(value) => {
            let start = table.key(key.name)?.span()?.start;
            (if table.is_dotted() { start_of_dotted(text, start) } else { start }, value.span()?.end)
        }
        Item::Table(section) => (section.span()?.start, end_of_table(section)),
        _ => return None,
    };
    whole_lines(text, start, end)
}

/// Where a key such as `handover.to` begins, of which the last part stands at a place.
fn start_of_dotted(text: &str, last: usize) -> usize {
    let line = text[..last].rfind('\n').map_or(0, |at| at + 1);
    line + indent_at(text, last).len()
}

/// The lines from one place to another, if nothing else begins on them.
fn whole_lines(text: &str, start: usize, end: usize) -> Option<Splice> {
    let start_of_line = text[..start].rfind('\n').map_or(0, |at| at + 1);
    if !text[start_of_line..start].trim().is_empty() {
        return None;
    }
    let behind = &text[end..line_end(text, end)];
    if !behind.trim().is_empty() && !behind.trim_start().starts_with('#') {
        return None;
    }
    let end = line_end(text, end);
    let end = end + text[end..].find('\n').map_or(text[end..].len(), |at| at + 1);
    Some(Splice { at: start_of_line..end, new: String::new() })
}

/// One more row in a list of a table.
fn put(
    text: &str,
    table: &Table,
    at: &[Step],
    key: &'static Key,
    keys: Vec<(&'static str, Value)>,
) -> Result<Splice, Refused> {
    let name = key.name;
    let path: Vec<&str> = at
        .iter()
        .filter_map(|step| if let Step::Key(key) = step { Some(key.name) } else { None })
        .chain([name])
        .collect();
    match table.get(name) {
        None if at.is_empty() => Ok(at_end_text(text, &block(name, keys))),
        None => into_item(text, &Item::Table(table.clone()), name, vec![(name, list(keys))]),
        Some(Item::ArrayOfTables(tables)) => {
            Ok(after_text(text, end_of_tables(tables), block(&path.join("."), keys)))
        }
        Some(Item::Value(Value::Array(array))) => {
            extended(text, array, vec![inline(keys)]).ok_or(Refused::Unlike(name))
        }
        Some(_) => Err(Refused::Unlike(name)),
    }
}

/// A row taken out of a list, with its lines.
fn drop_row(text: &str, root: &Table, steps: &[Step]) -> Option<Splice> {
    let [before @ .., Step::Key(key), Step::Row(row)] = steps else { return None };
    match spot(root, before)? {
        Spot::Table(table) => match table.get(key.name)? {
            Item::ArrayOfTables(tables) => {
                let table = tables.get(*row)?;
                let start = table.span()?.start;
                if !text[start..].starts_with('[') {
                    return None;
                }
                let Splice { at, new } = whole_lines(text, start, end_of_table(table))?;
                // Of the two empty lines around it one goes with it.
                let empty_before = at.start == 0
                    || text[..at.start].ends_with("\n\n")
                    || text[..at.start].ends_with("\n\r\n");
                let next = text[at.end..].find('\n').map(|end| &text[at.end..=at.end + end]);
                let end = match next {
                    Some(line) if empty_before && line.trim().is_empty() => at.end + line.len(),
                    _ => at.end,
                };
                Some(Splice { at: at.start..end, new })
            }
            Item::Value(Value::Array(array)) => {
                let (at, mut value) = detached(text, array.span())?;
                without(value.as_array_mut()?, *row)?;
                Some(Splice { at, new: value.to_string() })
            }
            _ => None,
        },
        Spot::Within { outer, rest } => {
            within(text, outer, rest, |table| without(table.get_mut(key.name)?.as_array_mut()?, *row))
        }
    }
}

fn without(array: &mut Array, row: usize) -> Option<()> {
    (row < array.len()).then(|| array.remove(row)).map(|_| ())
}

/// Changes a table within a value, which is taken out of the text for that and put back.
fn within(
    text: &str,
    outer: Option<Range<usize>>,
    rest: &[Step],
    change: impl FnOnce(&mut InlineTable) -> Option<()>,
) -> Option<Splice> {
    let (at, mut value) = detached(text, outer)?;
    change(inner(&mut value, rest)?)?;
    Some(Splice { at, new: value.to_string() })
}

fn inner<'a>(value: &'a mut Value, steps: &[Step]) -> Option<&'a mut InlineTable> {
    match steps {
        [] => value.as_inline_table_mut(),
        [Step::Row(row), rest @ ..] => inner(value.as_array_mut()?.get_mut(*row)?, rest),
        [Step::Key(key), rest @ ..] => inner(value.as_inline_table_mut()?.get_mut(key.name)?, rest),
    }
}

fn set(table: &mut InlineTable, name: &'static str, value: &Value) -> Option<()> {
    let mut new = bare(value.clone());
    match table.get_mut(name) {
        Some(old) => {
            *new.decor_mut() = old.decor().clone();
            *old = new;
        }
        None => {
            // The white space before the closing brace stays there.
            if let Some((_, last)) = table.iter_mut().last() {
                let suffix =
                    last.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or("").to_owned();
                last.decor_mut().set_suffix("");
                new.decor_mut().set_prefix(" ");
                new.decor_mut().set_suffix(suffix);
            }
            table.insert(name, new);
        }
    }
    Some(())
}

fn unset(table: &mut InlineTable, name: &str) -> Option<()> {
    let gone = table.remove(name)?;
    let suffix = gone.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or("").to_owned();
    if let Some((_, last)) = table.iter_mut().last()
        && !suffix.is_empty()
    {
        last.decor_mut().set_suffix(suffix);
    }
    Some(())
}

fn push(table: &mut InlineTable, name: &'static str, keys: &[(&'static str, Value)]) -> Option<()> {
    let row = inline(keys.to_vec());
    match table.get_mut(name) {
        Some(list) => list.as_array_mut()?.push(row),
        None => set(table, name, &Value::Array(std::iter::once(row).collect()))?,
    }
    Some(())
}

/// A value on one line, without white space around it.
fn bare(value: Value) -> Value {
    let mut value = flat(value);
    value.decor_mut().clear();
    value
}

/// What a record says after a change; `None` where it has no such place.
fn apply(root: &mut toml::Table, op: &Op) -> Option<()> {
    match op {
        Op::Set(at, key, value) => {
            said(root, at)?.insert(key.name.to_owned(), meaning(value)?);
        }
        Op::Unset(at, key) => {
            said(root, at)?.remove(key.name)?;
        }
        Op::Push(at, key, keys) => {
            let row = meaning(&inline(keys.clone()))?;
            let list = said(root, at)?.entry(key.name).or_insert_with(|| toml::Value::Array(Vec::new()));
            list.as_array_mut()?.push(row);
        }
        Op::Drop(steps) => {
            let [before @ .., Step::Key(key), Step::Row(row)] = steps.as_slice() else { return None };
            let table = said(root, before)?;
            let list = table.get_mut(key.name)?.as_array_mut()?;
            if *row >= list.len() {
                return None;
            }
            list.remove(*row);
        }
    }
    Some(())
}

fn said<'a>(table: &'a mut toml::Table, steps: &[Step]) -> Option<&'a mut toml::Table> {
    match steps {
        [] => Some(table),
        [Step::Key(key), Step::Row(row), rest @ ..] => {
            let row = table.get_mut(key.name)?.as_array_mut()?.get_mut(*row)?;
            said(row.as_table_mut()?, rest)
        }
        [Step::Key(key), rest @ ..] => said(table.get_mut(key.name)?.as_table_mut()?, rest),
        [Step::Row(_), ..] => None,
    }
}

fn meaning(value: &Value) -> Option<toml::Value> {
    let text = format!("v = {}\n", value.to_string().trim());
    toml::from_str::<toml::Table>(&text).ok()?.remove("v")
}

/// Where a table stands, from its head to its last line; `None` where it has no place of its own.
pub(super) fn slice_of(text: &str, item: &Item, row: Option<usize>) -> Option<Range<usize>> {
    let span = match (item, row) {
        (Item::ArrayOfTables(tables), Some(row)) => {
            let table = tables.get(row)?;
            table.span()?.start..end_of_table(table)
        }
        (Item::Table(table), None) => table.span()?.start..end_of_table(table),
        (Item::Value(Value::Array(array)), Some(row)) => array.get(row)?.span()?,
        (Item::Value(value), None) => value.span()?,
        _ => return None,
    };
    (span.end <= text.len()).then_some(span)
}

/// A list of values on one line where it has one value, and else on a line for each.
pub(super) fn listed(values: Vec<Value>) -> Value {
    let long = values.iter().map(|value| value.to_string().len()).sum::<usize>() > 60;
    let array: Array = values.into_iter().collect();
    if long { in_rows(array) } else { Value::Array(array) }
}

/// How many rows a list of the record has.
pub(super) fn count(root: &Table, list: &str) -> usize {
    root.get(list).map_or(0, |item| rows(item).len())
}
