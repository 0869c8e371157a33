//! What somebody typed into a form, as changes of the record.

use std::collections::BTreeMap;

use toml_edit::{InlineTable, Item, TableLike, Value};

use super::form::Typed;
use super::place::{Place, Step};
use super::splice::{Op, listed};
use crate::fields::{Key, Sort};

/// The fields of a form: what they held when it was made, and what they hold now.
#[derive(Debug, Default)]
pub(super) struct Given {
    /// What they hold, by their names; several values stand on lines of their own.
    pub(super) values: Typed,
    /// What they held.
    pub(super) was: Typed,
}

/// What is wrong with fields, by their names.
pub(super) type Faults = BTreeMap<String, String>;

/// How many words an id has that is made from others.
const WORDS_OF_ID: usize = 3;

/// Makes changes of what was typed.
pub(super) struct Giver<'a> {
    pub(super) given: &'a Given,
    pub(super) currency: Option<&'a str>,
    /// The ids that a new row cannot have.
    pub(super) taken: Vec<String>,
    pub(super) faults: Faults,
}

impl Given {
    /// Whether a field, or one within it, holds something else than it did.
    fn changed(&self, name: &str) -> bool {
        let within = format!("{name}.");
        let mine = self.was.keys().filter(|known| *known == name || known.starts_with(&within));
        mine.into_iter().any(|known| self.value(known) != self.was[known])
    }

    /// What a field of rows that are chosen by their names holds: in the order that the record has them, and those that
    /// were added behind them.
    fn in_order(&self, name: &str) -> String {
        let before: Vec<&str> = self.was.get(name).map_or("", String::as_str).lines().collect();
        let now: Vec<&str> = self.value(name).lines().collect();
        let stay = before.iter().filter(|row| now.contains(row));
        let come = now.iter().filter(|row| !before.contains(row));
        stay.chain(come).copied().collect::<Vec<_>>().join("\n")
    }

    /// What a field holds.
    pub(super) fn value(&self, name: &str) -> &str {
        self.values.get(name).map_or("", String::as_str)
    }
}

/// Whether a key holds rows that are chosen by their names.
fn is_chosen(key: &Key) -> bool {
    key.several && matches!(key.about.sort, Sort::Row(_))
}

impl Giver<'_> {
    /// The changes that a form makes of a place; none where it was not changed.
    pub(super) fn ops(
        &mut self,
        place: &Place,
        keys: &[&'static Key],
        table: Option<&dyn TableLike>,
    ) -> Vec<Op> {
        let mut ops = Vec::new();
        match (place.steps.split_last(), table) {
            (Some((Step::Key(key), before)), _) if place.new => {
                if let Some(row) = self.whole("", keys, true) {
                    ops.push(Op::Push(before.to_vec(), key, row));
                } else if self.faults.is_empty() {
                    self.faults.insert(keys[0].name.to_owned(), "nothing is filled in yet".to_owned());
                }
            }
            (Some((Step::Key(key), before)), None) => {
                if let Some(row) = self.whole("", keys, false) {
                    ops.push(Op::Set(before.to_vec(), key, Value::InlineTable(row.into_iter().collect())));
                }
            }
            (_, Some(table)) => self.within(&place.steps, "", keys, table, &mut ops),
            _ => {}
        }
        ops
    }

    /// The changes of a table that is there.
    fn within(
        &mut self,
        at: &[Step],
        before: &str,
        keys: &[&'static Key],
        table: &dyn TableLike,
        ops: &mut Vec<Op>,
    ) {
        for key in keys.iter().copied() {
            let name = format!("{before}{}", key.name);
            if !self.given.changed(&name) {
                continue;
            }
            // Boxes that are ticked come in the order of the page.
            if is_chosen(key) && self.given.in_order(&name) == self.given.was[&name] {
                continue;
            }
            let item = table.get(key.name);
            if !key.about.keys.is_empty() {
                let inner: Vec<&'static Key> = key.about.keys.iter().collect();
                let within = format!("{name}.");
                match item.and_then(Item::as_table_like) {
                    Some(table) if self.remains(&within, table) => {
                        let at: Vec<Step> = at.iter().copied().chain([Step::Key(key)]).collect();
                        self.within(&at, &within, &inner, table, ops);
                    }
                    Some(_) => ops.push(Op::Unset(at.to_vec(), key)),
                    None => {
                        if let Some(row) = self.whole(&within, &inner, false) {
                            let row = Value::InlineTable(row.into_iter().collect::<InlineTable>());
                            ops.push(Op::Set(at.to_vec(), key, row));
                        }
                    }
                }
                continue;
            }
            if self.given.value(&name).is_empty() {
                if key.required {
                    self.faults.insert(name, "this is needed".to_owned());
                } else if item.is_some() {
                    ops.push(Op::Unset(at.to_vec(), key));
                }
                continue;
            }
            let in_list = item.is_some_and(|item| item.as_array().is_some());
            if let Some(value) = self.written(&name, key, in_list) {
                ops.push(Op::Set(at.to_vec(), key, value));
            }
        }
    }

    /// Whether a table within the entry still says something.
    fn remains(&self, before: &str, table: &dyn TableLike) -> bool {
        table.iter().any(|(key, _)| {
            let name = format!("{before}{key}");
            !self.given.was.contains_key(&name) || !self.given.value(&name).is_empty()
        }) || self.given.values.iter().any(|(name, value)| name.starts_with(before) && !value.is_empty())
    }

    /// Every key of a table that is not there yet; `None` where nothing is filled in, or something is wrong.
    pub(super) fn whole(
        &mut self,
        before: &str,
        keys: &[&'static Key],
        row: bool,
    ) -> Option<Vec<(&'static str, Value)>> {
        let is_filled = |name: &str| {
            let within = format!("{name}.");
            let values = self.given.values.iter();
            values
                .into_iter()
                .any(|(known, value)| (known == name || known.starts_with(&within)) && !value.is_empty())
        };
        if !keys.iter().any(|key| is_filled(&format!("{before}{}", key.name))) {
            return None;
        }
        let known = self.faults.len();
        let mut said = Vec::new();
        for key in keys.iter().copied() {
            let name = format!("{before}{}", key.name);
            if !key.about.keys.is_empty() {
                let inner: Vec<&'static Key> = key.about.keys.iter().collect();
                if !key.many
                    && let Some(table) = self.whole(&format!("{name}."), &inner, false)
                {
                    said.push((key.name, Value::InlineTable(table.into_iter().collect())));
                }
                continue;
            }
            if !self.given.value(&name).is_empty() {
                said.extend(self.written(&name, key, false).map(|value| (key.name, value)));
            } else if key.required && row && key.name == "id" {
                said.extend(self.made_id(keys).map(|id| (key.name, Value::from(id))));
            } else if key.required {
                self.faults.insert(name, "this is needed".to_owned());
            }
        }
        (self.faults.len() == known).then_some(said)
    }

    /// A field's value as TOML.
    fn written(&mut self, name: &str, key: &'static Key, in_list: bool) -> Option<Value> {
        let typed =
            if is_chosen(key) { self.given.in_order(name) } else { self.given.value(name).to_owned() };
        let is_list = key.several || key.many;
        let each: Vec<&str> = if is_list { typed.lines().collect() } else { vec![&typed] };
        let mut values = Vec::new();
        for typed in each {
            match (key.literal)(key.name, typed, self.currency).map(|written| written.parse::<Value>()) {
                Ok(Ok(value)) => values.push(value),
                Ok(Err(_)) => drop(self.faults.insert(name.to_owned(), "this cannot be written".to_owned())),
                Err(why) => drop(self.faults.insert(name.to_owned(), why)),
            }
        }
        if self.faults.contains_key(name) {
            return None;
        }
        match values.len() {
            1 if !key.many && !in_list => values.pop(),
            _ => Some(listed(values)),
        }
    }

    /// An id of the first words by which a row calls what it is about, that no other row has.
    pub(super) fn made_id(&mut self, keys: &[&'static Key]) -> Option<String> {
        let free = keys.iter().filter(|key| key.required && key.about.free && key.name != "id");
        let words = free.map(|key| self.given.value(key.name)).find(|words| !words.is_empty())?;
        let slug = slug::slugify(words);
        let mut words: Vec<&str> = slug.split('-').take(WORDS_OF_ID).collect();
        // An id does not end within `in the`.
        while words.len() > 1 && words.last().is_some_and(|last| last.len() < 3) {
            words.pop();
        }
        let wanted = words.join("-");
        if wanted.is_empty() {
            self.faults
                .insert("id".to_owned(), "give it a short name of small letters, such as top".to_owned());
            return None;
        }
        let again = (2..).map(|number| format!("{wanted}-{number}"));
        std::iter::once(wanted.clone()).chain(again).find(|id| !self.taken.contains(id))
    }
}
