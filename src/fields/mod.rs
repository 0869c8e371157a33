//! Reading one TOML table at a time, remembering every mistake.
//!
//! A `Value` is read from one TOML value; a `Field` is taken from a table by its
//! key and knows whether it may be absent. The macros of `shape` make both for whole
//! tables, together with their JSON Schema. Records and tables of the trade are read alike.

mod about;
pub mod code;
mod geometry;
mod literal;
mod mend;
mod said;
pub(crate) mod scalar;
pub(crate) mod shape;
mod spoken;
mod table;
mod text;

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::{DeArray, DeTable, DeValue};

pub(crate) use about::{About, Key, Sort, Word};
pub use geometry::{Landmark, Line, Outline};
pub(crate) use literal::{Audience, Literal};
pub(crate) use mend::placed_table;
pub use said::{Personal, Private, Row, Said};
pub use scalar::{
    Brief, Celsius, Count, Faces, Figure, Id, LENGTH, Litres, Number, Percent, Range, Share, Surcharge, Text,
    Year,
};
pub(crate) use table::read_as_table;
pub(crate) use text::{BELOW, Laid, Reading, read_text, read_text_laid, with_document};

use crate::diag::{Code, Diagnostic, Place, Rank, nearest};
use crate::unit::fold::folded;
use crate::unit::legible;
use mend::Lost;

/// The most mistakes of one file that are told one by one; nobody mends more at a sitting.
pub const MOST_PROBLEMS: usize = 500;

/// The most elements of a list; a piece of furniture has hundreds of parts at most.
pub const MOST_ELEMENTS: usize = 2_000;

/// How many words an id has that is proposed.
const MOST_OF_ID: usize = 3;

/// Where mistakes of one file are gathered while it is read.
#[derive(Debug)]
pub(crate) struct Reader<'a> {
    /// The file's path from the workshop's root.
    path: &'a str,
    /// The mistakes so far, up to [`MOST_PROBLEMS`].
    problems: Vec<Diagnostic>,
    /// How many there were beyond that, and where the first of them is.
    untold: Option<(usize, std::ops::Range<usize>)>,
    /// Whether some table had to be left out, so that names in it may be missed elsewhere.
    pub(crate) dropped: bool,
    /// The tables that are being read, the outermost first.
    within: Vec<&'static str>,
    /// How many mistakes there were.
    mistakes: usize,
    /// The outermost tables that were read: where each begins, and what it is called.
    tables: Vec<(usize, &'static str)>,
    /// Those that have a mistake; the file's own keys count as one under [`HEAD`].
    lacking: BTreeSet<(usize, &'static str)>,
    /// The key whose value is being read.
    key: &'static str,
    /// Whether it is one of a list.
    listed: bool,
    /// The keys of the file itself.
    head: &'static [Key],
    /// The keys whose lines had to be left out.
    lost: Vec<Lost>,
    /// The workshop's currency, where it is known.
    currency: Option<String>,
    /// How the last value that was read otherwise than it stands is written.
    written: Option<String>,
}

/// What mistakes among the keys of a file itself are counted under.
pub const HEAD: &str = "the file";

impl<'a> Reader<'a> {
    fn of(path: &'a str) -> Reader<'a> {
        Reader {
            path,
            problems: Vec::new(),
            untold: None,
            dropped: false,
            within: Vec::new(),
            mistakes: 0,
            tables: Vec::new(),
            lacking: BTreeSet::new(),
            key: "",
            listed: false,
            head: &[],
            lost: Vec::new(),
            currency: None,
            written: None,
        }
    }

    /// The key whose value is being read.
    pub(crate) fn key(&self) -> &'static str {
        self.key
    }

    /// The workshop's currency, where it is known.
    pub(crate) fn currency(&self) -> Option<&str> {
        self.currency.as_deref()
    }

    /// Notes a value that was read though it is written otherwise than the format has it: what it is read as, and how
    /// to write it.
    pub(crate) fn note_loose(
        &mut self,
        span: &std::ops::Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.note(&code::LOOSE_VALUE, span, message, help);
    }

    /// Notes a mistake at a place of the file.
    pub(crate) fn note(
        &mut self,
        code: &'static Code,
        span: &std::ops::Range<usize>,
        message: impl Into<String>,
        help: impl Into<String>,
    ) {
        self.note_in(code, span, || (message.into(), help.into()));
    }

    /// Notes the characters of a text that nobody sees.
    pub(crate) fn note_unseen(&mut self, text: &str, span: &std::ops::Range<usize>) {
        if let Some((message, help)) = code::unseen_character(legible::unseen(text).map(|(_, unseen)| unseen))
        {
            self.note(&code::UNSEEN_CHARACTER, span, message, help);
        }
    }

    /// Notes a mistake whose words, message and help, take their time to find: only where it is told.
    fn note_in(
        &mut self,
        code: &'static Code,
        span: &std::ops::Range<usize>,
        words: impl FnOnce() -> (String, String),
    ) {
        if code.rank == Rank::Mistake {
            self.mistakes += 1;
            if self.within.is_empty() {
                self.lacking.insert((0, HEAD));
            }
        }
        if self.problems.len() < MOST_PROBLEMS {
            let (message, help) = words();
            let (message, help) = (shortened(message), shortened(help));
            self.problems.push(Diagnostic::new(code, Place::at(self.path, span), message).help(help));
        } else {
            self.untold.get_or_insert_with(|| (0, span.clone())).0 += 1;
        }
    }

    /// Reads a table that begins at a place within the one that is being read.
    fn within<T>(&mut self, name: &'static str, start: usize, read: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.mistakes;
        if self.within.is_empty() {
            self.tables.push((start, name));
        }
        self.within.push(name);
        let read = read(self);
        self.within.pop();
        if self.mistakes > before {
            self.lack(name, start);
        }
        read
    }

    /// Notes that a table has a mistake, where it is an outermost one.
    fn lack(&mut self, name: &'static str, start: usize) {
        if self.within.is_empty() {
            self.lacking.insert((start, name));
        }
    }

    /// How many outermost tables of each kind have a mistake.
    fn lacks(&self) -> BTreeMap<&'static str, usize> {
        let mut lacks = BTreeMap::new();
        self.lacking.iter().for_each(|(_, name)| *lacks.entry(*name).or_default() += 1);
        lacks
    }

    /// Every mistake that is told, with a last one that counts the others.
    fn told(self) -> Vec<Diagnostic> {
        let Reader { path, mut problems, untold, .. } = self;
        if let Some((number, span)) = untold {
            let message = format!("{number} more mistakes from here on");
            problems.push(
                Diagnostic::new(&code::MANY_MISTAKES, Place::at(path, &span), message)
                    .help(code::MANY_MISTAKES.fix),
            );
        }
        problems
    }
}

/// A message without the rest of what somebody's long key or value brought into it.
fn shortened(mut message: String) -> String {
    const MOST: usize = 1_200;
    if let Some((end, _)) = message.char_indices().nth(MOST) {
        message.truncate(end);
        message.push('…');
    }
    message
}

/// Something that one TOML value can say.
pub(crate) trait Value: Sized + JsonSchema {
    /// How it is written.
    const ABOUT: &'static About = &About::like("\"…\"");
    /// Reads it, or notes what is wrong and returns `None`.
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self>;
}

/// Something that a table holds under a key.
pub(crate) trait Field: Sized {
    /// Whether the table is useless without it.
    const REQUIRED: bool;
    /// How it, or each of them, is written.
    const ABOUT: &'static About;
    /// Whether it is a list.
    const MANY: bool = false;
    /// Whether it may be a list, too.
    const SEVERAL: bool = Self::MANY;
    /// Who may read it.
    const AUDIENCE: Audience = Audience::Everybody;
    /// Takes it from the table, or notes what is wrong and returns `None`.
    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self>;
    /// Its JSON Schema.
    fn schema(generator: &mut SchemaGenerator) -> Schema;
    /// How a value of it, or one of a list, is written that somebody typed.
    ///
    /// # Errors
    /// What is wrong with it.
    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String>;
}

/// One table being read.
pub(crate) struct Fields<'a> {
    table: &'a DeTable<'a>,
    span: std::ops::Range<usize>,
    name: &'static str,
    /// The keys that it may have.
    keys: &'static [Key],
    /// Keys that are written otherwise, and what stands under them.
    meant: Vec<Meant<'a>>,
}

/// A key that a table does not have, and that was meant for one that it has.
struct Meant<'a> {
    key: &'static str,
    value: &'a Spanned<DeValue<'a>>,
    /// Whether that is beyond doubt; where it is not, the value is only looked through for mistakes.
    certain: bool,
}

impl<'a> Fields<'a> {
    /// The table at `span`, called `name` in messages.
    pub(crate) fn new(table: &'a DeTable<'a>, span: std::ops::Range<usize>, name: &'static str) -> Self {
        Fields { table, span, name, keys: &[], meant: Vec::new() }
    }

    /// The same table with the keys that it may have. Notes every key that is none of them, with the right one;
    /// `retired` ones are passed over. Notes which of the required ones it lacks, too.
    pub(crate) fn knowing(
        &self,
        keys: &'static [Key],
        retired: &[&'static str],
        reader: &mut Reader<'_>,
    ) -> Fields<'a> {
        if reader.within.is_empty() {
            reader.head = keys;
        }
        let (table, span, name) = (self.table, self.span.clone(), self.name);
        let mut fields = Fields { table, span, name, keys, meant: Vec::new() };
        for (key, value) in table.iter() {
            let word = key.get_ref();
            let known = keys.iter().any(|known| known.name == word.as_ref());
            if !known && !retired.contains(&word.as_ref()) {
                fields.note_unknown(word, &key.span(), value, reader);
            }
        }
        fields.note_missing(reader);
        fields
    }

    /// Notes a key that the table does not have, and remembers which one was meant.
    fn note_unknown(
        &mut self,
        word: &str,
        span: &std::ops::Range<usize>,
        value: &'a Spanned<DeValue<'a>>,
        reader: &mut Reader<'_>,
    ) {
        // Nobody mends more than so many at a sitting, and looking for what was meant takes its time.
        if reader.problems.len() >= MOST_PROBLEMS {
            return reader.note_in(&code::UNKNOWN_KEY, span, || (String::new(), String::new()));
        }
        let absent = || self.keys.iter().map(|known| known.name).filter(|known| self.get(known).is_none());
        let form = folded(word);
        let same = absent().find(|known| !form.is_empty() && folded(known) == form);
        let said = about::key_said(word, self.keys, |known| self.get(known).is_none());
        if let Some(key) = same.or(said.filter(|(_, certain)| *certain).map(|(key, _)| key)) {
            let rows =
                |list: &DeArray<'_>| list.iter().all(|each| matches!(each.get_ref(), DeValue::Table(_)));
            let help = match value.get_ref() {
                DeValue::Array(list) if !list.is_empty() && rows(list) => {
                    format!("write `{}`", self.header(key))
                }
                _ => format!("write `{key}`"),
            };
            reader.note_loose(span, format!("`{word}` is read as `{key}`"), help);
            self.meant.push(Meant { key, value, certain: true });
            return;
        }
        let elsewhere = self.elsewhere(word, reader);
        let near = match (said, &elsewhere) {
            (Some((near, _)), _) => Some(near),
            (None, None) => nearest(word, absent()),
            (None, Some(_)) => None,
        };
        let help = match near {
            Some(near) => format!("write `{near}`"),
            None => elsewhere.unwrap_or_else(|| {
                let names: Vec<&'static str> = self.keys.iter().map(|key| key.name).collect();
                format!("{} takes {}", self.name, list(&names))
            }),
        };
        reader.note(&code::UNKNOWN_KEY, span, format!("{} has no key `{word}`", self.name), help);
        // What is switched on or off may be what keeps something private, wherever it was meant to stand.
        let said = value.get_ref().as_str().is_some_and(|text| spoken::truth(text).is_some());
        if said || matches!(value.get_ref(), DeValue::Boolean(_)) {
            reader.lacking.insert((0, HEAD));
        }
        if let Some(key) = near {
            self.meant.push(Meant { key, value, certain: false });
        }
    }

    /// Where a key belongs that is none of this table's.
    fn elsewhere(&self, word: &str, reader: &Reader<'_>) -> Option<String> {
        let form = folded(word);
        let inner = self
            .keys
            .iter()
            .find_map(|outer| Some((outer, outer.about.keys.iter().find(|key| folded(key.name) == form)?)));
        match inner {
            Some((outer, key)) if outer.many => {
                let (header, example) = (self.header(outer.name), about::example(key, None));
                Some(format!("write `{}` below `{header}`, such as\n{header}\n{example}", key.name))
            }
            Some((outer, key)) => {
                let example = about::example(outer, None);
                Some(format!("write `{}` within `{}`, such as\n{example}", key.name, outer.name))
            }
            None => {
                (!reader.within.is_empty() && reader.head.iter().any(|key| key.name == word)).then(|| {
                    format!("`{word}` is of the whole file: write it at its top, above the first section")
                })
            }
        }
    }

    /// The line above a row of one of its lists.
    fn header(&self, list: &str) -> String {
        match self.name.strip_prefix("[[").and_then(|name| name.strip_suffix("]]")) {
            Some(name) => format!("[[{name}.{list}]]"),
            None => format!("[[{list}]]"),
        }
    }

    /// Notes which of the keys that the table needs it has not.
    fn note_missing(&self, reader: &mut Reader<'_>) {
        let lost = |key: &str| {
            let here = |lost: &Lost| lost.key == key && lost.section == self.span.start;
            reader.lost.iter().any(here)
        };
        let missing: Vec<&'static Key> = self
            .keys
            .iter()
            .filter(|key| key.required && self.value(key.name).is_none() && !lost(key.name))
            .collect();
        if missing.is_empty() {
            return;
        }
        let names: Vec<&'static str> = missing.iter().map(|key| key.name).collect();
        let line = |key: &&Key| match self.called().filter(|_| key.name == "id") {
            Some(id) => format!("id = {}", about::quoted(&id)),
            None => about::example(key, None),
        };
        let lines: Vec<String> = missing.iter().map(line).collect();
        reader.note(
            &code::MISSING_KEY,
            &self.span,
            format!("{} has no {}", self.name, about::joined(&names, ", no ", " and no ")),
            format!("add {}\n{}", about::with_choices(&missing), lines.join("\n")),
        );
    }

    /// An id of the first words by which the table calls what it is about.
    fn called(&self) -> Option<String> {
        let needed = self.keys.iter().filter(|key| key.required && key.name != "id");
        let text =
            needed.filter(|key| key.about.free).find_map(|key| self.value(key.name)?.get_ref().as_str());
        let slug = slug::slugify(text?);
        let mut words: Vec<&str> = slug.split('-').take(MOST_OF_ID).collect();
        // An id does not end within `in the`.
        while words.len() > 1 && words.last().is_some_and(|last| last.len() < 4) {
            words.pop();
        }
        Some(words.join("-")).filter(|id| !id.is_empty())
    }

    fn get(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.table.get(key)
    }

    fn meant(&self, key: &str) -> Option<&Meant<'a>> {
        self.meant.iter().find(|meant| meant.key == key)
    }

    /// What the table says under a key, or under one that was meant for it.
    fn value(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.get(key).or_else(|| Some(self.meant(key)?.value))
    }

    /// Takes what stands under a key.
    pub(crate) fn take<T: Field>(&self, key: &'static str, reader: &mut Reader<'_>) -> Option<T> {
        (reader.key, reader.listed) = (key, false);
        let taken = T::take(self, key, reader);
        let guessed = self.get(key).is_none() && self.meant(key).is_some_and(|meant| !meant.certain);
        if !guessed {
            return taken;
        }
        // What may be meant for another key is looked through for its mistakes, and left out.
        let nothing = DeTable::new();
        T::take(&Fields::new(&nothing, self.span.clone(), self.name), key, reader)
    }

    /// Whether the table says anything under a key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.value(key).is_some()
    }
}

/// A comma-separated list of words in back-ticks, for messages.
pub(crate) fn list(words: &[&'static str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    quoted.join(", ")
}

/// What kind of value something is, for messages.
pub(crate) fn kind(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "text",
        DeValue::Integer(_) => "a whole number",
        DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// Notes that a value is of the wrong kind.
pub(crate) fn wrong_kind<T>(
    value: &Spanned<DeValue<'_>>,
    wanted: &str,
    help: &str,
    reader: &mut Reader<'_>,
) -> Option<T> {
    reader.note(
        &code::WRONG_KIND,
        &value.span(),
        format!("this is {}, and {wanted} is wanted", kind(value.get_ref())),
        help,
    );
    None
}

impl<T: Value> Field for Said<T> {
    const REQUIRED: bool = true;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        let value = fields.value(key)?;
        let value = match value.get_ref() {
            DeValue::Array(list) if !T::ABOUT.list => single(list, value, T::ABOUT, reader)?,
            _ => Cow::Borrowed(value),
        };
        Some(Said { value: T::read(&value, reader)?, span: value.span() })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<T>()
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        literal::of::<T>(key, typed, currency)
    }
}

/// What a list says where a single value is wanted: its one element, or sections that say nothing twice as one.
fn single<'a>(
    list: &DeArray<'a>,
    value: &'a Spanned<DeValue<'a>>,
    about: &About,
    reader: &mut Reader<'_>,
) -> Option<Cow<'a, Spanned<DeValue<'a>>>> {
    let key = reader.key;
    let tables = list.iter().map(|each| match each.get_ref() {
        DeValue::Table(table) => Some(table),
        _ => None,
    });
    let tables: Option<Vec<_>> = tables.collect();
    let sections = tables.filter(|tables| !tables.is_empty() && !about.keys.is_empty());
    if !about.keys.is_empty() && sections.is_none() {
        // Dimensions may be read from a list.
        return Some(Cow::Borrowed(value));
    }
    if let Some(tables) = &sections {
        let mut all = DeTable::new();
        let entries = tables.iter().flat_map(|table| table.iter());
        let twice =
            entries.filter(|(key, value)| all.insert((*key).clone(), (*value).clone()).is_some()).count();
        if twice == 0 {
            let message = match tables.len() {
                1 => format!("`{key}` is no list, and this is read as the one that there is"),
                several => format!("`{key}` stands {several} times, and all of it is read as one"),
            };
            let help = format!("put all of its keys below one `[{key}]`, with single brackets");
            reader.note_loose(&list[0].span(), message, help);
            return Some(Cow::Owned(Spanned::new(list[0].span(), DeValue::Table(all))));
        }
    } else if let [one] = &list[..] {
        let help = "write it without the square brackets";
        reader.note_loose(&value.span(), "this is a list of one, and it is read as the value itself", help);
        return Some(Cow::Owned(one.clone()));
    }
    let texts: Option<Vec<&str>> = list.iter().map(|each| each.get_ref().as_str()).collect();
    let help = match texts {
        _ if sections.is_some() => format!("put all of its keys below one `[{key}]`, each of them once"),
        Some(texts) if about.free && !texts.is_empty() => {
            format!("write one text, such as\n{key} = {}", about::quoted(&texts.join("; ")))
        }
        _ => format!("write one of them, such as `{key} = {}`", about.sample()),
    };
    reader.dropped |= sections.is_some();
    let message = format!("this is a list of {}, and one value is wanted", list.len());
    reader.note(&code::WRONG_KIND, &value.span(), message, help);
    None
}

impl<T: Value> Field for Option<Said<T>> {
    const REQUIRED: bool = false;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        Some(if fields.has(key) { Said::take(fields, key, reader) } else { None })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<T>()
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        literal::of::<T>(key, typed, currency)
    }
}

impl<T: Value> Field for Vec<Said<T>> {
    const REQUIRED: bool = false;
    const MANY: bool = true;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(value) = fields.value(key) else {
            return Some(Vec::new());
        };
        if let DeValue::Array(array) = value.get_ref() {
            return Some(elements(array, value.span(), reader));
        }
        let before = reader.problems.len();
        let read: Vec<Said<T>> = elements(std::slice::from_ref(value), value.span(), reader);
        let table = matches!(value.get_ref(), DeValue::Table(_));
        // What was told of the value itself says how to write it.
        if table || !read.is_empty() && reader.problems.len() == before {
            let help = match value.get_ref() {
                DeValue::Table(_) => format!("write `[[{key}]]`, with two brackets"),
                DeValue::String(text) => format!("write `{key} = [{}]`", about::quoted(text)),
                _ => "put it in square brackets".to_owned(),
            };
            reader.note_loose(&value.span(), "this is read as a list of one", help);
        }
        Some(read)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let items = generator.subschema_for::<T>();
        json_schema!({ "type": "array", "items": items })
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        literal::of::<T>(key, typed, currency)
    }
}

impl<T: Value> Field for Vec<Row<T>> {
    const REQUIRED: bool = false;
    const MANY: bool = true;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        Vec::<Said<T>>::take(fields, key, reader).map(|rows| rows.into_iter().map(Row::new).collect())
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        Vec::<Said<T>>::schema(generator)
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        literal::of::<T>(key, typed, currency)
    }
}

/// Reads the elements of a list one by one, leaving out those that cannot be read and those beyond [`MOST_ELEMENTS`].
fn elements<T: Value>(
    values: &[Spanned<DeValue<'_>>],
    span: std::ops::Range<usize>,
    reader: &mut Reader<'_>,
) -> Vec<Said<T>> {
    if values.len() > MOST_ELEMENTS {
        let message = format!("this list has {} elements, and {MOST_ELEMENTS} are read", values.len());
        reader.note(
            &code::TOO_LONG,
            &span,
            message,
            "say more with fewer: like ones go into one row with its `count`",
        );
        reader.dropped = true;
    }
    let key = reader.key;
    let read = |value: &Spanned<DeValue<'_>>| {
        // Reading a table goes on to its own keys.
        (reader.key, reader.listed) = (key, true);
        Some(Said { value: T::read(value, reader)?, span: value.span() })
    };
    values.iter().take(MOST_ELEMENTS).filter_map(read).collect()
}

/// A list that may be written as one bare value where it has only one element.
#[derive(Debug, Clone, PartialEq)]
pub struct OneOrMore<T>(pub Vec<Said<T>>);

impl<T> Default for OneOrMore<T> {
    fn default() -> Self {
        OneOrMore(Vec::new())
    }
}

impl<T> std::ops::Deref for OneOrMore<T> {
    type Target = [Said<T>];

    fn deref(&self) -> &[Said<T>] {
        &self.0
    }
}

impl<T: Value> Field for OneOrMore<T> {
    const REQUIRED: bool = false;
    const SEVERAL: bool = true;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(value) = fields.value(key) else {
            return Some(OneOrMore::default());
        };
        let read = match value.get_ref() {
            DeValue::Array(array) => elements(array, value.span(), reader),
            DeValue::String(text) if T::ABOUT.name && about::names_in(text).len() > 1 => {
                let names: Vec<String> = about::names_in(text).into_iter().map(slug::slugify).collect();
                let quoted: Vec<String> = names.iter().map(|name| about::quoted(name)).collect();
                let help = format!("write `{key} = [{}]`", quoted.join(", "));
                reader.note_loose(&value.span(), format!("this is read as {} names", names.len()), help);
                let value = |name: &String| Spanned::new(value.span(), DeValue::String(name.clone().into()));
                let values: Vec<_> = names.iter().map(value).collect();
                elements(&values, values[0].span(), reader)
            }
            _ => elements(std::slice::from_ref(value), value.span(), reader),
        };
        Some(OneOrMore(read))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let one = generator.subschema_for::<T>();
        json_schema!({ "anyOf": [one, { "type": "array", "items": one }] })
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        literal::of::<T>(key, typed, currency)
    }
}

impl<T: Field> Field for Private<T> {
    const REQUIRED: bool = T::REQUIRED;
    const MANY: bool = T::MANY;
    const SEVERAL: bool = T::SEVERAL;
    const AUDIENCE: Audience = Audience::Archive;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        T::take(fields, key, reader).map(Private::new)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        read_by("archive", T::schema(generator))
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        T::literal(key, typed, currency)
    }
}

impl<T: Field> Field for Personal<T> {
    const REQUIRED: bool = T::REQUIRED;
    const MANY: bool = T::MANY;
    const SEVERAL: bool = T::SEVERAL;
    const AUDIENCE: Audience = Audience::Buyer;
    const ABOUT: &'static About = T::ABOUT;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        T::take(fields, key, reader).map(Personal::new)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        read_by("buyer", T::schema(generator))
    }

    fn literal(key: &'static str, typed: &str, currency: Option<&str>) -> Result<String, String> {
        T::literal(key, typed, currency)
    }
}

/// Says in a schema who may read a field, so that an editor's user and the tests can see it.
fn read_by(audience: &str, mut schema: Schema) -> Schema {
    schema.insert("x-read-by".to_owned(), audience.into());
    schema
}

/// Puts a description into a schema that may be a bare reference.
pub(crate) fn described(mut schema: Schema, docs: &[&str]) -> Schema {
    let text = docs.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ");
    schema.insert("description".to_owned(), text.into());
    schema
}
