//! The form of one table of a record, made from its keys.

use std::collections::BTreeMap;

use serde::Serialize;
use toml_edit::{Item, Table, TableLike, Value};

use super::given::Faults;
use super::order::is_usual;
use super::place::{Place, rows};
use super::words::{self, Source};
use crate::fields::{Audience, Key, Sort};
use crate::record::Folder;
use crate::trade::Trade;

/// What fields hold, by their names; several values stand on lines of their own.
pub(super) type Typed = BTreeMap<String, String>;

/// One field, or the fields of a table within the entry.
#[derive(Debug, Default, Serialize)]
pub(super) struct Field {
    /// Its key; behind a dot where it is of a table within the entry.
    pub(super) name: String,
    /// The key as the record has it.
    pub(super) key: &'static str,
    /// What it asks for.
    pub(super) label: String,
    /// What else there is to know.
    pub(super) help: String,
    pub(super) required: bool,
    /// Who reads it; empty where everybody does.
    pub(super) audience: &'static str,
    /// What it looks like.
    pub(super) kind: &'static str,
    /// What it holds.
    pub(super) value: String,
    /// What the record says.
    pub(super) was: String,
    pub(super) unit: String,
    /// The list of words that it offers.
    pub(super) list: String,
    pub(super) options: Vec<Choice>,
    /// What it is taken for.
    pub(super) note: String,
    /// What is wrong with it.
    pub(super) fault: String,
    /// What `inspect` says of it.
    pub(super) doubts: Vec<Doubt>,
    /// The fields of a table within the entry.
    pub(super) fields: Vec<Field>,
    /// Whether most people tell it.
    pub(super) usual: bool,
}

/// One of the things that can be chosen.
#[derive(Debug, Default, Serialize)]
pub(super) struct Choice {
    pub(super) value: String,
    pub(super) label: String,
    pub(super) means: String,
    pub(super) on: bool,
}

/// Something that is wrong, doubtful or missing.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Doubt {
    pub(super) rank: &'static str,
    pub(super) words: String,
    pub(super) help: String,
}

impl Doubt {
    /// Whether it is no more than a hint.
    pub(super) fn is_hint(&self) -> bool {
        self.rank == crate::diag::Rank::Hint.word()
    }
}

/// What forms are made from.
#[derive(Clone, Copy)]
pub(super) struct Maker<'a> {
    pub(super) root: &'a Table,
    pub(super) folder: &'a Folder,
    pub(super) trade: &'a Trade,
}

impl Maker<'_> {
    /// The fields of some keys of a table; `typed` is what somebody has typed meanwhile.
    pub(super) fn fields(
        &self,
        place: &Place,
        keys: &[&'static Key],
        table: Option<&dyn TableLike>,
        typed: Option<&Typed>,
    ) -> Vec<Field> {
        let of = place.table();
        let mut fields: Vec<Field> = keys
            .iter()
            .filter_map(|key| {
                let mut field = self.field(&of, "", key, table, typed, place.new)?;
                // An id is made of what a row says, and nobody need think of one.
                field.usual = is_usual(&of, key) && !(key.name == "id" && place.new);
                Some(field)
            })
            .collect();
        // What a record says already is never hidden.
        fields.iter_mut().for_each(|field| field.usual |= field.says_something());
        fields
    }

    fn field(
        &self,
        of: &str,
        before: &str,
        key: &'static Key,
        table: Option<&dyn TableLike>,
        typed: Option<&Typed>,
        new: bool,
    ) -> Option<Field> {
        let about = key.about;
        let item = table.and_then(|table| table.get(key.name));
        let name = format!("{before}{}", key.name);
        let (label, help) = asked(key.means);
        let mut field = Field {
            key: key.name,
            label,
            help,
            required: key.required,
            audience: match key.audience {
                Audience::Everybody => "",
                Audience::Buyer => "for the buyer and the archive",
                Audience::Archive => "for the archive alone",
            },
            kind: "text",
            usual: true,
            name,
            ..Field::default()
        };
        if !about.keys.is_empty() {
            // Lists of tables have entries of their own.
            if key.many {
                return None;
            }
            if needs_a_place(about.keys) {
                field.kind = "fixed";
                field.value = item?.to_string().trim().to_owned();
                return Some(field);
            }
            let inner = item.and_then(Item::as_table_like);
            let (of, before) = (format!("{of}.{}", key.name), format!("{}.", field.name));
            field.kind = "group";
            field.fields = about
                .keys
                .iter()
                .filter_map(|key| self.field(&of, &before, key, inner, typed, new))
                .collect();
            return Some(field);
        }
        let said = item.map(|item| text_of(key, item));
        if about.sort == Sort::Place || matches!(said, Some(None)) || key.name == "id" && !new {
            let raw = item.map(|item| item.to_string().trim().to_owned());
            field.kind = "fixed";
            field.value = said.flatten().or(raw)?;
            return Some(field);
        }
        field.was = said.flatten().unwrap_or_default();
        field.value = typed.and_then(|typed| typed.get(&field.name)).unwrap_or(&field.was).clone();
        self.shape(of, key, &mut field);
        Some(field)
    }

    /// What a field looks like, and what it offers.
    fn shape(&self, of: &str, key: &'static Key, field: &mut Field) {
        let lines: Vec<&str> = field.value.lines().collect();
        let choice = |value: String, label: String, means: String| {
            let on = lines.contains(&value.as_str());
            Choice { value, label, means, on }
        };
        match (key.about.sort, key.about.words) {
            (_, words) if !words.is_empty() => {
                field.kind = if key.required { "tiles" } else { "pick" };
                let one = |word: &crate::fields::Word| {
                    choice(word.word.to_owned(), word.word.to_owned(), word.means.trim().to_owned())
                };
                field.options = words.iter().map(one).collect();
                self.keep(field);
            }
            (Sort::Row(list), _) if key.name != "id" => {
                field.kind = if key.several { "rows" } else { "pick" };
                let names = self.names(list);
                field.options = names.into_iter().map(|(id, words)| choice(id.clone(), words, id)).collect();
                self.keep(field);
                if field.options.is_empty() {
                    field.help = format!("{} There is none in the record yet.", field.help).trim().to_owned();
                }
            }
            (Sort::Truth, _) => {
                field.kind = "pick";
                let one =
                    |value: &str, label: &str| choice(value.to_owned(), label.to_owned(), String::new());
                field.options = vec![one("true", "yes"), one("false", "no")];
                self.keep(field);
            }
            (Sort::Day, _) => {
                let is_day = field.value.is_empty() || field.value.parse::<chrono::NaiveDate>().is_ok();
                field.kind = if is_day { "date" } else { "text" };
            }
            (Sort::Money, _) => {
                field.kind = "number";
                let workshop = self.folder.workshop.as_ref();
                field.unit = workshop
                    .and_then(|workshop| workshop.currency.as_ref())
                    .map_or_else(String::new, |currency| currency.to_string());
            }
            (Sort::Number(unit), _) => {
                field.kind = "number";
                field.unit = unit.to_owned();
            }
            _ if key.several => field.kind = "lines",
            (Sort::Plain, _) if key.about.free => field.kind = "long",
            _ => {}
        }
        if let Some(source) = words::source(of.trim_start_matches('.'), key) {
            if !key.several {
                field.kind = "text";
            }
            field.list = source.list();
            if let Source::Trade(tables) = source {
                let taken = field.value.lines().map(|typed| words::taken(self.trade, tables, typed));
                field.note = taken.filter(|taken| !taken.is_empty()).collect::<Vec<_>>().join("; ");
            }
        }
        // The unit stands beside the field.
        if field.unit == "mm" && field.help == "in millimetres" {
            field.help.clear();
        }
        if key.name == "id" {
            field.help = "made from its words where you leave it empty".to_owned();
            field.required = false;
        }
    }

    /// Offers what a field holds already, though it is none of the things to choose from.
    fn keep(&self, field: &mut Field) {
        let all: Vec<String> = field.was.lines().chain(field.value.lines()).map(str::to_owned).collect();
        for value in all {
            if !field.options.iter().any(|option| option.value == value) {
                let on = field.value.lines().any(|line| line == value);
                field.options.push(Choice { label: value.clone(), value, means: String::new(), on });
            }
        }
    }

    /// The rows of a list that can be pointed at: their ids, and what they are.
    pub(super) fn names(&self, list: &str) -> Vec<(String, String)> {
        match list {
            "tin" => {
                let tins = self.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
                let words = |tin: &crate::record::Tin| tin.name.as_ref().unwrap_or(&tin.is).to_string();
                tins.map(|tin| (tin.id.0.clone(), words(tin))).collect()
            }
            "stock" => {
                let items = self.folder.stock.items.iter();
                items.map(|item| (item.id.0.clone(), item.what.to_string())).collect()
            }
            list => {
                let keys = Place::record().keys.iter().find(|key| key.name == list).map(|key| key.about.keys);
                let rows = self.root.get(list).map(rows).unwrap_or_default();
                let named = |row: &dyn TableLike| {
                    let id = row.get("id")?.as_str()?.to_owned();
                    let words = main_words(row, keys?);
                    Some((id.clone(), if words.is_empty() { id } else { words }))
                };
                rows.into_iter().flatten().filter_map(named).collect()
            }
        }
    }
}

impl Field {
    fn says_something(&self) -> bool {
        !self.value.is_empty() || self.fields.iter().any(Field::says_something)
    }

    /// Does something with it and with the fields within it.
    pub(super) fn each(&mut self, visit: &mut dyn FnMut(&mut Field)) {
        visit(self);
        self.fields.iter_mut().for_each(|field| field.each(visit));
    }

    /// Takes what is wrong with it and with the fields within it, and says with how many something is.
    pub(super) fn blame(&mut self, faults: &Faults) -> usize {
        let mut wrong = 0;
        self.each(&mut |field| {
            if let Some(fault) = faults.get(&field.name) {
                field.fault = fault.clone();
                wrong += 1;
            }
        });
        self.usual |= wrong > 0;
        wrong
    }
}

/// Whether a table says a place on a photograph, which is set on the picture and no field asks for.
pub(super) fn needs_a_place(keys: &'static [Key]) -> bool {
    keys.iter().any(|key| key.about.sort == Sort::Place)
}

/// What a field asks for, and what else there is to know, from what the schema says of its key.
pub(super) fn asked(means: &str) -> (String, String) {
    let means = means.trim().trim_end_matches('.').replace('`', "“");
    // Quotation marks come in pairs.
    let mut open = false;
    let means: String = means
        .chars()
        .map(|letter| match letter {
            '“' => {
                open = !open;
                if open { '“' } else { '”' }
            }
            letter => letter,
        })
        .collect();
    let cuts = [";", ":", ", in ", " in millimetres", ", such as ", ", or “", ", for those"];
    let cut = cuts.iter().filter_map(|cut| means.find(cut)).filter(|at| *at > 0).min();
    let Some(cut) = cut else { return (means, String::new()) };
    let rest = means[cut..].trim_start_matches([';', ':', ',', ' ']);
    (means[..cut].to_owned(), rest.to_owned())
}

/// What an item says, as somebody would type it; `None` where no field holds it.
pub(super) fn text_of(key: &Key, item: &Item) -> Option<String> {
    let value = item.as_value()?;
    match value {
        Value::Array(array) if key.several => {
            let all: Option<Vec<String>> = array.iter().map(scalar).collect();
            Some(all?.join("\n"))
        }
        Value::Array(array) if matches!(key.about.sort, Sort::Number(_)) => {
            let ends: Option<Vec<String>> = array.iter().map(scalar).collect();
            Some(ends?.join(" to "))
        }
        // Money is written with its hundredths, where it has no smaller part.
        Value::Float(amount) if key.about.sort == Sort::Money => {
            let amount = *amount.value();
            let hundredths = format!("{amount:.2}");
            Some(if hundredths.parse() == Ok(amount) { hundredths } else { amount.to_string() })
        }
        value => scalar(value),
    }
}

fn scalar(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.value().clone()),
        Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) => {
            Some(value.to_string().trim().to_owned())
        }
        Value::Array(_) | Value::InlineTable(_) => None,
    }
}

/// What a row is about: the first text that it needs, or else the first that it has, behind its key.
pub(super) fn main_words(row: &dyn TableLike, keys: &'static [Key]) -> String {
    let text = |key: &Key| {
        row.get(key.name).and_then(|item| text_of(key, item)).map(|text| text.replace('\n', ", "))
    };
    let free = |key: &&Key| key.about.free && key.about.keys.is_empty() && key.name != "id";
    let needed = keys.iter().filter(|key| key.required).filter(free).find_map(text);
    let named = || keys.iter().filter(|key| key.name == "name").find_map(text);
    let first = || {
        let mut has = keys.iter().filter(free).filter_map(|key| Some(format!("{} {}", key.name, text(key)?)));
        has.next()
    };
    needed.or_else(named).or_else(first).unwrap_or_default()
}

/// What else a row tells in a word or two: days, words of closed lists, parts and quantities.
pub(super) fn small_words(row: &dyn TableLike, keys: &'static [Key], maker: &Maker<'_>) -> Vec<String> {
    let mut small = Vec::new();
    for key in keys.iter().filter(|key| !["id", "from-daybook"].contains(&key.name)) {
        let Some(text) = row.get(key.name).and_then(|item| text_of(key, item)) else { continue };
        match (key.about.sort, key.about.words) {
            (Sort::Day, _) => small.push(text),
            (_, words) if !words.is_empty() => small.push(text),
            (Sort::Row(list), _) => {
                let names = maker.names(list);
                let name = |id: &str| {
                    let known = names.iter().find(|(known, _)| known == id);
                    known.map_or_else(|| id.to_owned(), |(_, words)| words.clone())
                };
                let all: Vec<String> = text.lines().map(name).collect();
                if !all.is_empty() {
                    small.push(all.join(", "));
                }
            }
            (Sort::Number("hours"), _) => small.push(format!("{text} h")),
            (Sort::Number(""), _) if key.name == "count" => small.push(format!("× {text}")),
            (Sort::Number(""), _) => small.push(format!("{text} {}", key.name)),
            (Sort::Money, _) => small.push(text),
            _ => {}
        }
    }
    small
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_question_is_cut_where_what_else_there_is_to_know_begins() {
        let case = |means: &str, label: &str, help: &str| {
            assert_eq!(asked(means), (label.to_owned(), help.to_owned()), "{means}");
        };
        case(
            " What is seen; a term of the trade, or free words.",
            "What is seen",
            "a term of the trade, or free words",
        );
        case(" Width in millimetres, from side to side.", "Width", "in millimetres, from side to side");
        case(
            " What it is, in two levels such as `table/gateleg`.",
            "What it is",
            "in two levels such as “table/gateleg”",
        );
        case(" How it was sawn.", "How it was sawn", "");
    }

    #[test]
    fn every_key_of_the_schema_asks_something() {
        fn walk(keys: &'static [Key]) {
            for key in keys {
                let (label, _) = asked(key.means);
                assert!(!label.is_empty() && label.chars().count() < 90, "{} {label}", key.name);
                walk(key.about.keys);
            }
        }
        walk(Place::record().keys);
    }
}
