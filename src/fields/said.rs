//! A value as somebody wrote it: with its place, and with who may read it.

use std::ops::{Deref, Range};
use std::sync::Arc;

/// A value and the byte range where its file says it.
#[derive(Debug, Clone, PartialEq)]
pub struct Said<T> {
    /// The value.
    pub value: T,
    /// Byte range in the file it was read from.
    pub span: Range<usize>,
}

impl<T> Deref for Said<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// A row of a list, which everything that follows from it carries along instead of counting its place.
///
/// Copies share the row.
#[derive(Debug, PartialEq)]
pub struct Row<T>(Arc<Said<T>>);

impl<T> Row<T> {
    /// A row as somebody wrote it.
    pub fn new(said: Said<T>) -> Self {
        Row(Arc::new(said))
    }

    /// Whether the two are one row, and not only alike.
    pub fn is(&self, other: &Row<T>) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> Clone for Row<T> {
    fn clone(&self) -> Self {
        Row(Arc::clone(&self.0))
    }
}

impl<T> Deref for Row<T> {
    type Target = Said<T>;

    fn deref(&self) -> &Said<T> {
        &self.0
    }
}

/// A field for the workshop's own archive alone.
///
/// Views for the showroom and the buyer never open one; a test holds them to it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Private<T>(T);

impl<T> Private<T> {
    /// Closes a value off from everybody but the archive.
    pub fn new(value: T) -> Self {
        Private(value)
    }

    /// Opens it, for the archive.
    pub fn for_archive(&self) -> &T {
        &self.0
    }
}

/// A field for the buyer of this one piece, and for the archive.
#[derive(Debug, Clone, PartialEq)]
pub struct Personal<T>(T);

impl<T> Personal<T> {
    /// Closes a value off from the public.
    pub fn new(value: T) -> Self {
        Personal(value)
    }

    /// Opens it, for the buyer or the archive.
    pub fn for_buyer(&self) -> &T {
        &self.0
    }
}
