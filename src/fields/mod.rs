//! Reading one TOML table at a time, remembering every mistake.
//!
//! A `Value` is read from one TOML value; a `Field` is taken from a table by its
//! key and knows whether it may be absent. The macros of `shape` make both for whole
//! tables, together with their JSON Schema. Records and tables of the trade are read alike.

pub mod code;
mod geometry;
mod said;
pub(crate) mod scalar;
pub(crate) mod shape;

use std::collections::BTreeMap;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use toml::Spanned;
use toml::de::{DeTable, DeValue};

pub use geometry::{Landmark, Line, Outline};
pub use said::{Personal, Private, Row, Said};
pub use scalar::{
    Brief, Celsius, Count, Faces, Figure, Id, LENGTH, Litres, Number, Percent, Range, Share, Surcharge, Text,
    Year,
};

use crate::diag::{Code, Diagnostic, Place, Rank, nearest};
use crate::unit::legible;

/// The most mistakes of one file that are told one by one; nobody mends more at a sitting.
pub const MOST_PROBLEMS: usize = 500;

/// The most elements of a list; a piece of furniture has hundreds of parts at most.
pub const MOST_ELEMENTS: usize = 2_000;

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
    /// How many outermost tables of each kind have a mistake; the file's own keys count as one under [`HEAD`].
    lacks: BTreeMap<&'static str, usize>,
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
            lacks: BTreeMap::new(),
        }
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
                self.lacks.insert(HEAD, 1);
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

    /// Reads a table within the one that is being read.
    pub(crate) fn within<T>(&mut self, name: &'static str, read: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.mistakes;
        self.within.push(name);
        let read = read(self);
        self.within.pop();
        if self.within.is_empty() && self.mistakes > before {
            *self.lacks.entry(name).or_default() += 1;
        }
        read
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
    /// Reads it, or notes what is wrong and returns `None`.
    fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self>;
}

/// Something that a table holds under a key.
pub(crate) trait Field: Sized {
    /// Whether the table is useless without it.
    const REQUIRED: bool;
    /// Takes it from the table, or notes what is wrong and returns `None`.
    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self>;
    /// Its JSON Schema.
    fn schema(generator: &mut SchemaGenerator) -> Schema;
}

/// One table being read.
pub(crate) struct Fields<'a> {
    table: &'a DeTable<'a>,
    span: std::ops::Range<usize>,
    name: &'static str,
}

impl<'a> Fields<'a> {
    /// The table at `span`, called `name` in messages.
    pub(crate) fn new(table: &'a DeTable<'a>, span: std::ops::Range<usize>, name: &'static str) -> Self {
        Fields { table, span, name }
    }

    fn get(&self, key: &str) -> Option<&'a Spanned<DeValue<'a>>> {
        self.table.get(key)
    }

    /// Notes every key that is none of `known`, with the nearest right one; `retired` ones are passed over.
    pub(crate) fn finish(&self, known: &[&'static str], retired: &[&'static str], reader: &mut Reader<'_>) {
        for key in self.table.keys() {
            let word = key.get_ref();
            if known.contains(&word.as_ref()) || retired.contains(&word.as_ref()) {
                continue;
            }
            reader.note_in(&code::UNKNOWN_KEY, &key.span(), || {
                let absent = known.iter().copied().filter(|known| self.get(known).is_none());
                let help = match nearest(word, absent) {
                    Some(near) => format!("write `{near}`"),
                    None => format!("{} takes {}", self.name, list(known)),
                };
                (format!("{} has no key `{word}`", self.name), help)
            });
        }
    }

    /// Whether an unknown key of the table was probably meant to be `key`.
    fn mistyped(&self, key: &str, known: &[&'static str]) -> bool {
        self.table
            .keys()
            .map(|word| word.get_ref().as_ref())
            .filter(|word: &&str| !known.contains(word))
            .take(MOST_PROBLEMS)
            .any(|word| nearest(word, known.iter().copied()) == Some(key))
    }

    /// Notes that a key is missing, unless an unknown key was probably meant to be it.
    pub(crate) fn missing(&self, key: &'static str, known: &[&'static str], reader: &mut Reader<'_>) {
        if !self.mistyped(key, known) {
            reader.note(
                &code::MISSING_KEY,
                &self.span,
                format!("{} has no `{key}`", self.name),
                format!("add `{key} = …`"),
            );
        }
    }

    /// Whether the table says anything under a key.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.get(key).is_some()
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

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        let value = fields.get(key)?;
        Some(Said { value: T::read(value, reader)?, span: value.span() })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<T>()
    }
}

impl<T: Value> Field for Option<Said<T>> {
    const REQUIRED: bool = false;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        Some(if fields.has(key) { Said::take(fields, key, reader) } else { None })
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        generator.subschema_for::<T>()
    }
}

impl<T: Value> Field for Vec<Said<T>> {
    const REQUIRED: bool = false;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(value) = fields.get(key) else {
            return Some(Vec::new());
        };
        let DeValue::Array(array) = value.get_ref() else {
            let help = match value.get_ref() {
                DeValue::Table(_) => format!("write `[[{key}]]`, with two brackets"),
                _ => "put it in square brackets".to_owned(),
            };
            wrong_kind::<()>(value, "a list", &help, reader);
            reader.dropped = true;
            return Some(Vec::new());
        };
        Some(elements(array, value.span(), reader))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let items = generator.subschema_for::<T>();
        json_schema!({ "type": "array", "items": items })
    }
}

impl<T: Value> Field for Vec<Row<T>> {
    const REQUIRED: bool = false;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        Vec::<Said<T>>::take(fields, key, reader).map(|rows| rows.into_iter().map(Row::new).collect())
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        Vec::<Said<T>>::schema(generator)
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
    let read =
        |value: &Spanned<DeValue<'_>>| Some(Said { value: T::read(value, reader)?, span: value.span() });
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

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        Some(OneOrMore(match fields.get(key) {
            None => Vec::new(),
            Some(value) => match value.get_ref() {
                DeValue::Array(array) => elements(array, value.span(), reader),
                _ => elements(std::slice::from_ref(value), value.span(), reader),
            },
        }))
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        let one = generator.subschema_for::<T>();
        json_schema!({ "anyOf": [one, { "type": "array", "items": one }] })
    }
}

impl<T: Field> Field for Private<T> {
    const REQUIRED: bool = T::REQUIRED;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        T::take(fields, key, reader).map(Private::new)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        read_by("archive", T::schema(generator))
    }
}

impl<T: Field> Field for Personal<T> {
    const REQUIRED: bool = T::REQUIRED;

    fn take(fields: &Fields<'_>, key: &'static str, reader: &mut Reader<'_>) -> Option<Self> {
        T::take(fields, key, reader).map(Personal::new)
    }

    fn schema(generator: &mut SchemaGenerator) -> Schema {
        read_by("buyer", T::schema(generator))
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

/// What reading one file gave.
pub(crate) struct Reading<T> {
    /// The file's table; `None` where it could not be read.
    pub(crate) table: Option<T>,
    /// What is wrong with it.
    pub(crate) problems: Vec<Diagnostic>,
    /// Whether every table within it was read; where not, names in it may be missed elsewhere.
    pub(crate) whole: bool,
    /// What the table therefore lacks: how many of its own tables have a mistake, by their names in messages; the
    /// file's own keys count as one under [`HEAD`].
    pub(crate) lacks: BTreeMap<&'static str, usize>,
}

impl<T> Reading<T> {
    /// Nothing was read, for one reason or for none.
    pub(crate) fn nothing(problem: Option<Diagnostic>) -> Reading<T> {
        let whole = problem.is_none();
        Reading { table: None, problems: Vec::from_iter(problem), whole, lacks: BTreeMap::new() }
    }
}

/// Reads one TOML text into a table's type, and says what could not be read.
pub(crate) fn read_text<T>(
    path: &str,
    text: &str,
    read: fn(&Fields<'_>, &mut Reader<'_>) -> Option<T>,
) -> Reading<T> {
    let mut reader = Reader::of(path);
    let (document, errors) = DeTable::parse_recoverable(text);
    if errors.is_empty() {
        // The document's own span is the whole file; a missing key is shown at its first line.
        let table = read(&Fields::new(document.get_ref(), 0..0, HEAD), &mut reader);
        let (whole, lacks) = (!reader.dropped, std::mem::take(&mut reader.lacks));
        return Reading { table, problems: reader.told(), whole, lacks };
    }
    // After a break in the grammar values are placeholders, so the fields are not read at all.
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        reader.note(&code::BROKEN_TOML, &span, error.message().replace('\n', ", "), code::BROKEN_TOML.fix);
    }
    Reading { table: None, problems: reader.told(), whole: false, lacks: BTreeMap::new() }
}
