//! What every page has.

use serde::Serialize;

/// The workshop as every page shows it.
#[derive(Debug, Clone, Default, Serialize)]
pub struct WorkshopView {
    /// Its name.
    pub name: String,
    /// Town or region; may be empty.
    pub place: String,
    /// How it is reached; may be empty.
    pub contact: String,
    /// A sentence or two; may be empty.
    pub about: String,
    /// A notice for every page; may be empty.
    pub notice: String,
    /// The public key that its packs are signed with; may be empty.
    pub signing_key: String,
    /// `A4` or `letter`.
    pub paper: String,
}

/// A page: what every page has, and what only this one has.
#[derive(Debug, Clone, Serialize)]
pub struct Page<'a, T> {
    /// The way from the page to the root of its tree: empty, or `../../`.
    pub root: &'a str,
    /// The page's title.
    pub title: String,
    /// The page in a sentence, for the document's head; may be empty.
    pub description: String,
    /// Whether search engines are asked to leave it out.
    pub unlisted: bool,
    /// The tag of its language.
    pub language: &'a str,
    /// The workshop.
    pub workshop: &'a WorkshopView,
    /// What only this page has.
    pub page: &'a T,
}
