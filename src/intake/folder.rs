//! The folder of a piece: found by name, or named for the first time.

use std::sync::Arc;

use crate::record::Piece;

/// The longest name of a folder, in characters.
const LONGEST: usize = 60;

/// Where the scripts begin that do not read well in Latin letters, Hebrew and Arabic first; emoji lie beyond too.
const FIRST_UNREADABLE: char = '\u{590}';

/// The folder of the piece called `name`, and whether there is one already.
pub(super) fn of(name: &str, pieces: &[Arc<Piece>]) -> (String, bool) {
    let known = |folder: &str| pieces.iter().any(|piece| piece.folder == folder);
    let titled = |piece: &&Arc<Piece>| piece.record.as_ref().is_some_and(|record| **record.title == *name);
    let slug = slug(name);
    if known(name) {
        (name.to_owned(), true)
    } else if let Some(piece) = pieces.iter().find(titled) {
        (piece.folder.clone(), true)
    } else if slug.is_empty() {
        let free = (1..).map(|number| format!("piece-{number}")).find(|folder| !known(folder));
        (free.expect("some number is free"), false)
    } else {
        let there = known(&slug);
        (slug, there)
    }
}

/// A name in small letters, digits and hyphens; empty where nothing of it reads well so.
fn slug(name: &str) -> String {
    let readable: String = name.chars().map(|c| if c < FIRST_UNREADABLE { c } else { ' ' }).collect();
    let slug = slug::slugify(readable);
    match slug.char_indices().nth(LONGEST) {
        None => slug,
        // Cut between words, unless there is but one.
        Some((end, _)) => slug[..end].rsplit_once('-').map_or(&slug[..end], |(words, _)| words).to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record;
    use crate::source::Tree;

    #[track_caller]
    fn case(name: &str, expected: &str, there: bool) {
        let tree = Tree::of([
            ("pieces/oak-chair/record.toml", "title = \"Oak chair\"\nnumber = \"1\"\nkind = \"chair\""),
            ("pieces/piece-1/record.toml", "title = \"🪑\"\nnumber = \"2\"\nkind = \"chair\""),
            ("pieces/My Chest/photos/a.jpg", ""),
        ]);
        assert_eq!(of(name, &record::read(&tree).0.pieces), (expected.to_owned(), there), "{name}");
    }

    #[test]
    fn names_become_folders() {
        case("Oak gateleg table", "oak-gateleg-table", false);
        case("  Grandma's \"best\" chair / no. 2 ", "grandma-s-best-chair-no-2", false);
        case("Küchenstuhl 🪑", "kuchenstuhl", false);
        case("🛋️", "piece-2", false);
        case("כיסא", "piece-2", false);
        case("../../etc", "etc", false);
        let long = "a very long name that somebody typed to say everything at once and more";
        case(long, "a-very-long-name-that-somebody-typed-to-say-everything-at", false);
    }

    #[test]
    fn a_piece_that_is_there_is_found_by_folder_title_or_spelling() {
        case("oak-chair", "oak-chair", true);
        case("Oak Chair!", "oak-chair", true);
        case("🪑", "piece-1", true);
        case("My Chest", "My Chest", true);
    }
}
