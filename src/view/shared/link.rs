//! A place on the same page.

use serde::Serialize;

/// A place on the same page.
#[derive(Debug, Clone, Serialize)]
pub struct Link {
    /// Its id.
    pub anchor: String,
    /// Its words.
    pub text: String,
}
