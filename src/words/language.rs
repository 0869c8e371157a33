//! A language: its messages, read once, and what each says of given values.

use std::collections::BTreeMap;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentError, FluentResource};
use fluent_syntax::ast::{Entry, Pattern};
use intl_pluralrules::{PluralCategory, PluralRuleType, PluralRules};
use sha2::{Digest, Sha256};
use unic_langid::{LanguageIdentifier, langid};

use crate::diag::Diagnostic;
use crate::source::Tree;
use crate::trade::{Texts, Trade};

/// Names of messages that are texts of the trade's tables have this between the list and the row's id.
pub(super) const OF_A_TABLE: &str = "--";

/// A language that papers can be written in.
pub struct Language {
    tag: String,
    bundle: FluentBundle<FluentResource>,
    names: Vec<String>,
    marks: Marks,
    digest: [u8; 32],
}

/// The signs that numbers and lists are written with.
#[derive(Debug, Default)]
pub(super) struct Marks {
    pub(super) decimal: String,
    pub(super) thousands: String,
    pub(super) minus: String,
    pub(super) between: String,
    pub(super) pair: String,
    pub(super) and: String,
    pub(super) and_apart: String,
    pub(super) or_pair: String,
    pub(super) or: String,
    /// Words of a table's name that keep their capital within a sentence; `None` where all do.
    pub(super) kept: Option<Vec<String>>,
}

/// Why a message could not be said.
#[derive(Debug, thiserror::Error, PartialEq, Eq)]
pub enum Unsaid {
    /// There is no message of this name.
    #[error("no message is called `{0}`")]
    Unknown(String),
    /// It tells a value that was not given.
    #[error("the message `{0}` tells a value that it was not given")]
    Lacking(String),
}

impl Language {
    /// A language by its tag, from texts in which each message stands once; what is wrong in one is left out.
    pub(super) fn of(tag: &str, texts: Vec<String>) -> Language {
        let known = tag.parse::<LanguageIdentifier>().unwrap_or_else(|_| langid!("en-GB"));
        let mut bundle = FluentBundle::new_concurrent(vec![known]);
        // Texts of a record are cleared of characters that turn its direction before they come here.
        bundle.set_use_isolating(false);
        let (mut names, mut digest) = (Vec::new(), Sha256::new());
        digest.update(tag);
        for text in texts {
            digest.update([0]);
            digest.update(&text);
            let resource = FluentResource::try_new(text).unwrap_or_else(|(resource, _)| resource);
            names.extend(resource.entries().filter_map(|entry| match entry {
                Entry::Message(message) => Some(message.id.name.to_owned()),
                _ => None,
            }));
            let _ = bundle.add_resource(resource);
        }
        let mut language = Language {
            tag: tag.to_owned(),
            bundle,
            names,
            marks: Marks::default(),
            digest: digest.finalize().into(),
        };
        language.marks = Marks {
            decimal: language.text("decimal-mark"),
            thousands: language.text("thousands-mark"),
            minus: language.text("minus-sign"),
            between: language.text("list-between"),
            pair: language.text("list-pair"),
            and: language.text("list-and"),
            and_apart: language.text("list-and-apart"),
            or_pair: language.text("list-or-pair"),
            or: language.text("list-or"),
            kept: (language.text("names-within") == "small")
                .then(|| language.text("names-kept").split(',').map(|name| name.trim().to_owned()).collect()),
        };
        language
    }

    /// Its tag (BCP 47), such as `en-GB`.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// The tables of the trade in this language, with the workshop's own rows laid over them, and what is wrong with those.
    pub fn trade(&self, tree: &Tree) -> (Trade, Vec<Diagnostic>) {
        let own = self.names.iter().any(|name| name.contains(OF_A_TABLE));
        let text = |name: &str| self.say(name, &FluentArgs::new()).ok();
        Trade::with(tree, own.then_some(&text as Texts<'_>))
    }

    /// What tells its messages from any others.
    pub fn digest(&self) -> &[u8] {
        &self.digest
    }

    pub(super) fn marks(&self) -> &Marks {
        &self.marks
    }

    /// What a message says, or one of its attributes as `name.attribute`.
    ///
    /// # Errors
    /// [`Unsaid`] where there is none such, or it tells more than it is given.
    pub fn say(&self, name: &str, arguments: &FluentArgs<'_>) -> Result<String, Unsaid> {
        let pattern = self.pattern(name).ok_or_else(|| Unsaid::Unknown(name.to_owned()))?;
        let mut faults = Vec::new();
        let said = self.formed(pattern, arguments, &mut faults);
        if faults.is_empty() { Ok(said) } else { Err(Unsaid::Lacking(name.to_owned())) }
    }

    /// What a message says that tells no value; its name where there is none such.
    pub(crate) fn text(&self, name: &str) -> String {
        self.say(name, &FluentArgs::new()).unwrap_or_else(|_| name.to_owned())
    }

    /// The text of a message, or of one of its attributes as `name.attribute`.
    pub fn pattern(&self, name: &str) -> Option<&Pattern<&str>> {
        match name.split_once('.') {
            Some((name, attribute)) => self.attribute(name, attribute),
            None => self.bundle.get_message(name)?.value(),
        }
    }

    /// An attribute of a message.
    pub(super) fn attribute(&self, name: &str, attribute: &str) -> Option<&Pattern<&str>> {
        Some(self.bundle.get_message(name)?.get_attribute(attribute)?.value())
    }

    /// The text of a message: `None` where there is no such message, and nothing within where it says all in attributes.
    pub(super) fn message(&self, name: &str) -> Option<Option<&Pattern<&str>>> {
        Some(self.bundle.get_message(name)?.value())
    }

    pub(super) fn formed(
        &self,
        pattern: &Pattern<&str>,
        arguments: &FluentArgs<'_>,
        faults: &mut Vec<FluentError>,
    ) -> String {
        self.bundle.format_pattern(pattern, Some(arguments), faults).into_owned()
    }

    /// Every text of the language by its name, where those of attributes are `name.attribute`.
    pub fn patterns(&self) -> BTreeMap<String, &Pattern<&str>> {
        let mut patterns = BTreeMap::new();
        for name in &self.names {
            let Some(message) = self.bundle.get_message(name) else { continue };
            patterns.extend(message.value().map(|pattern| (name.clone(), pattern)));
            let attributes = message.attributes();
            patterns.extend(attributes.map(|of| (format!("{name}.{}", of.id()), of.value())));
        }
        patterns
    }

    /// What kind of number each of these is to the plurals of the language.
    pub fn plurals(&self, numbers: impl Iterator<Item = u64>) -> Vec<&'static str> {
        // Rules are kept by language, and by region only where a region has rules of its own.
        let with_region = self.bundle.locales[0].clone();
        let bare = LanguageIdentifier::from_parts(with_region.language, None, None, &[]);
        let rules = PluralRules::create(with_region, PluralRuleType::CARDINAL)
            .or_else(|_| PluralRules::create(bare, PluralRuleType::CARDINAL));
        let category = |number: u64| match rules.as_ref().map(|rules| rules.select(number)) {
            Ok(Ok(PluralCategory::ZERO)) => "zero",
            Ok(Ok(PluralCategory::ONE)) => "one",
            Ok(Ok(PluralCategory::TWO)) => "two",
            Ok(Ok(PluralCategory::FEW)) => "few",
            Ok(Ok(PluralCategory::MANY)) => "many",
            _ => "other",
        };
        numbers.map(category).collect()
    }
}

impl std::fmt::Debug for Language {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(to, "Language({})", self.tag)
    }
}
