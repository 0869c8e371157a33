//! A program that was made without a typesetter prints nothing; its papers are the pages.

use super::darkroom::Album;
use super::{Error, Printing};
use crate::render::{Theme, Whereabouts};
use crate::view::{Household, Source};
use crate::write::{KeptFile, Store};

/// A printed paper, and the path where it belongs; no paper where it waits to be set.
pub(super) type Printed = (String, Option<KeptFile>);

/// Prints nothing.
///
/// # Errors
/// None; they are those of the program with a typesetter.
pub(super) fn print(
    _: &Theme,
    _: &Household,
    _: &[(&Source<'_>, &Whereabouts)],
    _: &Album,
    _: &Store,
    _: Printing<'_>,
) -> Result<Vec<Printed>, Error> {
    Ok(Vec::new())
}
