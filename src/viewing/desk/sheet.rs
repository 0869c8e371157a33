//! What the page of a record shows.

use std::ops::Range;

use serde::Serialize;
use toml_edit::{Item, Table, TableLike};

use super::form::{Doubt, Field, Maker, Typed, asked, main_words, needs_a_place, small_words};
use super::given::Faults;
use super::order::GROUPS;
use super::pictures::Pictures;
use super::place::{Place, rows};
use super::splice::slice_of;
use super::words::{self, Source, source};
use crate::fields::Key;
use crate::write::fingerprint;

/// Sections that belong together.
#[derive(Debug, Serialize)]
pub(super) struct Group {
    pub(super) id: String,
    pub(super) heading: String,
    pub(super) sections: Vec<Section>,
}

/// The keys of the record itself that stand in one group, a single table, or the rows of a list.
#[derive(Debug, Serialize)]
pub(super) struct Section {
    pub(super) id: String,
    pub(super) heading: String,
    /// Whether it is a list.
    pub(super) list: bool,
    pub(super) entries: Vec<Entry>,
    /// The place of a row that is not there yet; empty where nothing can be added.
    pub(super) add: String,
    /// The form for it, where it is open.
    pub(super) form: Option<Form>,
    /// How many entries have something wrong.
    pub(super) wrong: usize,
}

/// An entry, folded to a line or opened as a form.
#[derive(Debug, Serialize)]
pub(super) struct Entry {
    /// Its place as addresses have it.
    pub(super) place: String,
    pub(super) id: String,
    /// What it says: of a row what it is about, of keys what each asks and says.
    pub(super) words: String,
    pub(super) pairs: Vec<(String, String)>,
    pub(super) small: Vec<String>,
    pub(super) doubts: Vec<Doubt>,
    pub(super) form: Option<Form>,
    /// Lists within it.
    pub(super) inner: Vec<Section>,
    /// What stands there, where it is nothing that a form could show.
    pub(super) raw: String,
    /// Photographs that have a mark for it, with the addresses of their pickers.
    pub(super) marked: Vec<(String, String)>,
}

/// An open form.
#[derive(Debug, Serialize)]
pub(super) struct Form {
    pub(super) place: String,
    pub(super) new: bool,
    /// Whether it can be taken out.
    pub(super) removable: bool,
    /// The fingerprint of the entry that it shows.
    pub(super) row: String,
    pub(super) fields: Vec<Field>,
    pub(super) more: bool,
    pub(super) wrong: usize,
    /// The piece's photographs, where something of it may be marked on them.
    pub(super) pictures: Option<Pictures>,
}

/// A list of words that fields offer.
#[derive(Debug, Serialize)]
pub(super) struct Words {
    id: String,
    words: Vec<(String, String)>,
}

/// What is opened as a form.
#[derive(Debug, Clone)]
pub(super) enum Opened {
    /// The keys of the record itself that stand in a group.
    Keys(usize),
    /// A table within it.
    At(Place),
}

impl Opened {
    /// Reads what addresses have.
    pub(super) fn of(text: &str) -> Option<Opened> {
        match text.strip_prefix("keys.") {
            Some(number) => number.parse().ok().filter(|number| *number < GROUPS.len()).map(Opened::Keys),
            None => Place::of(text).filter(|place| !place.steps.is_empty()).map(Opened::At),
        }
    }

    pub(super) fn text(&self) -> String {
        match self {
            Opened::Keys(group) => format!("keys.{group}"),
            Opened::At(place) => place.text(),
        }
    }

    /// The place and the keys that its form has.
    pub(super) fn form(&self) -> (Place, Vec<&'static Key>) {
        match self {
            Opened::Keys(group) => (Place::record(), own_keys(*group)),
            Opened::At(place) => (place.clone(), place.keys.iter().collect()),
        }
    }
}

/// The keys of the record itself that stand in a group: those that are no table, and dimensions.
fn own_keys(group: usize) -> Vec<&'static Key> {
    let keys = GROUPS[group].keys.iter().copied();
    keys.filter(|key| key.about.keys.is_empty() || !key.about.order.is_empty() && !key.many).collect()
}

/// What makes a page.
pub(super) struct Drawer<'a> {
    pub(super) maker: Maker<'a>,
    /// The text of the record without what breaks its grammar.
    pub(super) text: &'a str,
    pub(super) opened: Option<&'a Opened>,
    /// What was typed into the open form, and what is wrong with it.
    pub(super) typed: Option<&'a Typed>,
    pub(super) faults: &'a Faults,
    /// The photographs beside the open form.
    pub(super) pictures: Option<Pictures>,
    /// What is wrong with the record, and where.
    pub(super) doubts: Vec<(Option<usize>, Doubt)>,
    /// Photographs with a mark that points at something, by its list and id, with the address of the picker.
    pub(super) marks: Vec<(&'static str, String, String, String)>,
    spots: Vec<(Range<usize>, String, String)>,
}

impl<'a> Drawer<'a> {
    pub(super) fn new(maker: Maker<'a>, text: &'a str, faults: &'a Faults) -> Drawer<'a> {
        Drawer {
            maker,
            text,
            opened: None,
            typed: None,
            faults,
            pictures: None,
            doubts: Vec::new(),
            marks: Vec::new(),
            spots: Vec::new(),
        }
    }

    /// The groups of the page, and what is wrong that belongs to none of their entries.
    pub(super) fn groups(&mut self) -> (Vec<Group>, Vec<Doubt>) {
        let mut groups: Vec<Group> = (0..GROUPS.len()).map(|group| self.group(group)).collect();
        let mut left = Vec::new();
        for (at, doubt) in std::mem::take(&mut self.doubts) {
            let spots = self.spots.iter().filter(|(span, ..)| at.is_some_and(|at| span.contains(&at)));
            let spot = spots.min_by_key(|(span, ..)| span.len());
            match spot {
                Some((_, place, name)) => {
                    let (place, name) = (place.clone(), name.clone());
                    let sections = groups.iter_mut().flat_map(|group| &mut group.sections);
                    sections.into_iter().for_each(|section| section.doubt(&place, &name, &doubt));
                }
                None => left.push(doubt),
            }
        }
        (groups, left)
    }

    fn group(&mut self, number: usize) -> Group {
        let group = &GROUPS[number];
        let mut sections = Vec::new();
        let own = own_keys(number);
        if !own.is_empty() {
            sections.push(self.own(number, &own));
        }
        let place = Place::record();
        for key in group.keys.iter().copied().filter(|key| !own.iter().any(|own| own.name == key.name)) {
            sections.push(self.section(&place, key));
        }
        Group { id: format!("g-{number}"), heading: group.heading.clone(), sections }
    }

    /// The keys of the record itself that stand in a group.
    fn own(&mut self, number: usize, keys: &[&'static Key]) -> Section {
        let root: &Table = self.maker.root;
        let opened = Opened::Keys(number);
        let place = opened.text();
        self.note_keys(root, keys, &place, "");
        let pairs = keys.iter().filter_map(|key| pair(root, key)).collect();
        let form = self.form(&opened, Some(root));
        let entry = Entry { pairs, form, ..empty_entry(place.clone()) };
        Section {
            id: format!("s-{}", place.replace('.', "-")),
            heading: String::new(),
            list: false,
            entries: vec![entry],
            add: String::new(),
            form: None,
            wrong: 0,
        }
    }

    fn section(&mut self, within: &Place, key: &'static Key) -> Section {
        let root: &'a Table = self.maker.root;
        let item = within.find(root).and_then(|table| table.get(key.name));
        let (heading, _) = asked(key.means);
        let id = format!(
            "s-{}",
            if within.steps.is_empty() {
                key.name.to_owned()
            } else {
                format!("{}-{}", within.text(), key.name)
            }
            .replace('.', "-")
        );
        let mut section = Section {
            id,
            heading,
            list: key.many,
            entries: Vec::new(),
            add: String::new(),
            form: None,
            wrong: 0,
        };
        if !key.many {
            let place = within.within(key, None);
            let table = item.and_then(Item::as_table_like);
            if item.is_none() || table.is_some() {
                section.entries.push(self.entry(&place, item, None, table));
            } else if let Some(item) = item {
                section.entries.push(raw(&place, item.to_string()));
            }
            return section;
        }
        let all = item.map(rows).unwrap_or_default();
        for (row, table) in all.into_iter().enumerate() {
            let place = within.within(key, Some(row));
            section.entries.push(self.entry(&place, item, Some(row), table));
        }
        let new = within.new_within(key);
        let is_list = item.is_none_or(|item| item.as_array().is_some() || item.is_array_of_tables());
        if is_list && !needs_a_place(key.about.keys) {
            section.add = new.text();
            section.form = self.form(&Opened::At(new), None);
        } else if let Some(item) = item.filter(|_| !is_list) {
            section.entries.push(raw(&new, item.to_string()));
        }
        section
    }

    fn entry(
        &mut self,
        place: &Place,
        item: Option<&'a Item>,
        row: Option<usize>,
        table: Option<&'a dyn TableLike>,
    ) -> Entry {
        let text = place.text();
        let mut entry = empty_entry(text.clone());
        let slice = item.and_then(|item| slice_of(self.text, item, row));
        let Some(table) = table else {
            if let (Some(item), Some(row)) = (item, row) {
                let each = item.as_array().and_then(|array| array.get(row)).map(ToString::to_string);
                entry.raw = each.unwrap_or_default().trim().to_owned();
            }
            entry.form = self.form(&Opened::At(place.clone()), None);
            return entry;
        };
        if let Some(slice) = slice {
            self.spots.push((slice, text.clone(), String::new()));
        }
        let keys: Vec<&'static Key> = place.keys.iter().collect();
        self.note_keys(table, &keys, &text, "");
        match row {
            Some(_) => {
                entry.words = main_words(table, place.keys);
                entry.small = small_words(table, place.keys, &self.maker);
            }
            None => entry.pairs = keys.iter().filter_map(|key| pair(table, key)).collect(),
        }
        entry.form = self.form(&Opened::At(place.clone()), Some(table));
        for key in keys.iter().filter(|key| key.many && !key.about.keys.is_empty()) {
            entry.inner.push(self.section(place, key));
        }
        let list = place.key().map_or("", |key| key.name);
        if let Some(id) = table.get("id").and_then(Item::as_str) {
            let mine = self.marks.iter().filter(|(of, known, ..)| *of == list && known == id);
            entry.marked = mine.map(|(.., file, address)| (file.clone(), address.clone())).collect();
            entry.marked.dedup();
        }
        entry
    }

    /// Notes where the keys of a table stand, for what is said of them.
    fn note_keys(&mut self, table: &dyn TableLike, keys: &[&'static Key], place: &str, before: &str) {
        for key in keys {
            let name = format!("{before}{}", key.name);
            let span = table.key(key.name).and_then(|key| key.span());
            let value = table.get(key.name).and_then(Item::span);
            if let Some(span) = span.or_else(|| value.clone()) {
                let end = value.map_or(span.end, |value| value.end.max(span.end));
                if key.about.keys.is_empty() || !key.many {
                    self.spots.push((span.start..end.max(span.start + 1), place.to_owned(), name.clone()));
                }
            }
            if !key.many
                && let Some(inner) = table.get(key.name).and_then(Item::as_table_like)
            {
                let keys: Vec<&'static Key> = key.about.keys.iter().collect();
                self.note_keys(inner, &keys, place, &format!("{name}."));
            }
        }
    }

    /// The form of something, where it is what is opened.
    fn form(&self, this: &Opened, table: Option<&dyn TableLike>) -> Option<Form> {
        let opened = self.opened?;
        if opened.text() != this.text() {
            return None;
        }
        let (place, keys) = opened.form();
        let mut fields = self.maker.fields(&place, &keys, table, self.typed);
        let pictures = self.pictures.clone();
        let wrong = fields.iter_mut().map(|field| field.blame(self.faults)).sum::<usize>()
            + usize::from(pictures.as_ref().is_some_and(Pictures::is_wrong));
        let more = fields.iter().any(|field| !field.usual);
        let row = row_print(self.text, self.maker.root, &place).unwrap_or_default();
        let removable = place.key().is_some_and(|key| key.many) && !place.new;
        Some(Form {
            place: opened.text(),
            new: place.new || table.is_none(),
            removable,
            row,
            fields,
            more,
            wrong,
            pictures,
        })
    }

    /// The lists of words that the open form offers, which asks for these keys of a place.
    pub(super) fn lists(
        &self,
        (place, keys): (&Place, &[&'static Key]),
        photographs: &[String],
    ) -> Vec<Words> {
        let mut lists: Vec<Words> = Vec::new();
        let inner = |key: &&'static Key| {
            let of = format!("{}.{}", place.table(), key.name);
            key.about.keys.iter().map(move |inner| (of.clone(), inner)).collect::<Vec<_>>()
        };
        let own = keys.iter().map(|key| (place.table(), *key));
        for (of, key) in own.chain(keys.iter().flat_map(inner)) {
            let Some(source) = source(&of, key) else { continue };
            let id = source.list();
            if lists.iter().any(|list| list.id == id) {
                continue;
            }
            let words = match source {
                Source::Photographs => photographs.iter().map(|file| (file.clone(), String::new())).collect(),
                Source::Trade(tables) => {
                    let mut all = words::all(self.maker.trade, tables);
                    if tables.contains(&crate::trade::WordTable::Finish) {
                        let tins = self.maker.names("tin").into_iter();
                        all.extend(tins.map(|(id, name)| (format!("tin:{id}"), name)));
                    }
                    all
                }
            };
            lists.push(Words { id, words });
        }
        lists
    }
}

/// The fingerprint of what stands at a place, by which it is known again.
pub(super) fn row_print(text: &str, root: &Table, place: &Place) -> Option<String> {
    use super::place::Step;
    let (row, before) = match place.steps.split_last()? {
        (Step::Row(row), before) => (Some(*row), before),
        (Step::Key(_), _) => (None, place.steps.as_slice()),
    };
    let (Step::Key(key), before) = before.split_last()? else { return None };
    let outer = Place { steps: before.to_vec(), keys: place.keys, new: false };
    let item = outer.find(root)?.get(key.name)?;
    let slice = slice_of(text, item, row)?;
    Some(fingerprint(text.get(slice)?.as_bytes()))
}

impl Section {
    fn doubt(&mut self, place: &str, name: &str, doubt: &Doubt) {
        for entry in &mut self.entries {
            if entry.place == place {
                self.wrong += 1;
                let mut taken = false;
                if let Some(form) = &mut entry.form {
                    for field in &mut form.fields {
                        let mut mine = false;
                        field.each(&mut |field| {
                            if !name.is_empty() && field.name == name {
                                field.doubts.push(doubt.clone());
                                mine = true;
                            }
                        });
                        field.usual |= mine;
                        taken |= mine;
                    }
                }
                if !taken {
                    entry.doubts.push(doubt.clone());
                }
            }
            entry.inner.iter_mut().for_each(|section| section.doubt(place, name, doubt));
        }
    }
}

/// What a key asks and what the record says to it.
fn pair(table: &dyn TableLike, key: &'static Key) -> Option<(String, String)> {
    let item = table.get(key.name)?;
    let (label, _) = asked(key.means);
    if !key.about.keys.is_empty() {
        if key.many {
            return None;
        }
        let inner = item.as_table_like()?;
        let sides = key.about.keys.iter().filter_map(|key| pair(inner, key));
        let sides: Vec<String> =
            sides.map(|(label, value)| format!("{} {value}", label.to_lowercase())).collect();
        return Some((label, sides.join(", ")));
    }
    let text = super::form::text_of(key, item);
    let text = text.map(|text| if key.several { text.replace('\n', ", ") } else { text });
    Some((label, text.unwrap_or_else(|| item.to_string().trim().to_owned())))
}

fn empty_entry(place: String) -> Entry {
    Entry {
        id: format!("e-{}", place.replace('.', "-")),
        place,
        words: String::new(),
        pairs: Vec::new(),
        small: Vec::new(),
        doubts: Vec::new(),
        form: None,
        inner: Vec::new(),
        raw: String::new(),
        marked: Vec::new(),
    }
}

/// What no form could show.
fn raw(place: &Place, text: String) -> Entry {
    Entry { raw: text.trim().to_owned(), ..empty_entry(place.text()) }
}
