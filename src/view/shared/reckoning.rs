//! Why a figure is what it is.

use serde::Serialize;

use crate::claim::Message;
use crate::words::Words;

/// One figure, how it was reckoned, and what that rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Reckoning {
    /// The figure, as printed.
    pub figure: String,
    /// How it was reckoned, with its inputs.
    pub how: String,
    /// Title, edition and table; or that it is our own reckoning or common practice.
    pub source: String,
}

/// Sources in a line, each once.
pub(crate) fn cited(words: &Words, sources: impl IntoIterator<Item = Message>) -> String {
    let mut cited: Vec<String> = Vec::new();
    for source in sources.into_iter().map(|source| words.say(&source)) {
        if !cited.contains(&source) {
            cited.push(source);
        }
    }
    cited.join("; ")
}
