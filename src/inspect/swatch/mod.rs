//! Colours that were measured in photographs.

use std::ops::Range;

use crate::derive::Which;
use crate::fields::Said;
use crate::record::Swatch;

rules! {
    mixed_otherwise_before,
    swatch_clipped,
    swatch_grey_not_neutral,
    swatch_grey_too_dark,
    swatch_patches_overlap,
    swatch_surface_missing,
    swatch_too_small,
    swatch_uneven,
    swatch_without_grey,
    swatch_without_recipe,
}

/// Where the record says a patch.
fn which_span(swatch: &Said<Swatch>, which: Which) -> Range<usize> {
    which.of(swatch).map_or_else(|| swatch.span.clone(), |rectangle| rectangle.span.clone())
}
