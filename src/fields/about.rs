//! How keys and values are written, for messages that say what to write.

use super::{Audience, Field, Literal, list};
use crate::unit::fold::{folded, folded_words};

/// What kind of value something is, for whoever asks for it in a form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sort {
    /// Any text, words of a closed list, or a table.
    Plain,
    /// Years of making.
    Years,
    /// A day.
    Day,
    /// Yes or no.
    Truth,
    /// An amount of money.
    Money,
    /// A number in this unit; empty where it counts something.
    Number(&'static str),
    /// The id of a row of this list.
    Row(&'static str),
    /// A place on a photograph.
    Place,
}

/// How a value is written.
#[derive(Debug, Clone, Copy)]
pub(crate) struct About {
    /// An example, as TOML; empty where one is made of what follows.
    example: &'static str,
    /// What kind of value it is.
    pub(crate) sort: Sort,
    /// The words that it is one of, where they are a closed list.
    pub(crate) words: &'static [Word],
    /// The keys that it has, where it is a table.
    pub(crate) keys: &'static [Key],
    /// The keys of lengths in the order in which people say them, where it is a table of dimensions.
    pub(crate) order: &'static [&'static str],
    /// Whether any words do.
    pub(crate) free: bool,
    /// Whether it is the name of something else, which holds neither spaces nor commas.
    pub(super) name: bool,
    /// Whether it is itself written as a list.
    pub(super) list: bool,
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Key {
    /// The key.
    pub(crate) name: &'static str,
    /// What it says, as the schema has it.
    pub(crate) means: &'static str,
    /// Whether the table is useless without it.
    pub(crate) required: bool,
    /// What stands under it.
    pub(crate) about: &'static About,
    /// Whether that is a list.
    pub(crate) many: bool,
    /// Whether that may be a list, too.
    pub(crate) several: bool,
    /// Who may read it.
    pub(crate) audience: Audience,
    /// How a value of it that somebody typed is written.
    pub(crate) literal: Literal,
}

/// A word of a closed list.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Word {
    /// The word as a record writes it.
    pub(crate) word: &'static str,
    /// What people say for it, and for nothing else of the list.
    pub(crate) said: &'static [&'static str],
    /// What it means.
    pub(crate) means: &'static str,
}

impl Key {
    /// The key of a field of this type.
    pub(crate) const fn of<T: Field>(name: &'static str) -> Key {
        Key {
            name,
            means: "",
            required: T::REQUIRED,
            about: T::ABOUT,
            many: T::MANY,
            several: T::SEVERAL,
            audience: T::AUDIENCE,
            literal: T::literal,
        }
    }

    /// The same, saying this.
    pub(crate) const fn meaning(self, means: &'static str) -> Key {
        Key { means, ..self }
    }
}

impl About {
    /// A value that is written like this.
    pub(crate) const fn like(example: &'static str) -> About {
        About {
            example,
            sort: Sort::Plain,
            words: &[],
            keys: &[],
            order: &[],
            free: false,
            name: false,
            list: false,
        }
    }

    /// The same as a value of this kind.
    pub(crate) const fn of(self, sort: Sort) -> About {
        About { sort, ..self }
    }

    /// Any text.
    pub(super) const fn text() -> About {
        About { free: true, ..About::like("\"…\"") }
    }

    /// The name of something.
    pub(crate) const fn name(example: &'static str) -> About {
        About { name: true, ..About::like(example) }
    }

    /// A value that is written as a list.
    pub(super) const fn list(example: &'static str) -> About {
        About { list: true, ..About::like(example) }
    }

    /// A word of a closed list.
    pub(crate) const fn words(words: &'static [Word]) -> About {
        About { words, ..About::like("") }
    }

    /// A table of these keys.
    pub(crate) const fn table(keys: &'static [Key]) -> About {
        About { keys, ..About::like("") }
    }

    /// The same as a table of dimensions, which people say in this order.
    pub(crate) const fn ordered(self, order: &'static [&'static str]) -> About {
        About { order, ..self }
    }

    /// The same with an example of its own.
    pub(crate) const fn written(self, example: &'static str) -> About {
        About { example, ..self }
    }

    /// An example, as TOML: of a closed list the word that claims nothing, since examples are copied.
    pub(super) fn sample(&self) -> String {
        let unknown = self.words.iter().find(|word| word.word == "unknown");
        match (unknown.or(self.words.first()), self.keys) {
            _ if !self.example.is_empty() => self.example.to_owned(),
            (Some(first), _) => quoted(first.word),
            (None, keys) => {
                let lines: Vec<String> = shown(keys).iter().map(|key| example(key, None)).collect();
                format!("{{ {} }}", lines.join(", "))
            }
        }
    }
}

/// A text as a TOML value of one line.
pub(super) fn quoted(text: &str) -> String {
    toml::Value::from(text.replace('\n', " ")).to_string()
}

/// A line of TOML with a key and an example of its value, or with what was typed where that will do.
pub(super) fn example(key: &Key, typed: Option<&str>) -> String {
    match typed {
        Some(typed) if key.about.free => format!("{} = {}", key.name, quoted(typed)),
        _ if key.many => format!("{} = [{}]", key.name, key.about.sample()),
        _ => format!("{} = {}", key.name, key.about.sample()),
    }
}

/// The keys that an example shows: the required ones, or else the first that takes any text, or else the first.
fn shown(keys: &'static [Key]) -> Vec<&'static Key> {
    let required: Vec<&Key> = keys.iter().filter(|key| key.required).collect();
    match required.is_empty() {
        true => keys.iter().find(|key| key.about.free).or(keys.first()).into_iter().collect(),
        false => required,
    }
}

/// A table of this name as it is written, with what was typed in the first place where any text will do; behind its
/// key where it has one.
pub(super) fn section(name: &str, about: &About, typed: Option<&str>, key: &str) -> String {
    let mut typed = typed.filter(|typed| typed.chars().count() <= 60);
    let mut line = |key: &&Key| example(key, if key.about.free { typed.take() } else { None });
    let lines: Vec<String> = match about.example {
        "" => shown(about.keys).iter().map(&mut line).collect(),
        example => vec![example.to_owned()],
    };
    let begin = if key.is_empty() { String::new() } else { format!("{key} = ") };
    match name.starts_with('[') {
        true => format!("{name}\n{}", lines.join("\n")),
        false if about.example.is_empty() => format!("{begin}{{ {} }}", lines.join(", ")),
        false => format!("{begin}{}", about.example),
    }
}

/// The keys of a table in a sentence that says what to write, the required ones first.
pub(super) fn keys_of(keys: &'static [Key]) -> String {
    let (required, others): (Vec<&Key>, Vec<&Key>) = keys.iter().partition(|key| key.required);
    let others: Vec<&'static str> = others.iter().map(|key| key.name).collect();
    match (required.is_empty(), others.is_empty()) {
        (true, _) => format!("write what is known of {}", list(&others)),
        (false, true) => format!("write its keys {}", with_choices(&required)),
        (false, false) => {
            format!("write its keys {}, and what is known of {}", with_choices(&required), list(&others))
        }
    }
}

/// Keys as part of a sentence, each with the words that it takes where those are a closed list.
pub(super) fn with_choices(keys: &[&Key]) -> String {
    let told = keys.iter().map(|key| match key.about.words {
        [] => format!("`{}`", key.name),
        words => {
            let words: Vec<&'static str> = words.iter().map(|word| word.word).collect();
            format!("`{}` (one of {})", key.name, list(&words))
        }
    });
    together(&told.collect::<Vec<_>>(), ", ", " and ")
}

/// Words in back-ticks as part of a sentence.
pub(super) fn joined(words: &[&'static str], comma: &str, and: &str) -> String {
    together(&words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>(), comma, and)
}

fn together(words: &[String], comma: &str, and: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{}{and}{last}", most.join(comma)),
    }
}

/// The names that a text holds: parted by commas and the like, or by "and".
pub(super) fn names_in(text: &str) -> Vec<&str> {
    let parts = text.split([',', ';', '&', '+', '/']).flat_map(|part| part.split(" and "));
    parts.map(str::trim).filter(|part| !part.is_empty()).collect()
}

/// What people write for keys: words that mean the key wherever a table has it, and words that may. A table that has
/// a key of such a name is not asked. Source: common practice, no source.
const KEYS_SAID: &[(&str, &[&str], &[&str])] = &[
    ("abrade", &["sand", "sanded", "sanding"], &["grit", "grits"]),
    ("alt", &["alt text"], &["description"]),
    ("amount", &[], &["cost", "paid", "price"]),
    ("apply", &["applied"], &["coat", "finish", "product"]),
    ("asking", &["asking price"], &["price", "sale price"]),
    ("because", &[], &["reason", "why"]),
    ("build", &["construction"], &["built"]),
    ("by", &[], &["means", "tool", "tools", "using", "with"]),
    ("clean", &["cleaned"], &[]),
    ("count", &["how many", "qty", "quantity"], &["number"]),
    ("did", &[], &["action", "description", "done", "text", "what", "work"]),
    ("effect", &[], &["consequence", "meaning"]),
    ("extent", &[], &["how far", "location", "place", "where"]),
    ("file", &["filename"], &["image", "name", "photo", "picture"]),
    ("height", &["high"], &["tall"]),
    ("hours", &[], &["duration", "time", "time taken", "took"]),
    ("instead-of", &["replaces"], &["replaced"]),
    ("kind", &[], &["category", "type", "what"]),
    ("length", &["long"], &[]),
    ("made", &["date made", "year made"], &["age", "dated", "period", "year", "years"]),
    ("maker", &["made by"], &[]),
    ("material", &["made of"], &["metal", "of"]),
    ("mends", &[], &["finding", "fixes", "repairs"]),
    ("name", &[], &["called", "label", "title"]),
    ("number", &[], &["no", "ref", "reference", "stock number"]),
    ("of", &[], &["for", "ingredient", "what"]),
    ("on", &["date", "day"], &["when"]),
    ("paid", &[], &["bought for", "cost", "price"]),
    ("part", &["parts"], &["component", "where"]),
    ("parts", &["part"], &["where"]),
    ("plan", &[], &["option", "text", "what"]),
    ("price", &[], &["cost", "sold for"]),
    ("remove", &["removed"], &["strip", "stripped"]),
    ("result", &[], &["came out", "outcome"]),
    ("seen", &[], &["condition", "damage", "description", "fault", "observed", "what"]),
    ("severity", &[], &["grade", "how bad"]),
    ("size", &["dimensions", "measurements"], &[]),
    ("standing", &[], &["originality", "state", "status"]),
    ("test", &["tested"], &[]),
    ("text", &[], &["lesson", "note", "what"]),
    ("thick", &["thickness"], &["depth"]),
    ("timber", &["wood"], &["species"]),
    ("title", &[], &["name", "what"]),
    ("turned-out", &[], &["outcome", "result"]),
    ("undoable", &["reversible"], &[]),
    ("weighs", &["weight"], &["mass"]),
    ("what", &[], &["description", "item", "name", "text"]),
    ("width", &["wide"], &[]),
];

/// The key of a table that somebody wrote another word for, of those that it lacks, and whether that is beyond doubt.
pub(super) fn key_said(
    word: &str,
    keys: &'static [Key],
    lacks: impl Fn(&'static str) -> bool,
) -> Option<(&'static str, bool)> {
    let form = folded(word);
    let one_of = |words: &[&str]| words.iter().any(|word| folded(word) == form);
    let rows = || {
        let absent = keys.iter().map(|key| key.name).filter(|key| lacks(key));
        absent.filter_map(|key| Some((key, KEYS_SAID.iter().find(|(known, ..)| *known == key)?)))
    };
    let certain = rows().find(|(_, (_, certain, _))| one_of(certain)).map(|(key, _)| (key, true));
    certain.or_else(|| rows().find(|(_, (_, _, likely))| one_of(likely)).map(|(key, _)| (key, false)))
}

/// The words of a closed list, the nearest by their meaning first, and whether any is near at all.
pub(super) fn by_meaning(typed: &str, words: &[Word]) -> (Vec<&'static str>, bool) {
    /// Words that tell nothing of a meaning.
    const TELL_NOTHING: [&str; 24] = [
        "a", "an", "and", "as", "at", "be", "by", "for", "from", "had", "have", "in", "is", "it", "no",
        "not", "of", "on", "or", "the", "thi", "to", "was", "with",
    ];
    let telling = |text: &str| -> Vec<String> {
        let mut words = folded_words(text);
        words.retain(|word| !TELL_NOTHING.contains(&word.as_str()));
        words
    };
    let typed = telling(typed);
    let alike = |word: &Word| {
        let mut meant: Vec<String> = word.said.iter().flat_map(|said| telling(said)).collect();
        meant.extend(telling(word.word));
        meant.extend(telling(word.means));
        typed.iter().filter(|word| meant.contains(word)).count()
    };
    let mut order: Vec<(usize, &'static str)> = words.iter().map(|word| (alike(word), word.word)).collect();
    order.sort_by_key(|(alike, _)| std::cmp::Reverse(*alike));
    let near = order.first().is_some_and(|(alike, _)| *alike > 0);
    (order.into_iter().map(|(_, word)| word).collect(), near)
}
