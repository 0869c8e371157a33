//! Which languages there are, which are chosen, and what is wrong with a workshop's own words.
//!
//! Each language is a folder of files beside this one. A workshop lays `words/<language>.ftl` over it, or brings a language
//! whole. Whatever a language does not say is said in British English.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, LazyLock};

use fluent_syntax::ast::Entry;
use fluent_syntax::parser::{self, ErrorKind, ParserError};
use include_dir::{Dir, include_dir};
use unic_langid::LanguageIdentifier;

use super::Language;
use super::language::OF_A_TABLE;
use super::layer::{Layer, Takes, Texts};
use crate::diag::{Code, Diagnostic, Place, Rank, nearest};
use crate::fields::{Said, Text, code};
use crate::record::{Folder, Record};
use crate::source::Tree;
use crate::trade::Trade;
use crate::unit::fold::folded;

/// The languages that are built in, a folder each, one file a subject.
static BUILT_IN: Dir<'static> = include_dir!("$CARGO_MANIFEST_DIR/src/words");

/// The language that stands below every other, and of a workshop that names none.
const BRITISH_ENGLISH: &str = "en-GB";

/// Names of messages that begin like this are a workshop's own, for its own theme.
const OWN: &str = "own-";

static UNKNOWN_MESSAGE: Code = Code {
    name: "unknown-message",
    rank: Rank::Doubt,
    why: "Words that no paper asks for are never printed, and those that they were meant to replace are.",
    fix: "Give the message the name of the one that it replaces; what only your own theme says begins with `own-`.",
};

static UNREADABLE_MESSAGE: Code = Code {
    name: "unreadable-message",
    rank: Rank::Mistake,
    why: "A message that cannot be read, or that asks for what it is not given, cannot be printed; the built-in one is.",
    fix: "Write `name = text`, with values in braces as the built-in message has them: `{ $price }`.",
};

static MESSAGE_SAID_TWICE: Code = Code {
    name: "message-said-twice",
    rank: Rank::Doubt,
    why: "Only one of two messages with one name can be printed: the first is.",
    fix: "Take the other one out.",
};

static UNKNOWN_LANGUAGE: Code = Code {
    name: "unknown-language",
    rank: Rank::Doubt,
    why: "Papers are in British English where their language is not there.",
    fix: "Name a language that is there, or write its messages into `words/<language>.ftl`.",
};

/// What can be wrong with words.
pub static CODES: &[&Code] = &[&MESSAGE_SAID_TWICE, &UNKNOWN_LANGUAGE, &UNKNOWN_MESSAGE, &UNREADABLE_MESSAGE];

/// The languages of a workshop's papers.
#[derive(Debug)]
pub struct Languages {
    workshop: Arc<Language>,
    /// Those that are chosen, by what a record calls them.
    chosen: BTreeMap<String, Arc<Language>>,
}

/// The messages that there are to choose from.
struct Shelf {
    built_in: BTreeMap<&'static str, Layer>,
    own: BTreeMap<String, Layer>,
}

impl Languages {
    /// The languages that a workshop and its pieces name, with its own words laid over them, and what is wrong with both.
    pub fn of(tree: &Tree, folder: &Folder) -> (Languages, Vec<Diagnostic>) {
        let mut problems = Vec::new();
        let shelf = Shelf::of(tree, &mut problems);
        let mut languages = Languages { workshop: shelf.language(BRITISH_ENGLISH), chosen: BTreeMap::new() };
        let workshop = folder.workshop.as_ref().and_then(|workshop| workshop.language.as_ref());
        if let Some(named) =
            workshop.and_then(|named| languages.choose(&shelf, named, "workshop.toml", &mut problems))
        {
            languages.workshop = named;
        }
        for piece in &folder.pieces {
            if let Some(named) = piece.record.as_ref().and_then(|record| named(record)) {
                languages.choose(&shelf, named, &piece.record_path(), &mut problems);
            }
        }
        (languages, problems)
    }

    /// Takes a language for a name, and says so where there is none of it.
    fn choose(
        &mut self,
        shelf: &Shelf,
        named: &Said<Text>,
        path: &str,
        problems: &mut Vec<Diagnostic>,
    ) -> Option<Arc<Language>> {
        if let Some(known) = self.chosen.get(&named.0) {
            return Some(known.clone());
        }
        let Some(tag) = shelf.tag(named) else {
            let message = format!("there is no language `{}` here", named.0);
            let tags = shelf.tags().map(|tag| format!("\"{tag}\"")).collect::<Vec<_>>();
            let near = nearest(&named.0, shelf.tags());
            let help = match near {
                Some(near) => format!("write \"{near}\""),
                None => format!("write one of {}, or bring it as `words/<language>.ftl`", tags.join(", ")),
            };
            problems
                .push(Diagnostic::new(&UNKNOWN_LANGUAGE, Place::at(path, &named.span), message).help(help));
            return None;
        };
        let same = self.all().find(|language| language.tag() == tag).cloned();
        let language = same.unwrap_or_else(|| shelf.language(&tag));
        self.chosen.insert(named.0.clone(), language.clone());
        Some(language)
    }

    /// The workshop's own language: of its showroom, its archive, and of every paper that names no other.
    pub fn workshop(&self) -> &Arc<Language> {
        &self.workshop
    }

    /// The language of a piece's papers for its buyer.
    pub fn buyers(&self, record: &Record) -> &Arc<Language> {
        named(record).and_then(|named| self.chosen.get(&named.0)).unwrap_or(&self.workshop)
    }

    /// Every language that something is written in, the workshop's first.
    pub fn all(&self) -> impl Iterator<Item = &Arc<Language>> {
        let others = self.chosen.values().filter(|language| language.tag() != self.workshop.tag());
        let mut before: Vec<&str> = Vec::new();
        let others = others.filter(move |language| {
            let new = !before.contains(&language.tag());
            before.push(language.tag());
            new
        });
        std::iter::once(&self.workshop).chain(others)
    }
}

/// The language that a record names for its buyer.
fn named(record: &Record) -> Option<&Said<Text>> {
    record.handover.as_ref()?.language.as_ref()
}

impl Language {
    /// British English as it is built in.
    pub fn british() -> Arc<Language> {
        static READ: LazyLock<Arc<Language>> = LazyLock::new(|| {
            let texts = BUILT_IN.get_dir(BRITISH_ENGLISH).into_iter().flat_map(texts).map(str::to_owned);
            Arc::new(Language::of(BRITISH_ENGLISH, texts.collect()))
        });
        READ.clone()
    }
}

fn texts(folder: &'static Dir<'static>) -> impl Iterator<Item = &'static str> {
    folder.files().filter_map(|file| file.contents_utf8())
}

/// The built-in messages of a language.
fn built_in(folder: &'static Dir<'static>) -> Layer {
    let mut layer = Layer::default();
    texts(folder).for_each(|text| layer.lay(&Layer::read(text)));
    layer
}

impl Shelf {
    fn of(tree: &Tree, problems: &mut Vec<Diagnostic>) -> Shelf {
        let tag = |folder: &'static Dir<'static>| folder.path().to_str();
        let mut shelf = Shelf { built_in: BTreeMap::new(), own: BTreeMap::new() };
        let own: Vec<&str> = tree.below("words").filter(|path| path.ends_with(".ftl")).collect();
        for folder in BUILT_IN.dirs() {
            shelf.built_in.extend(tag(folder).map(|tag| (tag, Layer::default())));
        }
        // Messages are taken apart only where something is laid over them.
        for path in own {
            shelf.read(path, tree, problems);
        }
        shelf
    }

    /// The built-in messages of a language and of British English below it.
    fn below(&self, tag: &str) -> Layer {
        let mut below = BUILT_IN.get_dir(BRITISH_ENGLISH).map(built_in).unwrap_or_default();
        if tag != BRITISH_ENGLISH {
            below.lay(&BUILT_IN.get_dir(tag).map(built_in).unwrap_or_default());
        }
        below
    }

    /// Reads a file of the workshop's own.
    fn read(&mut self, path: &str, tree: &Tree, problems: &mut Vec<Diagnostic>) {
        let tag = path.trim_start_matches("words/").trim_end_matches(".ftl");
        if tag.parse::<LanguageIdentifier>().is_err() {
            let message = format!("`{tag}` is not the name of a language");
            let help = "call the file by the language's tag, such as `en-GB.ftl` or `de.ftl`";
            problems.push(Diagnostic::new(&UNKNOWN_LANGUAGE, Place::file(path), message).help(help));
            return;
        }
        let text = match tree.read_text(path) {
            Ok(text) => text,
            Err(fault) => {
                let told =
                    Diagnostic::new(&code::UNREADABLE_TEXT, Place::file(path), format!("this file {fault}"));
                problems.push(told.help(fault.remedy()));
                return;
            }
        };
        let below = self.below(tag);
        let layer = OwnFile { path, text: &text, below: &below, problems }.read();
        self.own.insert(tag.to_owned(), layer);
    }

    /// The tags of all languages.
    fn tags(&self) -> impl Iterator<Item = &str> {
        let brought = self.own.keys().map(String::as_str).filter(|tag| !self.built_in.contains_key(tag));
        self.built_in.keys().copied().chain(brought)
    }

    /// The tag of what somebody calls a language: the tag itself in any letters, or one of its names.
    fn tag(&self, named: &str) -> Option<String> {
        let called = folded(named);
        let is = |tag: &&str| {
            let own = self.own.get(*tag).into_iter().cloned();
            let names =
                BUILT_IN.get_dir(*tag).map(built_in).into_iter().chain(own).flat_map(|layer| {
                    let [name, also] = ["language-name", "language-also"].map(|name| layer.plain(name));
                    name.into_iter().chain(also.into_iter().flat_map(|also| {
                        also.split(',').map(|name| name.trim().to_owned()).collect::<Vec<_>>()
                    }))
                });
            folded(tag) == called || names.into_iter().any(|name| folded(&name) == called)
        };
        self.tags().find(is).map(str::to_owned)
    }

    /// A language with everything that is laid over it.
    fn language(&self, tag: &str) -> Arc<Language> {
        let own = |tag: &str| self.own.get(tag);
        if tag == BRITISH_ENGLISH && own(tag).is_none() {
            return Language::british();
        }
        let mut all = self.below(BRITISH_ENGLISH);
        own(BRITISH_ENGLISH).into_iter().for_each(|own| all.lay(own));
        if tag != BRITISH_ENGLISH {
            all.lay(&BUILT_IN.get_dir(tag).map(built_in).unwrap_or_default());
            own(tag).into_iter().for_each(|own| all.lay(own));
        }
        Arc::new(Language::of(tag, vec![all.text()]))
    }
}

/// A file of a workshop's own words, while it is read.
struct OwnFile<'a> {
    path: &'a str,
    text: &'a str,
    /// The messages that it is laid over.
    below: &'a Layer,
    problems: &'a mut Vec<Diagnostic>,
}

impl OwnFile<'_> {
    fn read(mut self) -> Layer {
        let (resource, faults) = match parser::parse(self.text.to_owned()) {
            Ok(resource) => (resource, Vec::new()),
            Err((resource, faults)) => (resource, faults),
        };
        faults.iter().for_each(|fault| self.unreadable(fault));
        let mut own = Layer::default();
        for entry in resource.body {
            let Entry::Message(message) = entry else { continue };
            let name = message.id.name.clone();
            if own.get(&name).is_some() {
                let message = format!("`{name}` stands in this file before");
                self.tell(
                    &MESSAGE_SAID_TWICE,
                    self.last_place(&name),
                    message,
                    "keep one of the two".to_owned(),
                );
                continue;
            }
            let texts = Texts::of(message);
            if self.is_sound(&name, &texts) {
                own.put(name, texts);
            }
        }
        own
    }

    /// Whether a message can be said in place of the one below it.
    fn is_sound(&mut self, name: &str, texts: &Texts) -> bool {
        let place = self.place(name);
        let takes = texts.takes();
        if let Some(other) = takes.others.iter().next() {
            let message = format!("`{name}` asks for `{other}`, and no message can");
            self.tell(&UNREADABLE_MESSAGE, place, message, "write the words themselves there".to_owned());
            return false;
        }
        let Some(below) = self.below.get(name) else {
            if name.contains(OF_A_TABLE) {
                return self.is_of_a_table(name, texts, &takes);
            }
            if !name.starts_with(OWN) {
                let help = match nearest(name, self.below.names()) {
                    Some(near) => format!("write `{near}`"),
                    None => format!("if only your own theme says it, call it `{OWN}{name}`"),
                };
                let message = format!("no paper or page says a message `{name}`");
                self.tell(&UNKNOWN_MESSAGE, place, message, help);
            }
            return takes.messages.iter().all(|named| self.below.get(named).is_some());
        };
        let told = below.takes();
        if let Some(value) = takes.values.difference(&told.values).next() {
            let message = format!("`{name}` tells no `${value}`");
            let known: Vec<String> = told.values.iter().map(|value| format!("`{{ ${value} }}`")).collect();
            let help = match (nearest(value, told.values.iter().map(String::as_str)), known.is_empty()) {
                (Some(near), _) => format!("write `{{ ${near} }}`"),
                (None, true) => "leave the braces out: it tells nothing".to_owned(),
                (None, false) => format!("it may tell {}", known.join(", ")),
            };
            self.tell(&UNREADABLE_MESSAGE, place, message, help);
            return false;
        }
        if let Some(named) = takes.messages.iter().find(|named| self.below.get(named).is_none()) {
            let message = format!("`{name}` asks for a message `{named}`, and there is none");
            let help = match nearest(named, self.below.names()) {
                Some(near) => format!("write `{{ {near} }}`"),
                None => "write the words themselves there".to_owned(),
            };
            self.tell(&UNREADABLE_MESSAGE, place, message, help);
            return false;
        }
        if self.below.would_turn_in_a_circle(name, texts) {
            let message = format!("`{name}` would stand in itself");
            self.tell(&UNREADABLE_MESSAGE, place, message, "write the words themselves there".to_owned());
            return false;
        }
        if let Some(part) = texts.attributes.keys().find(|part| !below.attributes.contains_key(*part)) {
            let known: Vec<String> = below.attributes.keys().map(|part| format!("`.{part}`")).collect();
            let help = match known.is_empty() {
                true => "write all of it behind the `=`".to_owned(),
                false => format!("its parts are {}", known.join(", ")),
            };
            self.tell(&UNKNOWN_MESSAGE, place, format!("`{name}` has no part `.{part}`"), help);
        }
        true
    }

    /// Whether a message is a text of a table of the trade.
    fn is_of_a_table(&mut self, name: &str, texts: &Texts, takes: &Takes) -> bool {
        static KNOWN: LazyLock<BTreeSet<String>> =
            LazyLock::new(|| Trade::printed_texts().into_iter().map(|(name, _)| name).collect());
        let place = self.place(name);
        let value = texts.value.iter().map(|_| name.to_owned());
        let parts = texts.attributes.keys().map(|part| format!("{name}.{part}"));
        for said in value.chain(parts).filter(|said| !KNOWN.contains(said)).collect::<Vec<_>>() {
            let help = match nearest(&said, KNOWN.iter().map(String::as_str)) {
                Some(near) => format!("write `{near}`"),
                None => "write the list, two hyphens and the row's id: `finish--shellac`".to_owned(),
            };
            let message = format!("the tables of the trade have no text `{said}`");
            self.tell(&UNKNOWN_MESSAGE, place.clone(), message, help);
        }
        if *takes != Takes::default() {
            let message = format!("`{name}` asks for values, and a text of a table tells none");
            self.tell(&UNREADABLE_MESSAGE, place, message, "write plain text".to_owned());
            return false;
        }
        true
    }

    /// Says where a text is no message.
    fn unreadable(&mut self, fault: &ParserError) {
        let start = fault.slice.as_ref().map_or(fault.pos.start, |slice| slice.start).min(self.text.len());
        let line = self.text.get(start..).and_then(|rest| rest.lines().next()).unwrap_or_default();
        let name = line.split(['=', ' ']).next().unwrap_or_default();
        let (message, help) = match &fault.kind {
            ErrorKind::UnbalancedClosingBrace => (
                format!("a brace closes in `{name}` that none opened"),
                "write `{ \"}\" }` for a brace itself",
            ),
            ErrorKind::ExpectedMessageField { .. } | ErrorKind::MissingValue => {
                (format!("`{name}` has no text"), "write the text behind the `=`")
            }
            ErrorKind::MissingDefaultVariant | ErrorKind::MultipleDefaultVariants => (
                format!("of the cases of `{name}`, not exactly one is for everything else"),
                "write `*` before the one that is: `*[other] …`",
            ),
            ErrorKind::ExpectedToken('}' | '{') | ErrorKind::ExpectedInlineExpression => {
                (format!("what stands in the braces of `{name}` is not read"), "write values as `{ $name }`")
            }
            _ => (
                "this is no message".to_owned(),
                "write `name = text`, and begin every further line of the text with a space",
            ),
        };
        let at = fault.pos.start.min(self.text.len());
        self.tell(&UNREADABLE_MESSAGE, at..at + line.len().min(1), message, help.to_owned());
    }

    /// Where a message stands: its name at the start of a line.
    fn place(&self, name: &str) -> std::ops::Range<usize> {
        self.places(name).next().unwrap_or(0..0)
    }

    fn last_place(&self, name: &str) -> std::ops::Range<usize> {
        self.places(name).last().unwrap_or(0..0)
    }

    fn places<'n>(&'n self, name: &'n str) -> impl Iterator<Item = std::ops::Range<usize>> + 'n {
        self.text.match_indices(name).map(|(at, found)| at..at + found.len()).filter(|range| {
            let begins = range.start == 0 || self.text[..range.start].ends_with('\n');
            begins && self.text[range.end..].trim_start_matches(' ').starts_with('=')
        })
    }

    fn tell(&mut self, code: &'static Code, at: std::ops::Range<usize>, message: String, help: String) {
        self.problems.push(Diagnostic::new(code, Place::at(self.path, &at), message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::line_and_column;
    use crate::record;
    use crate::words::Words;

    /// The languages of a workshop with these files, and what is said of them.
    fn languages(workshop: &str, files: &[(&str, &str)]) -> (Languages, Vec<String>) {
        let workshop = ("workshop.toml", format!("name = \"Bench\"\n{workshop}"));
        let files = files.iter().map(|(path, text)| (*path, (*text).to_owned()));
        let tree = Tree::of(files.chain([workshop]));
        let (folder, _) = record::read(&tree);
        let (languages, problems) = Languages::of(&tree, &folder);
        let told = problems.iter().map(|found| {
            let text = tree.text(&found.place.path).and_then(Result::ok).unwrap_or_default();
            let line = found.place.span.map_or(0, |(at, _)| line_and_column(text, at).0);
            format!("{}:{line}: {} [{}]", found.code.name, found.message, found.help)
        });
        (languages, told.collect())
    }

    fn says(languages: &Languages, name: &str) -> String {
        languages.workshop().text(name)
    }

    const OWN: &str = "words/en-GB.ftl";

    #[test]
    fn a_workshops_own_words_lie_over_ours() {
        let (own, told) = languages("", &[(OWN, "offer-for-sale = Available\nown-greeting = Come in\n")]);
        assert_eq!(told, [""; 0]);
        assert_eq!(says(&own, "offer-for-sale"), "Available");
        assert_eq!(says(&own, "offer-sold"), "Sold");
        assert_eq!(says(&own, "own-greeting"), "Come in");
    }

    #[test]
    fn what_a_message_does_not_say_itself_stays() {
        let (own, told) = languages("", &[(OWN, "care-clean-yes = Use a cloth\n")]);
        assert_eq!(told, [""; 0]);
        assert_eq!(says(&own, "care-clean-yes"), "Use a cloth");
        assert_eq!(says(&own, "care-clean-yes.lead"), "Clean");
    }

    #[test]
    fn a_mistake_is_told_where_it_stands_and_our_words_stand() {
        for (own, wanted) in [
            (
                "\noffer-for-sale = { $pirce }\n",
                "unreadable-message:2: `offer-for-sale` tells no `$pirce` [leave the braces out: it tells nothing]",
            ),
            ("page-of = { $pge }", "unreadable-message:1: `page-of` tells no `$pge` [write `{ $page }`]"),
            (
                "offer-for-sale = { $price",
                "unreadable-message:1: what stands in the braces of `offer-for-sale` is not read [write values as `{ $name }`]",
            ),
            (
                "Available",
                "unreadable-message:1: this is no message [write `name = text`, and begin every further line of the text with a space]",
            ),
            (
                "offer-for-sail = Available",
                "unknown-message:1: no paper or page says a message `offer-for-sail` [write `offer-for-sale`]",
            ),
            (
                "offer-for-sale = { offer-soldd }",
                "unreadable-message:1: `offer-for-sale` asks for a message `offer-soldd`, and there is none [write `{ offer-sold }`]",
            ),
            (
                "offer-for-sale = { offer-for-sale }",
                "unreadable-message:1: `offer-for-sale` would stand in itself [write the words themselves there]",
            ),
            (
                "offer-for-sale = { NUMBER(1) }",
                "unreadable-message:1: `offer-for-sale` asks for `NUMBER()`, and no message can [write the words themselves there]",
            ),
            (
                "offer-sold = A\noffer-sold = B",
                "message-said-twice:2: `offer-sold` stands in this file before [keep one of the two]",
            ),
            (
                "finish--shelac = Lac",
                "unknown-message:1: the tables of the trade have no text `finish--shelac` [write `finish--shellac`]",
            ),
        ] {
            let (languages, told) = languages("", &[(OWN, own)]);
            assert_eq!(told, [wanted], "{own}");
            assert_eq!(says(&languages, "offer-for-sale"), "For sale", "{own}");
        }
    }

    #[test]
    fn anything_in_a_file_of_words_is_read_or_told_and_never_breaks_off() {
        for text in [
            "",
            "\u{feff}",
            "=",
            "a =",
            "a = {",
            "}",
            "-t = x",
            "### only a remark",
            "offer-sold = 🪑\n  كرسي",
            "a\u{0} = b",
        ] {
            let (languages, _) = languages("", &[(OWN, text)]);
            assert!(!says(&languages, "offer-sold").is_empty(), "{text}");
        }
        let (_, told) = languages("", &[("words/ours.of.course.ftl", "a = b")]);
        assert_eq!(told.len(), 1, "{told:?}");
    }

    #[test]
    fn a_language_is_chosen_by_its_tag_or_its_name() {
        for named in ["en-US", "EN-us", "American English", "american"] {
            let (languages, told) = languages(&format!("language = \"{named}\"\n"), &[]);
            assert_eq!((told.len(), languages.workshop().tag()), (0, "en-US"), "{named}: {told:?}");
        }
        let (none, told) = languages("language = \"fr\"\n", &[]);
        assert_eq!(none.workshop().tag(), "en-GB");
        assert_eq!(
            told,
            [
                "unknown-language:2: there is no language `fr` here [write one of \"en-GB\", \"en-US\", or bring it as \
              `words/<language>.ftl`]"
            ]
        );
    }

    #[test]
    fn a_workshop_brings_a_language_of_its_own() {
        let german = "offer-for-sale = Zu verkaufen\nday-form = { $day }. { $month } { $year }\nmonth-4 = April\ndecimal-mark = ,\n\
                      list-pair = { \" und \" }\n";
        let (languages, told) = languages("language = \"de\"\n", &[("words/de.ftl", german)]);
        assert_eq!(told, [""; 0]);
        assert_eq!(languages.workshop().tag(), "de");
        assert_eq!(says(&languages, "offer-for-sale"), "Zu verkaufen");
        assert_eq!(says(&languages, "offer-sold"), "Sold", "what it does not say is said in English");
        let workshop = Tree::of([("workshop.toml", "name = \"B\"\nunits = \"mm\"\n")]);
        let (folder, _) = record::read(&workshop);
        let words = Words::of(languages.workshop().clone(), folder.workshop.as_ref().expect("it reads"));
        assert_eq!(words.day("2026-04-20".parse().expect("a day")), "20. April 2026");
        assert_eq!(words.number(-1.5, 1), "−1,5");
        let price = crate::unit::Money(rust_decimal::Decimal::from(1250));
        assert_eq!(words.price(price), "1250", "a comma before three figures would be a decimal mark");
        assert_eq!(words.list(&["Blatt", "Bein"]), "Blatt und Bein");
    }

    #[test]
    fn american_english_has_its_own_days_units_and_paper() {
        let tree = Tree::of([("workshop.toml", "name = \"B\"\nlanguage = \"en-US\"\ncurrency = \"USD\"\n")]);
        let (folder, _) = record::read(&tree);
        let (languages, _) = Languages::of(&tree, &folder);
        let words = Words::of(languages.workshop().clone(), folder.workshop.as_ref().expect("it reads"));
        assert_eq!(words.day("2026-04-20".parse().expect("a day")), "April 20, 2026");
        assert_eq!(words.temperature(20.0), "68 °F");
        assert_eq!(words.list(&["top", "leaf", "gate"]), "top, leaf, and gate");
        assert_eq!(words.price(crate::unit::Money(rust_decimal::Decimal::from(240))), "$240");
        assert_eq!(words.language().text("default-paper"), "letter");
        let (trade, _) = languages.workshop().trade(&tree);
        let castor = trade.fixing("castor").expect("it is there");
        assert_eq!(&**castor.label, "caster of unknown kind");
    }

    #[test]
    fn a_buyer_reads_another_language_than_the_workshop() {
        let record =
            "title = \"T\"\nnumber = \"1\"\nkind = \"table\"\nhandover = { language = \"american\" }\n";
        let (languages, told) = languages("", &[("pieces/a/record.toml", record)]);
        assert_eq!(told, [""; 0]);
        let tags: Vec<&str> = languages.all().map(|language| language.tag()).collect();
        assert_eq!(tags, ["en-GB", "en-US"]);
    }

    /// What each built-in language lays over British English is there to be laid over.
    #[test]
    fn built_in_languages_say_only_what_british_english_says() {
        let british = BUILT_IN.get_dir(BRITISH_ENGLISH).map(built_in).expect("it is built in");
        let texts = Trade::printed_texts();
        for folder in BUILT_IN.dirs() {
            let layer = built_in(folder);
            for name in layer.names() {
                let said = layer.get(name).expect("it is listed").takes();
                match british.get(name) {
                    Some(below) => assert!(said.values.is_subset(&below.takes().values), "{name}"),
                    None => {
                        let of_table = texts.iter().any(|(text, _)| text.split('.').next() == Some(name));
                        assert!(
                            of_table || name.starts_with("money-"),
                            "{name} of {}",
                            folder.path().display()
                        );
                    }
                }
            }
        }
    }
}
