//! Words that may also say that something is not known, or was not tested.

use std::borrow::Cow;
use std::ops::Deref;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use toml::Spanned;
use toml::de::DeValue;

use super::{NOT_TESTED, UNKNOWN};
use crate::fields::{About, Reader, Text, Value};

/// What somebody answered; it reads as its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Answer {
    /// Declared as not known.
    Unknown,
    /// So.
    Words(Text),
}

impl Answer {
    /// The words, where something is known.
    pub fn known(&self) -> Option<&Text> {
        match self {
            Answer::Unknown => None,
            Answer::Words(text) => Some(text),
        }
    }
}

impl From<Text> for Answer {
    fn from(text: Text) -> Self {
        if text.0 == UNKNOWN { Answer::Unknown } else { Answer::Words(text) }
    }
}

impl Deref for Answer {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Answer::Unknown => UNKNOWN,
            Answer::Words(text) => text,
        }
    }
}

/// What a test showed; it reads as its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TestResult {
    /// The test was not made.
    NotTested,
    /// It was made, and what came out is not known.
    Unknown,
    /// This came out.
    Words(Text),
}

impl TestResult {
    /// Whether the test was made.
    pub fn made(&self) -> bool {
        *self != TestResult::NotTested
    }
}

impl From<Text> for TestResult {
    fn from(text: Text) -> Self {
        match text.0.as_str() {
            NOT_TESTED => TestResult::NotTested,
            UNKNOWN => TestResult::Unknown,
            _ => TestResult::Words(text),
        }
    }
}

impl Deref for TestResult {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            TestResult::NotTested => NOT_TESTED,
            TestResult::Unknown => UNKNOWN,
            TestResult::Words(text) => text,
        }
    }
}

/// Reads a type as text, and tells an editor nothing but that.
macro_rules! read_as_text {
    ($($name:ident),*) => {$(
        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self)
            }
        }

        impl Value for $name {
            const ABOUT: &'static About = Text::ABOUT;

            fn read(value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>) -> Option<Self> {
                Text::read(value, reader).map($name::from)
            }
        }

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                Text::schema_name()
            }

            fn schema_id() -> Cow<'static, str> {
                Text::schema_id()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                Text::json_schema(generator)
            }

            fn inline_schema() -> bool {
                Text::inline_schema()
            }
        }
    )*};
}

pub(super) use read_as_text;

read_as_text!(Answer, TestResult);
