//! What was changed in a record since it was sealed, in words.

pub(super) mod changes;
mod places;
mod words;
