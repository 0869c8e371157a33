//! Which of the words of a table a part or a fixing has.

use super::mention::mentions;
use crate::fields::{Said, Text};
use crate::record::{Construction, Fixing, Part};
use crate::trade::Hazard;

pub(super) fn is_build(part: &Part, builds: &[Construction]) -> bool {
    part.build.as_ref().is_some_and(|build| builds.contains(&build.value))
}

/// Whether a text mentions one of these words.
pub(super) fn says(text: &str, words: &[Said<Text>]) -> bool {
    words.iter().any(|word| mentions(text, word))
}

/// Whether the words of a part mention one of these.
pub(super) fn part_says(part: &Part, words: &[Said<Text>]) -> bool {
    part_texts(part).any(|text| says(text, words))
}

/// Whether a row is about a part of this name; a row without words is about all.
pub(super) fn row_names(row: &Hazard, part: &Part) -> bool {
    row.words.is_empty() || says(&part.name, &row.words)
}

/// Whether a part is of glass, by its build or by what it is made of.
pub(super) fn is_glass(part: &Part) -> bool {
    let made_of = [&part.material, &part.ground].into_iter().flatten().filter_map(|said| said.known());
    let named = |text: &str| ["glass", "mirror"].iter().any(|word| mentions(text, word));
    is_build(part, &[Construction::Glass])
        || made_of.map(|text| &**text).any(named)
        || part.build.is_none() && named(&part.name)
}

pub(super) fn is_board(part: &Part, words: &[Said<Text>]) -> bool {
    let told = [&part.ground, &part.timber].into_iter().flatten().map(|text| &***text);
    let mut told = told.chain([&**part.name]);
    is_build(part, &[Construction::Panel]) || told.any(|text| says(text, words))
}

/// The words of a part that say what it is.
pub(super) fn part_texts(part: &Part) -> impl Iterator<Item = &str> {
    let told = [&part.ground, &part.material, &part.timber, &part.veneer].into_iter().flatten();
    let known = told.filter_map(|said| said.known()).map(|text| &**text);
    std::iter::once(&**part.name).chain(part.note.as_ref().map(|note| &***note)).chain(known)
}

pub(super) fn fixing_texts(fixing: &Fixing) -> impl Iterator<Item = &str> {
    std::iter::once(&fixing.kind).chain(&fixing.note).map(|text| &***text)
}
