//! A word for part of a list, and its meaning.

use serde::Serialize;

/// A word for part of a list, and its meaning.
#[derive(Debug, Clone, Serialize)]
pub struct Fact {
    /// What is told.
    pub label: String,
    /// What is told of it.
    pub text: String,
}
