//! What a piece is made of today.

use crate::derive::timber_name;
use crate::view::context::PieceContext;

/// The timbers of the parts that are there today.
pub(super) fn timbers(context: &PieceContext<'_>) -> Vec<String> {
    let parts = context.record.parts.iter().filter(|part| part.present());
    let seen = parts.filter_map(|part| part.veneer.as_ref().or(part.timber.as_ref()));
    let known = seen.filter(|timber| timber.known().is_some());
    let mut timbers: Vec<String> =
        known.map(|timber| context.house.words().value(&timber_name(timber, context.trade))).collect();
    timbers.sort();
    timbers.dedup();
    timbers
}
