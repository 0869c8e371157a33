//! Where something stands in a record, by the keys of the schema.

use toml_edit::{Item, Table, TableLike, Value};

use crate::fields::Key;
use crate::record::Record;

/// One step from a table of a record to a table within it.
#[derive(Debug, Clone, Copy)]
pub(super) enum Step {
    /// What stands under this key.
    Key(&'static Key),
    /// The row at this place of the list, counted from 0.
    Row(usize),
}

/// A table of a record: itself, a table within it, a row of a list, or a row that is not there yet.
#[derive(Debug, Clone)]
pub(super) struct Place {
    /// The way to it; where it is new, the way to its list.
    pub(super) steps: Vec<Step>,
    /// The keys that it may have.
    pub(super) keys: &'static [Key],
    /// Whether it is a row that is not there yet.
    pub(super) new: bool,
}

/// What stands for a row that is not there yet.
const NEW: &str = "new";

impl Place {
    /// The record itself.
    pub(super) fn record() -> Place {
        Place { steps: Vec::new(), keys: Record::KEYS, new: false }
    }

    /// Reads a place as addresses have it, such as `surface.2.steps.new`, with rows counted from 0; `None` where no
    /// record has such a place.
    pub(super) fn of(text: &str) -> Option<Place> {
        let mut place = Place::record();
        let mut parts = text.split('.').filter(|part| !part.is_empty());
        while let Some(name) = parts.next() {
            if place.new {
                return None;
            }
            let key = place.keys.iter().find(|key| key.name == name && !key.about.keys.is_empty())?;
            place.steps.push(Step::Key(key));
            place.keys = key.about.keys;
            if key.many {
                match parts.next()? {
                    NEW => place.new = true,
                    row => place.steps.push(Step::Row(row.parse().ok()?)),
                }
            }
        }
        Some(place)
    }

    /// The place as addresses have it.
    pub(super) fn text(&self) -> String {
        let mut parts: Vec<String> = self.steps.iter().map(Step::text).collect();
        if self.new {
            parts.push(NEW.to_owned());
        }
        parts.join(".")
    }

    /// The last key on the way.
    pub(super) fn key(&self) -> Option<&'static Key> {
        self.steps.iter().rev().find_map(|step| if let Step::Key(key) = step { Some(*key) } else { None })
    }

    /// The names of the keys on the way, with dots between.
    pub(super) fn table(&self) -> String {
        let names = self.steps.iter().filter_map(|step| match step {
            Step::Key(key) => Some(key.name),
            Step::Row(_) => None,
        });
        names.collect::<Vec<_>>().join(".")
    }

    /// A row of a list, or a single table, within this one.
    pub(super) fn within(&self, key: &'static Key, row: Option<usize>) -> Place {
        let steps = self.steps.iter().copied().chain([Step::Key(key)]).chain(row.map(Step::Row));
        Place { steps: steps.collect(), keys: key.about.keys, new: false }
    }

    /// A row of a list of this one that is not there yet.
    pub(super) fn new_within(&self, key: &'static Key) -> Place {
        Place { new: true, ..self.within(key, None) }
    }

    /// The table at this place.
    pub(super) fn find<'a>(&self, root: &'a Table) -> Option<&'a dyn TableLike> {
        if self.new { None } else { walk(root, &self.steps) }
    }
}

impl Step {
    fn text(&self) -> String {
        match self {
            Step::Key(key) => key.name.to_owned(),
            Step::Row(row) => row.to_string(),
        }
    }
}

fn walk<'a>(table: &'a dyn TableLike, steps: &[Step]) -> Option<&'a dyn TableLike> {
    match steps {
        [] => Some(table),
        [Step::Key(key), Step::Row(row), rest @ ..] => walk((*rows(table.get(key.name)?).get(*row)?)?, rest),
        [Step::Key(key), rest @ ..] => walk(table.get(key.name)?.as_table_like()?, rest),
        [Step::Row(_), ..] => None,
    }
}

/// The rows of a list, `None` for one that is no table; none at all where it is no list.
pub(super) fn rows(item: &Item) -> Vec<Option<&dyn TableLike>> {
    match item {
        Item::ArrayOfTables(tables) => tables.iter().map(|table| Some(table as &dyn TableLike)).collect(),
        Item::Value(Value::Array(array)) => {
            array.iter().map(|row| row.as_inline_table().map(|table| table as &dyn TableLike)).collect()
        }
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_one_of_the_schema_or_none() {
        for text in [
            "",
            "found",
            "part.3",
            "part.new",
            "surface.2.steps.new",
            "surface.0.steps.1.mix.0",
            "use.shelves.0",
        ] {
            assert_eq!(Place::of(text).map(|place| place.text()).as_deref(), Some(text));
        }
        for text in
            ["title", "part", "part.x", "part.-1", "part.new.size", "nothing", "part.0.nothing", "found.0"]
        {
            assert!(Place::of(text).is_none(), "{text}");
        }
    }
}
