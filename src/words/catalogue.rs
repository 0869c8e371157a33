//! The catalogue of messages of a language, and how claims become sentences.

use std::borrow::Cow;
use std::sync::Arc;

use fluent_bundle::{FluentArgs, FluentValue};
use fluent_syntax::ast::Pattern;
use serde::Serialize;

use super::{Language, UnitFormat, day, days, list, month, months, said, sentence, span, trimmed};
use crate::claim::{Claim, Message, Value};
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

/// The words of a workshop: its language and its units.
#[derive(Debug, Clone)]
pub struct Words {
    language: Arc<Language>,
    units: UnitFormat,
}

impl Words {
    /// British English with these units.
    pub(crate) fn of(units: &UnitFormat) -> Words {
        Words { language: Language::british(), units: units.clone() }
    }

    /// Their language.
    pub fn language(&self) -> &Arc<Language> {
        &self.language
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
            Some(Some(pattern)) => self.formed(pattern, message),
            // A message may be its lead alone.
            Some(None) => String::new(),
            None => message.name.clone(),
        }
    }

    /// An attribute of a message; empty where it has none.
    fn attribute(&self, message: &Message, name: &str) -> String {
        let attribute = self.language.attribute(&message.name, name);
        attribute.map_or(String::new(), |attribute| self.formed(attribute, message))
    }

    fn formed(&self, pattern: &Pattern<&str>, message: &Message) -> String {
        let mut arguments = FluentArgs::with_capacity(message.values.len());
        for (name, value) in &message.values {
            arguments.set(*name, self.told(value));
        }
        // A value that is missing is told by its name: no paper fails for it, and a test finds it.
        self.language.formed(pattern, &arguments, &mut Vec::new())
    }

    /// A value as the catalogue takes it: numbers as numbers, since they decide the plural.
    fn told(&self, value: &Value) -> FluentValue<'static> {
        match value {
            Value::Count(count) => FluentValue::from(*count),
            Value::Number(number, decimals) => FluentValue::from(trimmed(*number, *decimals)),
            other => FluentValue::String(Cow::Owned(self.text(other))),
        }
    }

    /// A value in words.
    fn text(&self, value: &Value) -> String {
        let units = &self.units;
        match value {
            Value::Count(count) => count.to_string(),
            // Its own full stop would stand within a sentence.
            Value::Text(text) => {
                let text = said(text.trim());
                text.strip_suffix('.').filter(|rest| !rest.ends_with('.')).unwrap_or(&text).to_owned()
            }
            Value::Message(message) => self.say(message),
            Value::All(values) => list(&self.texts(values)),
            Value::OneOf(values) => {
                let texts = self.texts(values);
                match texts.as_slice() {
                    [start @ .., last] if !start.is_empty() => format!("{} or {last}", start.join(", ")),
                    _ => texts.concat(),
                }
            }
            Value::Series(values) => self.texts(values).join(", "),
            Value::Sentences(messages) => {
                let sentences = messages.iter().map(|message| sentence(&self.say(message)));
                sentences.collect::<Vec<_>>().join(" ")
            }
            Value::Day(date) => day(*date),
            Value::Days(first, last) => days(*first, *last),
            Value::Month(date) => month(*date),
            Value::Years(years) => years.words(),
            Value::Lengths(lengths) => units.lengths(lengths),
            Value::Millimetres(least, most) => units.small(*least, *most),
            Value::Mass(mass) => units.mass(*mass),
            Value::Load(load) => units.load(*load).unwrap_or_default(),
            Value::Area(area) => units.about_cm2(*area),
            Value::Money(money) => units.money(*money),
            Value::Number(number, decimals) => trimmed(*number, *decimals),
            Value::Months(range) => months(range),
            Value::Span(range) => span(range, "", "").trim().to_owned(),
        }
    }

    fn texts(&self, values: &[Value]) -> Vec<String> {
        values.iter().map(|value| self.text(value)).collect()
    }

    /// A message as it stands in a list with others: its short form, or else the whole of it.
    pub fn short(&self, message: &Message) -> String {
        let short = self.attribute(message, "short");
        if short.is_empty() { self.say(message) } else { short }
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
        let words = Words::of(&UnitFormat::with_currency("GBP"));
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
        let words = Words::of(&UnitFormat::with_currency("GBP"));
        let say =
            |message: Message| words.sentence(&Claim::new(message, Basis::table("finish", "x"))).whole();
        assert_eq!(
            say(says!("undone-left", what = "a dent.", why = Message::word("why", "not-worth"))),
            "A dent. It would have cost more than it gives."
        );
        assert_eq!(words.say(&says!("no-such-message")), "no-such-message");
    }
}
