//! What papers print of the tables of the trade, and the same in another language.
//!
//! A language has a text of its own by the list and the row that it stands in: `finish--shellac` is what the row `shellac`
//! of `[[finish]]` is called, `finish--shellac.dust` its column `dust`, and `finish--shellac.never-2` the second entry of
//! its column `never`. Texts that a language does not have stay as the table has them.

use toml::{Table, Value};

use super::Trade;
use super::table::{TradeTable, read_as};

/// What a language calls the texts of rows, by their names.
pub type Texts<'a> = &'a dyn Fn(&str) -> Option<String>;

/// The lists of which papers print something, each with the columns that they print; the first is what a row is called.
pub const PRINTED: [(&str, &[&str]); 23] = [
    ("advice", &["text"]),
    ("band", &["words"]),
    ("board", &["name"]),
    ("covering", &["label", "owner", "undo"]),
    ("creep", &["material"]),
    ("edging", &["label", "owner", "undo"]),
    ("feature", &["name"]),
    ("figure", &["name"]),
    (
        "finish",
        &[
            "name",
            "plain",
            "dust",
            "clean",
            "spill",
            "ring",
            "renew",
            "renew-brief",
            "never",
            "undo",
            "bench-hazards",
        ],
    ),
    ("fixing", &["label", "label-plural", "undo", "meaning"]),
    ("hazard", &["name", "tell", "then", "do", "rule", "note"]),
    ("introduced", &["name", "note"]),
    ("item", &["say", "category"]),
    ("limit", &["name"]),
    ("look", &["look", "means"]),
    ("material", &["name"]),
    ("piece", &["name"]),
    ("reading", &["says"]),
    ("repair", &["label", "owner", "undo"]),
    ("stand-in", &["why"]),
    ("term", &["label", "meaning"]),
    ("timber", &["name"]),
    ("treatment", &["label", "owner", "undo"]),
];

impl Trade {
    /// The name of each text that papers print of the built-in tables, with the text itself.
    pub fn printed_texts() -> Vec<(String, String)> {
        let mut all = Vec::new();
        for text in Trade::texts_of_tables() {
            let mut table: Table = text.parse().unwrap_or_default();
            each_text(&mut table, &mut |name, text| all.push((name.to_owned(), text.clone())));
        }
        all
    }
}

/// A table with the texts of a language; `None` where the language has none of it.
pub(super) fn worded<T: TradeTable>(texts: Texts<'_>) -> Option<T> {
    let mut table: Table = T::TEXT.parse().ok()?;
    let mut changed = false;
    each_text(&mut table, &mut |name, text| {
        if let Some(own) = texts(name) {
            *text = own;
            changed = true;
        }
    });
    changed.then(|| read_as(&table.to_string()))
}

/// Every text of a table that papers print, by its name.
fn each_text(table: &mut Table, with: &mut dyn FnMut(&str, &mut String)) {
    for (list, columns) in PRINTED {
        let rows = table.get_mut(list).and_then(Value::as_array_mut);
        for row in rows.into_iter().flatten().filter_map(Value::as_table_mut) {
            let Some(id) = row.get("id").and_then(Value::as_str).map(str::to_owned) else { continue };
            for (place, column) in columns.iter().enumerate() {
                let name = match place {
                    0 => format!("{list}--{id}"),
                    _ => format!("{list}--{id}.{column}"),
                };
                let was = row.get(*column).and_then(Value::as_str).map(str::to_owned);
                match row.get_mut(*column) {
                    Some(Value::String(text)) => {
                        with(&name, text);
                        let now = text.clone();
                        // What people wrote for it in English, they may go on writing.
                        if let (Some(was), Some(Value::Array(also))) = (was, row.get_mut("also"))
                            && was != now
                        {
                            also.push(Value::String(was.to_lowercase()));
                        }
                    }
                    Some(Value::Array(entries)) => {
                        let name = if place == 0 { format!("{name}.{column}") } else { name };
                        for (entry, text) in entries.iter_mut().enumerate() {
                            if let Value::String(text) = text {
                                with(&format!("{name}-{}", entry + 1), text);
                            }
                        }
                    }
                    _ => {}
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_list_and_column_is_there_and_each_text_has_one_name() {
        let all = Trade::printed_texts();
        for (list, columns) in PRINTED {
            for (place, column) in columns.iter().enumerate() {
                let found = all.iter().any(|(name, _)| match place {
                    0 => name.starts_with(&format!("{list}--")),
                    _ => name.starts_with(&format!("{list}--")) && name.contains(&format!(".{column}")),
                });
                assert!(found, "{list}.{column}");
            }
        }
        let mut names: Vec<&String> = all.iter().map(|(name, _)| name).collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count);
    }

    #[test]
    fn a_language_has_texts_of_its_own_and_the_rest_stays() {
        let texts = |name: &str| match name {
            "finish--shellac" => Some("Schellack".to_owned()),
            "finish--shellac.never-1" => Some("nie dies".to_owned()),
            _ => None,
        };
        let trade = Trade::built_in().worded(&texts);
        let finish = trade.finish("shellac").unwrap();
        assert_eq!(&**finish.name, "Schellack");
        assert_eq!(&*finish.never[0].value, "nie dies");
        assert_eq!(finish.dust.value, Trade::built_in().finish("shellac").unwrap().dust.value);
        assert_eq!(trade.timbers, Trade::built_in().timbers);
        // What people type finds the same row.
        assert_eq!(
            trade.finish("french polish").map(|row| row.id.0.as_str()),
            Trade::built_in().finish("french polish").map(|row| row.id.0.as_str())
        );
    }
}
