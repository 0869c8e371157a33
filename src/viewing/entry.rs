//! Putting a row, a step or a key into the text of a record, and leaving every other byte of it as it was.

use toml_edit::{Document, InlineTable, Item, Table, Value};

use super::edit::{
    Refused, Splice, after_text, at_end_text, block, detached, end_of_keys, end_of_tables, extended,
    first_key, flat, indent_at, line_end, line_of, rows, spliced,
};

/// Something to be put into a record.
#[derive(Debug, Clone)]
pub struct Entry {
    /// Where it belongs.
    pub place: Where,
    /// Its keys.
    pub keys: Vec<(&'static str, Value)>,
}

/// Where an entry belongs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Where {
    /// A row of its own in this list.
    List(&'static str),
    /// A step of the surface at this place of the list, counted from 0.
    StepOf(usize),
    /// Keys of the record itself.
    Record,
    /// Keys of this single table.
    Single(&'static str),
    /// Keys of the row of a list at this place, counted from 0.
    RowOf(&'static str, usize),
}

/// The text of a record with an entry in it.
///
/// # Errors
/// [`Refused`] where the text breaks the grammar, or holds something else, or already something, in that place.
pub fn entered(text: &str, entry: &Entry) -> Result<String, Refused> {
    let document = Document::parse(text)
        .map_err(|error| Refused::Broken(line_of(text, error.span().map_or(0, |span| span.start))))?;
    let root = document.as_table();
    let keys = || entry.keys.clone();
    let splice = match &entry.place {
        Where::List(name) => into_list(text, root, name, keys())?,
        Where::StepOf(surface) => step(text, row_of(root, "surface", *surface)?, keys())?,
        Where::Record => {
            if let Some((key, _)) = entry.keys.iter().find(|(key, _)| root.contains_key(key)) {
                return Err(Refused::Unlike(key));
            }
            let lines = lines(&entry.keys, "");
            match end_of_own(root) {
                Some(end) => {
                    let end = line_end(text, end);
                    Splice { at: end..end, new: format!("\n{}", lines.trim_end_matches('\n')) }
                }
                None => Splice { at: 0..0, new: lines },
            }
        }
        Where::Single(name) => match root.get(name) {
            None => {
                let lines = lines(&entry.keys, "");
                at_end_text(text, &format!("[{name}]\n{lines}"))
            }
            Some(item) => into_item(text, item, name, keys())?,
        },
        Where::RowOf(name, place) => match row_of(root, name, *place)? {
            Row::Table(table) => into_item(text, &Item::Table(table.clone()), name, keys())?,
            Row::Inline(table) => into_inline(text, table, name, keys())?,
        },
    };
    Ok(spliced(text, splice))
}

/// A row of a list, as a table of its own or within one value.
enum Row<'a> {
    Table(&'a Table),
    Inline(&'a InlineTable),
}

fn row_of<'a>(root: &'a Table, name: &'static str, place: usize) -> Result<Row<'a>, Refused> {
    match root.get(name) {
        Some(Item::ArrayOfTables(tables)) => tables.get(place).map(Row::Table),
        Some(Item::Value(Value::Array(array))) => {
            array.get(place).and_then(Value::as_inline_table).map(Row::Inline)
        }
        _ => None,
    }
    .ok_or(Refused::Unlike(name))
}

fn into_list(
    text: &str,
    root: &Table,
    name: &'static str,
    keys: Vec<(&'static str, Value)>,
) -> Result<Splice, Refused> {
    match root.get(name) {
        None => Ok(at_end_text(text, &block(name, keys))),
        Some(Item::ArrayOfTables(tables)) => Ok(after_text(text, end_of_tables(tables), block(name, keys))),
        Some(Item::Value(Value::Array(array))) => {
            extended(text, array, vec![inline(keys)]).ok_or(Refused::Unlike(name))
        }
        Some(_) => Err(Refused::Unlike(name)),
    }
}

fn step(text: &str, surface: Row<'_>, keys: Vec<(&'static str, Value)>) -> Result<Splice, Refused> {
    const STEPS: &str = "steps";
    match surface {
        Row::Table(table) => match table.get(STEPS) {
            Some(Item::Value(Value::Array(array))) => {
                extended(text, array, vec![inline(keys)]).ok_or(Refused::Unlike(STEPS))
            }
            Some(Item::ArrayOfTables(steps)) => {
                Ok(after_text(text, end_of_tables(steps), block("surface.steps", keys)))
            }
            Some(_) => Err(Refused::Unlike(STEPS)),
            None => into_item(text, &Item::Table(table.clone()), "surface", vec![(STEPS, list(keys))]),
        },
        Row::Inline(table) => match table.get(STEPS) {
            Some(Value::Array(array)) => {
                extended(text, array, vec![inline(keys)]).ok_or(Refused::Unlike(STEPS))
            }
            Some(_) => Err(Refused::Unlike(STEPS)),
            None => into_inline(text, table, "surface", vec![(STEPS, flat(list(keys)))]),
        },
    }
}

/// A list of one row, on lines of its own.
pub(super) fn list(keys: Vec<(&'static str, Value)>) -> Value {
    let mut row = inline(keys);
    row.decor_mut().set_prefix("\n  ");
    let mut list = rows(std::iter::once(row).collect());
    if let Some(list) = list.as_array_mut() {
        list.set_trailing_comma(true);
        list.set_trailing("\n");
    }
    list
}

pub(super) fn inline(keys: Vec<(&'static str, Value)>) -> Value {
    Value::InlineTable(keys.into_iter().map(|(key, value)| (key, flat(value))).collect())
}

/// Puts keys behind those of a table.
pub(super) fn into_item(
    text: &str,
    item: &Item,
    name: &'static str,
    keys: Vec<(&'static str, Value)>,
) -> Result<Splice, Refused> {
    match item {
        Item::Table(table) => {
            if let Some((key, _)) = keys.iter().find(|(key, _)| table.contains_key(key)) {
                return Err(Refused::Unlike(key));
            }
            let end = line_end(text, end_of_keys(table).ok_or(Refused::Unlike(name))?);
            let indent = indent_at(text, first_key(table).unwrap_or(end)).to_owned();
            let lines = lines(&keys, &indent);
            Ok(Splice { at: end..end, new: format!("\n{}", lines.trim_end_matches('\n')) })
        }
        Item::Value(Value::InlineTable(table)) => into_inline(text, table, name, keys),
        _ => Err(Refused::Unlike(name)),
    }
}

fn into_inline(
    text: &str,
    table: &InlineTable,
    name: &'static str,
    keys: Vec<(&'static str, Value)>,
) -> Result<Splice, Refused> {
    if let Some((key, _)) = keys.iter().find(|(key, _)| table.contains_key(key)) {
        return Err(Refused::Unlike(key));
    }
    let (at, mut value) = detached(text, table.span()).ok_or(Refused::Unlike(name))?;
    let inline = value.as_inline_table_mut().ok_or(Refused::Unlike(name))?;
    for (key, value) in keys {
        let mut value = flat(value);
        // The white space before the closing brace stays there.
        if let Some((_, last)) = inline.iter_mut().last() {
            let suffix = last.decor().suffix().and_then(|suffix| suffix.as_str()).unwrap_or("").to_owned();
            last.decor_mut().set_suffix("");
            value.decor_mut().set_prefix(" ");
            value.decor_mut().set_suffix(suffix);
        }
        inline.insert(key, value);
    }
    Ok(Splice { at, new: value.to_string() })
}

pub(super) fn lines(keys: &[(&'static str, Value)], indent: &str) -> String {
    keys.iter().map(|(key, value)| format!("{indent}{key} = {}\n", value.to_string().trim())).collect()
}

/// Where the keys of the record itself end.
pub(super) fn end_of_own(root: &Table) -> Option<usize> {
    let own = root.iter().filter(|(_, item)| item.is_value());
    own.filter_map(|(_, item)| item.span()).map(|span| span.end).max()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn put(text: &str, place: Where, keys: &[(&'static str, &str)]) -> Result<String, Refused> {
        let keys = keys.iter().map(|(key, value)| (*key, value.parse().unwrap())).collect();
        let new = entered(text, &Entry { place, keys })?;
        assert!(new.parse::<toml_edit::DocumentMut>().is_ok(), "{new}");
        Ok(new)
    }

    #[test]
    fn rows_steps_and_keys_go_where_they_belong() {
        let did = [("did", "\"glued it\"")];
        assert_eq!(
            put("a = 1\n", Where::List("work"), &did).unwrap(),
            "a = 1\n\n[[work]]\ndid = \"glued it\"\n"
        );
        assert_eq!(
            put("[[work]]\ndid = \"x\" # so\n\n[[open]]\nwhat = \"y\"\n", Where::List("work"), &did).unwrap(),
            "[[work]]\ndid = \"x\" # so\n\n[[work]]\ndid = \"glued it\"\n\n[[open]]\nwhat = \"y\"\n"
        );
        assert_eq!(
            put("work = [{ did = \"x\" }]\n", Where::List("work"), &did).unwrap(),
            "work = [{ did = \"x\" }, { did = \"glued it\" }]\n"
        );
        let step = [("clean", "\"soap\"")];
        assert_eq!(
            put("[[surface]]\nparts = \"a\"\n", Where::StepOf(0), &step).unwrap(),
            "[[surface]]\nparts = \"a\"\nsteps = [\n  { clean = \"soap\" },\n]\n"
        );
        assert_eq!(
            put(
                "[[surface]]\nsteps = [\n  { abrade = \"P80\" }, # first\n]\nname = \"Top\"\n",
                Where::StepOf(0),
                &step
            )
            .unwrap(),
            "[[surface]]\nsteps = [\n  { abrade = \"P80\" }, # first\n  { clean = \"soap\" },\n]\nname = \"Top\"\n"
        );
        assert_eq!(
            put("title = \"T\" # t\n\n[found]\npaid = 3\n", Where::Record, &[("asking", "90")]).unwrap(),
            "title = \"T\" # t\nasking = 90\n\n[found]\npaid = 3\n"
        );
        assert_eq!(
            put("a = 1\n\n[found]\non = 2026-01-01\n\n[use]\n", Where::Single("found"), &[("paid", "3")])
                .unwrap(),
            "a = 1\n\n[found]\non = 2026-01-01\npaid = 3\n\n[use]\n"
        );
        assert_eq!(
            put("a = 1\n", Where::Single("found"), &[("paid", "3")]).unwrap(),
            "a = 1\n\n[found]\npaid = 3\n"
        );
        assert_eq!(
            put("[[part]]\r\nid = \"a\"\r\n", Where::RowOf("part", 0), &[("timber", "\"oak\"")]).unwrap(),
            "[[part]]\r\nid = \"a\"\r\ntimber = \"oak\"\r\n"
        );
    }

    #[test]
    fn what_is_there_is_never_written_over() {
        for (text, place) in [
            ("asking = 3\n", Where::Record),
            ("[found]\nasking = 3\n", Where::Single("found")),
            ("found = { asking = 3 }\n", Where::Single("found")),
            ("part = [{ asking = 3 }]\n", Where::RowOf("part", 0)),
            ("part = 3\n", Where::List("part")),
            ("part = 3\n", Where::RowOf("part", 0)),
            ("[[part]]\n", Where::RowOf("part", 1)),
            ("surface = 3\n", Where::StepOf(0)),
            ("[[surface]]\nsteps = 3\n", Where::StepOf(0)),
            ("a = \n", Where::Record),
        ] {
            assert!(put(text, place.clone(), &[("asking", "90")]).is_err(), "{text} {place:?}");
        }
    }

    proptest! {
        /// Whatever the layout, all that stood there stands there still, in its order.
        #[test]
        fn every_other_byte_stays(gap in "[ \n]{0,3}", remark in "(# [a-z]{0,5}\n)?", rows in 0_usize..4) {
            let row = format!("[[work]]\ndid = \"x\"{gap}\n{remark}");
            let text = format!("title = \"T\"\n{}{remark}[use]\n", row.repeat(rows));
            let new = put(&text, Where::List("work"), &[("did", "\"new\"")]).unwrap();
            let block = "[[work]]\ndid = \"new\"";
            let at = new.rfind(block).unwrap();
            let rest = format!("{}{}", &new[..at].trim_end_matches('\n'), &new[at + block.len()..].trim_start_matches('\n'));
            let bare = |text: &str| text.replace('\n', "");
            prop_assert_eq!(bare(&rest), bare(&text));
        }
    }
}
