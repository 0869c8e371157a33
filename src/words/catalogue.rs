//! The catalogue of messages of a language, and how claims become sentences.

use std::borrow::Cow;
use std::sync::Arc;

use fluent_bundle::{FluentArgs, FluentValue};
use fluent_syntax::ast::Pattern;
use serde::Serialize;

use super::{Language, sentence};
use crate::claim::{Claim, Message, Value};
use crate::record::{Units, Workshop};
use crate::unit::capital;

/// A claim in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sentence {
    /// What it begins with and is found by, without a stop; may be empty.
    pub lead: String,
    /// What it says; may be empty where the lead says all.
    pub text: String,
    /// How much it matters, as a word for a theme.
    pub weight: &'static str,
}

impl Sentence {
    /// What it begins with, or else its first sentence.
    pub fn head(&self) -> String {
        self.parted().0
    }

    /// What it begins with and the rest: its lead, or else its first sentence.
    pub fn parted(&self) -> (String, String) {
        if !self.lead.is_empty() {
            return (sentence(&self.lead), self.text.clone());
        }
        match self.text.split_once(". ") {
            Some((first, rest)) => (format!("{first}."), rest.to_owned()),
            None => (self.text.clone(), String::new()),
        }
    }

    /// The whole of it in one line.
    pub fn whole(&self) -> String {
        let parts = [sentence(&self.lead), self.text.clone()];
        parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    }
}

/// In how many words a message is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Form {
    /// In all of them.
    Whole,
    /// In as few as a cell of a table has room for.
    Cell,
}

/// The words of a workshop's papers: their language, and the workshop's units and money.
#[derive(Debug, Clone)]
pub struct Words {
    language: Arc<Language>,
    units: Units,
    currency: String,
}

impl Words {
    /// A language with the units and the currency of a workshop; where it says none, the units of the language, and no
    /// currency.
    pub fn of(language: Arc<Language>, workshop: &Workshop) -> Words {
        let usual = language.text("default-units");
        let usual = Units::ALL.iter().copied().find(|units| units.word() == usual);
        Words {
            units: workshop.units.as_ref().map(|units| units.value).or(usual).unwrap_or(Units::Millimetres),
            currency: workshop.currency.as_ref().map_or(String::new(), |currency| currency.to_string()),
            language,
        }
    }

    /// British English for messages to the workshop.
    pub(crate) fn for_diagnostics() -> Words {
        Words { language: Language::british(), units: Units::Millimetres, currency: String::new() }
    }

    /// British English with this currency; none where it is empty.
    pub(crate) fn with_currency(currency: &str) -> Words {
        Words { currency: currency.to_owned(), ..Words::for_diagnostics() }
    }

    /// British English with these units, for tests.
    #[cfg(test)]
    pub(crate) fn with_units(units: Units) -> Words {
        Words { units, ..Words::for_diagnostics() }
    }

    /// Their language.
    pub fn language(&self) -> &Arc<Language> {
        &self.language
    }

    pub(super) fn units(&self) -> Units {
        self.units
    }

    pub(super) fn currency(&self) -> &str {
        &self.currency
    }

    /// Whether there is such a message.
    pub(super) fn has(&self, message: &Message) -> bool {
        self.language.message(&message.name).is_some()
    }

    /// A claim as a sentence, or two: each begins with a capital and ends with a stop.
    pub fn sentence(&self, claim: &Claim) -> Sentence {
        let lead = self.attribute(&claim.message, "lead");
        Sentence {
            lead: capital(&lead),
            text: sentence(&self.say(&claim.message)),
            weight: claim.weight.word(),
        }
    }

    /// Several claims as sentences.
    pub fn sentences(&self, claims: &[Claim]) -> Vec<Sentence> {
        claims.iter().map(|claim| self.sentence(claim)).collect()
    }

    /// A message as it stands within a sentence; its name where the catalogue has none such, or it says nothing.
    pub fn say(&self, message: &Message) -> String {
        match self.language.message(&message.name) {
            Some(Some(pattern)) => self.formed(pattern, message, Form::Whole),
            // A message may be its lead alone.
            Some(None) => String::new(),
            None => message.name.clone(),
        }
    }

    /// An attribute of a message; empty where it has none.
    fn attribute(&self, message: &Message, name: &str) -> String {
        self.attribute_of(message, name, Form::Whole).unwrap_or_default()
    }

    /// The same, with what it tells in this form; `None` where it has none.
    fn attribute_of(&self, message: &Message, name: &str, form: Form) -> Option<String> {
        let attribute = self.language.attribute(&message.name, name);
        attribute.map(|attribute| self.formed(attribute, message, form))
    }

    fn formed(&self, pattern: &Pattern<&str>, message: &Message, form: Form) -> String {
        let mut arguments = FluentArgs::with_capacity(message.values.len());
        for (name, value) in &message.values {
            arguments.set(*name, self.told(value, form));
        }
        // A value that is missing is told by its name: no paper fails for it, and a test finds it.
        self.language.formed(pattern, &arguments, &mut Vec::new())
    }

    /// A value as the catalogue takes it: whole numbers as numbers, since they decide the plural.
    fn told(&self, value: &Value, form: Form) -> FluentValue<'static> {
        match value {
            Value::Count(count) => FluentValue::from(*count),
            Value::Number(number, decimals) => {
                let step = libm::pow(10.0, *decimals as f64);
                let rounded = (number * step).round() / step;
                match rounded.fract() == 0.0 && rounded >= 0.0 {
                    true => FluentValue::from(rounded),
                    false => FluentValue::String(Cow::Owned(self.number(*number, *decimals))),
                }
            }
            other => FluentValue::String(Cow::Owned(self.in_words(other, form))),
        }
    }

    /// A value in words.
    pub fn value(&self, value: &Value) -> String {
        self.in_words(value, Form::Whole)
    }

    fn in_words(&self, value: &Value, form: Form) -> String {
        match value {
            Value::Count(count) => count.to_string(),
            // Its own full stop would stand within a sentence.
            Value::Text(text) => {
                let text = self.said(text.trim());
                text.strip_suffix('.').filter(|rest| !rest.ends_with('.')).unwrap_or(&text).to_owned()
            }
            Value::Name(name) => self.within_a_sentence(name),
            Value::Message(message) => self.in_form(message, form),
            Value::Named(message, _) if self.has(message) => self.in_form(message, form),
            Value::Named(_, words) => words.clone(),
            Value::All(values) => self.list(&self.texts(values, form)),
            Value::OneOf(values) => self.one_of(&self.texts(values, form)),
            Value::Series(values) => self.series(&self.texts(values, form)),
            Value::Sentences(messages) => {
                let sentences = messages.iter().map(|message| sentence(&self.in_form(message, form)));
                sentences.filter(|said| !said.is_empty()).collect::<Vec<_>>().join(" ")
            }
            Value::Day(date) => self.day(*date),
            Value::Days(first, last) => self.days(*first, *last),
            Value::Month(date) => self.month(*date),
            Value::Years(years) => self.years(years),
            Value::Lengths(lengths) => self.lengths(lengths),
            Value::ListedLengths(lengths) => self.listed(lengths),
            Value::Millimetres(least, most) => self.small(*least, *most),
            Value::Mass(mass) => self.mass(*mass),
            Value::Load(load) => self.load(*load).unwrap_or_default(),
            Value::Area(area) => self.area(*area),
            Value::Money(money) => self.price(*money),
            Value::Celsius(degrees) => self.temperature(*degrees),
            Value::Number(number, decimals) => self.number(*number, *decimals),
            Value::Months(range) => self.months(range),
            Value::Span(range) => self.span(range, 2),
        }
    }

    fn texts(&self, values: &[Value], form: Form) -> Vec<String> {
        values.iter().map(|value| self.in_words(value, form)).collect()
    }

    fn in_form(&self, message: &Message, form: Form) -> String {
        match form {
            Form::Whole => self.say(message),
            Form::Cell => self.cell(message),
        }
    }

    /// The message for a word of a record or a table: family and word.
    pub fn word(&self, family: &str, word: &str) -> String {
        self.say(&Message::word(family, word))
    }

    /// Several messages, each a sentence of its own.
    pub fn say_all(&self, messages: impl IntoIterator<Item = Message>) -> String {
        self.value(&Value::Sentences(messages.into_iter().collect()))
    }

    /// What a message begins with on a card: its few words for that, or else its lead.
    pub fn cell_lead(&self, message: &Message) -> String {
        let few = self.attribute_of(message, "cell-lead", Form::Cell);
        capital(&few.unwrap_or_else(|| self.attribute(message, "lead")))
    }

    /// A message as it stands in a cell of a table, as everything does that it tells: its few words, or else the whole.
    pub fn cell(&self, message: &Message) -> String {
        self.attribute_of(message, "cell", Form::Cell).unwrap_or_else(|| self.say(message))
    }

    /// A message as it stands in a list with others: its short form, or else the whole of it.
    pub fn short(&self, message: &Message) -> String {
        let short = self.attribute(message, "short");
        if short.is_empty() { self.say(message) } else { short }
    }

    /// A message as a sentence of its own.
    pub fn sentence_of(&self, message: &Message) -> String {
        sentence(&self.say(message))
    }

    /// A message as a heading: with a capital, and without a stop.
    pub fn heading(&self, message: &Message) -> String {
        capital(&self.say(message))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::claim::{Basis, says};
    use crate::record::{
        Confidence, Construction, FindingSeverity, Held, Level, Outcome, Rest, Standing, Why,
    };

    #[test]
    fn every_word_of_a_record_has_its_message() {
        let words = Words::with_currency("GBP");
        let told = |family: &str, word: &str| {
            let message = Message::word(family, word);
            assert_ne!(words.say(&message), message.name);
        };
        Standing::ALL.iter().for_each(|word| told("standing", word.word()));
        Level::ALL.iter().for_each(|word| told("level", word.word()));
        FindingSeverity::ALL.iter().for_each(|word| told("severity", word.word()));
        Confidence::ALL.iter().for_each(|word| told("confidence", word.word()));
        Outcome::ALL.iter().for_each(|word| told("outcome", word.word()));
        Why::ALL.iter().for_each(|word| told("why", word.word()));
        Construction::ALL.iter().for_each(|word| told("build", word.word()));
        Rest::ALL.iter().for_each(|word| told("rest", word.word()));
        Held::ALL.iter().for_each(|word| told("held", word.word()));
    }

    #[test]
    fn numbers_decide_the_plural_and_texts_lose_their_stop_within_a_sentence() {
        let words = Words::with_currency("GBP");
        let say =
            |message: Message| words.sentence(&Claim::new(message, Basis::table("finish", "x"))).whole();
        assert_eq!(
            say(says!("undone-left", what = "a dent.", why = Message::word("why", "not-worth"))),
            "A dent. It would have cost more than it gives."
        );
        assert_eq!(words.say(&says!("no-such-message")), "no-such-message");
    }
}
