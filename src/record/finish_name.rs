//! What a record calls the finishes that it found, took off and laid on.

use std::borrow::Cow;
use std::ops::Deref;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use toml::Spanned;
use toml::de::DeValue;

use super::answer::read_as_text;
use super::{TinId, UNKNOWN};
use crate::fields::{About, Reader, Text, Value};

/// What a finish out of one of the workshop's tins is written with.
const TIN: &str = "tin:";

/// An old finish of which nothing more is said.
const OLD_FINISH: &str = "old-finish";

/// Everything down to the wood.
const ALL: &str = "all";

/// A finish, as it was written; it reads as its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FinishName {
    /// Out of one of the workshop's tins.
    Tin {
        /// The tin.
        id: TinId,
        /// The word as it was written.
        written: Text,
    },
    /// An old one of which nothing more is said.
    Old,
    /// Declared as not known.
    Unknown,
    /// A family of the trade, or words that are none.
    Family(Text),
}

impl FinishName {
    /// The tin, where it comes out of one.
    pub fn tin(&self) -> Option<&TinId> {
        match self {
            FinishName::Tin { id, .. } => Some(id),
            _ => None,
        }
    }
}

impl From<Text> for FinishName {
    fn from(text: Text) -> Self {
        match (text.0.strip_prefix(TIN), text.0.as_str()) {
            (Some(id), _) => FinishName::Tin { id: TinId(id.to_owned()), written: text },
            (None, OLD_FINISH) => FinishName::Old,
            (None, UNKNOWN) => FinishName::Unknown,
            (None, _) => FinishName::Family(text),
        }
    }
}

impl Deref for FinishName {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            FinishName::Tin { written, .. } => written,
            FinishName::Old => OLD_FINISH,
            FinishName::Unknown => UNKNOWN,
            FinishName::Family(text) => text,
        }
    }
}

/// What a step took off; it reads as its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Removal {
    /// Everything down to the wood.
    All,
    /// A layer, with all that lay on it.
    Layer(FinishName),
}

impl Removal {
    /// The layer that it names.
    pub fn layer(&self) -> Option<&FinishName> {
        match self {
            Removal::All => None,
            Removal::Layer(name) => Some(name),
        }
    }
}

impl From<Text> for Removal {
    fn from(text: Text) -> Self {
        if text.0 == ALL { Removal::All } else { Removal::Layer(text.into()) }
    }
}

impl Deref for Removal {
    type Target = str;

    fn deref(&self) -> &str {
        match self {
            Removal::All => ALL,
            Removal::Layer(name) => name,
        }
    }
}

read_as_text!(FinishName, Removal);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_reads_as_it_was_written() {
        for written in ["tin:satin", "tin:", "old-finish", "unknown", "shellac", "all", "tin: satin"] {
            assert_eq!(&*FinishName::from(Text(written.to_owned())), written);
            assert_eq!(&*Removal::from(Text(written.to_owned())), written);
        }
    }

    #[test]
    fn all_is_a_removal_and_no_finish() {
        assert_eq!(Removal::from(Text("all".to_owned())), Removal::All);
        assert_eq!(FinishName::from(Text("all".to_owned())), FinishName::Family(Text("all".to_owned())));
        let old = Removal::from(Text("old-finish".to_owned()));
        assert_eq!(old, Removal::Layer(FinishName::Old));
    }
}
