//! A row that the day book proposes as a form of its own, in which each of its values can be changed or left out before it
//! is entered.

use toml_edit::{InlineTable, Table, Value};

use super::form::{Choice, Field, Maker, Typed};
use super::given::{Faults, Giver};
use super::place::Place;
use crate::daybook::Proposal;
use crate::fields::Key;
use crate::record::{Jotting, Record};
use crate::viewing::entering::{Unplaced, new_surface, placed, surfaces};
use crate::viewing::entry::{Entry, Where};

/// The names of the fields that ask where a row goes, and not what it says.
const SURFACE: &str = ".surface";
const PARTS: &str = ".parts";

/// What stands for a surface that the record does not have yet.
const NEW: &str = "new";

/// Where the row goes.
#[derive(Debug, Clone, Copy)]
enum Goes {
    Record,
    Single(&'static str),
    Row(&'static str, usize),
    List(&'static str),
    /// What lies on a surface.
    Surface,
    /// What was done to one.
    Step,
}

/// A proposal that is open as a form.
pub(super) struct Editing {
    goes: Goes,
    /// Where its keys stand in the schema, and those that it asks for.
    pub(super) place: Place,
    pub(super) keys: Vec<&'static Key>,
    /// What the proposal says to them.
    says: InlineTable,
    /// What it says that no field holds, such as the parts of a mixture: it is entered so, or left out.
    whole: Vec<(&'static str, Value)>,
    /// What the surfaces of the record are called, and the one that the line means, where it says.
    surfaces: Vec<String>,
    surface: String,
    /// The parts that the line names.
    parts: Vec<String>,
    from: String,
}

impl Editing {
    /// The form of a proposal; `None` where nothing could be entered from it whatever was changed.
    pub(super) fn of(
        root: &Table,
        record: &Record,
        jotting: &Jotting,
        proposal: &Proposal,
    ) -> Option<Editing> {
        let entry = placed(record, jotting, proposal, None);
        let table = proposal.table;
        let (goes, place) = match (table, &entry) {
            ("", _) => (Goes::Record, Place::record()),
            ("surface.steps", _) => (Goes::Step, Place::of("surface.0.steps.new")?),
            ("surface", _) => (Goes::Surface, Place::of("surface.new")?),
            ("part", Ok(Entry { place: Where::RowOf(list, row), .. })) => {
                (Goes::Row(list, *row), Place::of("part.new")?)
            }
            ("part", Err(_)) => return None,
            (table, _) => match Place::of(table) {
                Some(single) => (Goes::Single(table), single),
                None => (Goes::List(table), Place::of(&format!("{table}.new"))?),
            },
        };
        let is_new_surface = matches!(&entry, Ok(Entry { place: Where::List("surface"), .. }));
        let surface = match &entry {
            Ok(Entry { place: Where::StepOf(surface), .. }) => surface.to_string(),
            Ok(Entry { place: Where::RowOf("surface", surface), .. }) => surface.to_string(),
            _ if is_new_surface || record.surfaces.is_empty() => NEW.to_owned(),
            _ => String::new(),
        };
        // A new surface holds its step within it.
        let said = match entry {
            Ok(entry) if !is_new_surface => entry.keys,
            Ok(_) | Err(Unplaced::WhichSurface(_) | Unplaced::NoPart(_) | Unplaced::Refused(_)) => {
                proposal.keys.clone()
            }
        };
        // Of what is there already only that is asked for which the line adds to it.
        let adds_alone = match goes {
            Goes::Record | Goes::Row(..) | Goes::Surface => true,
            Goes::Single(table) => root.contains_key(table),
            Goes::List(_) | Goes::Step => false,
        };
        let says_key = |name: &str| said.iter().any(|(key, _)| *key == name);
        let is_asked = |key: &&Key| {
            let elsewhere =
                key.name == "from-daybook" || matches!(goes, Goes::Surface) && key.name == "parts";
            let is_list = key.many && !key.about.keys.is_empty();
            !elsewhere && !is_list && (!adds_alone || says_key(key.name))
        };
        let keys: Vec<&'static Key> = place.keys.iter().filter(is_asked).collect();
        let (says, whole) = said
            .into_iter()
            .filter(|(key, _)| *key != "from-daybook" && *key != "parts")
            .partition::<Vec<_>, _>(|(name, _)| keys.iter().any(|key| key.name == *name));
        let ids = proposal.parts.iter().filter_map(|part| match &part.ids[..] {
            [id] => Some(id.clone()),
            _ => None,
        });
        Some(Editing {
            goes,
            place: Place { new: true, ..place },
            keys,
            says: says.into_iter().collect(),
            whole,
            surfaces: surfaces(record),
            surface,
            parts: ids.collect(),
            from: jotting.name_of_line(),
        })
    }

    fn asks_for_surface(&self) -> bool {
        matches!(self.goes, Goes::Surface | Goes::Step)
    }

    /// Its fields; `typed` is what somebody has typed meanwhile.
    pub(super) fn fields(&self, maker: &Maker<'_>, typed: Option<&Typed>, faults: &Faults) -> Vec<Field> {
        let mut fields = maker.fields(&self.place, &self.keys, Some(&self.says), typed);
        // What the line tells is what is looked at; the rest is folded away.
        for field in &mut fields {
            let mut says = field.required;
            field.each(&mut |field| says |= !field.was.is_empty() || !field.value.is_empty());
            field.usual = says;
        }
        if self.asks_for_surface() {
            fields.splice(0..0, self.where_to(maker, typed));
        }
        for (name, value) in &self.whole {
            let key = self.place.keys.iter().find(|key| key.name == *name);
            let (label, _) = key.map_or_else(Default::default, |key| super::form::asked(key.means));
            let words = in_words(value);
            let on = typed.is_none_or(|typed| typed.get(*name).is_some_and(|typed| !typed.is_empty()));
            fields.push(Field {
                name: (*name).to_owned(),
                key: name,
                label,
                kind: "rows",
                was: words.clone(),
                options: vec![Choice { value: words.clone(), label: words, on, ..Choice::default() }],
                usual: true,
                ..Field::default()
            });
        }
        for field in &mut fields {
            field.blame(faults);
        }
        fields
    }

    /// The fields that ask on which surface it is.
    fn where_to(&self, maker: &Maker<'_>, typed: Option<&Typed>) -> [Field; 2] {
        let typed = |name: &str, was: &str| {
            typed.map_or(was, |typed| typed.get(name).map_or("", String::as_str)).to_owned()
        };
        let chosen = typed(SURFACE, &self.surface);
        let choice =
            |value: String, label: String| Choice { on: value == chosen, value, label, ..Choice::default() };
        let known = self.surfaces.iter().enumerate().map(|(at, name)| choice(at.to_string(), name.clone()));
        let new = choice(NEW.to_owned(), "one that the record does not have yet".to_owned());
        let surface = Field {
            name: SURFACE.to_owned(),
            label: "On which surface".to_owned(),
            required: true,
            kind: "pick",
            was: self.surface.clone(),
            options: known.chain([new]).collect(),
            usual: true,
            ..Field::default()
        };
        let chosen_new = chosen == NEW;
        let parts = typed(PARTS, &self.parts.join("\n"));
        let parts: Vec<&str> = parts.lines().collect();
        let options = maker.names("part").into_iter().map(|(id, name)| Choice {
            on: parts.contains(&id.as_str()),
            value: id,
            label: name,
            ..Choice::default()
        });
        let of = Field {
            name: PARTS.to_owned(),
            label: "The parts of a surface that is new".to_owned(),
            kind: "rows",
            was: self.parts.join("\n"),
            options: options.collect(),
            usual: chosen_new,
            ..Field::default()
        };
        [surface, of]
    }

    /// What the form enters; what is wrong is told among the faults of the giver.
    pub(super) fn entry(&self, giver: &mut Giver<'_>) -> Option<Entry> {
        let is_row = matches!(self.goes, Goes::List(_) | Goes::Step);
        let said = giver.whole("", &self.keys, is_row);
        let mut keys = said.unwrap_or_default();
        let kept = self.whole.iter().filter(|(name, _)| !giver.given.value(name).is_empty());
        keys.extend(kept.cloned());
        if keys.is_empty() && giver.faults.is_empty() {
            let first = self.keys.first().map_or(SURFACE, |key| key.name);
            giver.faults.insert(first.to_owned(), "nothing is filled in yet".to_owned());
        }
        let from = ("from-daybook", Value::from(self.from.as_str()));
        let place = match self.goes {
            Goes::Record => Where::Record,
            Goes::Single(table) => Where::Single(table),
            Goes::Row(list, row) => Where::RowOf(list, row),
            Goes::List(list) => {
                keys.push(from);
                Where::List(list)
            }
            Goes::Surface | Goes::Step => return self.on_surface(giver, keys, from),
        };
        giver.faults.is_empty().then_some(Entry { place, keys })
    }

    fn on_surface(
        &self,
        giver: &mut Giver<'_>,
        mut keys: Vec<(&'static str, Value)>,
        from: (&'static str, Value),
    ) -> Option<Entry> {
        let is_step = matches!(self.goes, Goes::Step);
        let chosen = giver.given.value(SURFACE).to_owned();
        let parts = giver.given.value(PARTS).to_owned();
        let parts: Vec<&str> = parts.lines().collect();
        let entry = match chosen.parse::<usize>() {
            Ok(surface) if surface < self.surfaces.len() && is_step => {
                keys.push(from);
                Entry { place: Where::StepOf(surface), keys }
            }
            Ok(surface) if surface < self.surfaces.len() => {
                Entry { place: Where::RowOf("surface", surface), keys }
            }
            _ if chosen == NEW && parts.is_empty() => {
                giver.faults.insert(PARTS.to_owned(), "name the parts that it is on".to_owned());
                return None;
            }
            _ if chosen == NEW && is_step => new_surface(&parts, keys, from),
            _ if chosen == NEW => {
                let parts: toml_edit::Array = parts.into_iter().collect();
                keys.insert(0, ("parts", parts.into()));
                Entry { place: Where::List("surface"), keys }
            }
            _ => {
                giver.faults.insert(SURFACE.to_owned(), "this is needed".to_owned());
                return None;
            }
        };
        giver.faults.is_empty().then_some(entry)
    }
}

/// A value in words: its texts and numbers, and those of each row of a list.
pub(super) fn in_words(value: &Value) -> String {
    match value {
        Value::Array(array) => array.iter().map(in_words).collect::<Vec<_>>().join("; "),
        Value::InlineTable(table) => table
            .iter()
            .map(|(key, value)| format!("{key} {}", in_words(value)))
            .collect::<Vec<_>>()
            .join(", "),
        value => value.as_str().map_or_else(|| value.to_string().trim().to_owned(), str::to_owned),
    }
}
