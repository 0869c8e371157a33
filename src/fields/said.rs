//! A value as somebody wrote it: with its place, and with who may read it.

use std::ops::{Deref, Range};

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

/// A field for the workshop's own archive alone.
///
/// Views for the showroom and the buyer never open one; a test holds them to it.
#[derive(Debug, Clone, PartialEq)]
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
