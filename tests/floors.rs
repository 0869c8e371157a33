//! The floors of the house: each uses only the floors below it, and no private field is opened above its place.

use std::fs;
use std::path::{Path, PathBuf};

/// The floors, from the ground up. A floor may use those before it in this list.
const FLOORS: [&str; 14] = [
    "unit", "diag", "pack", "source", "fields", "record", "trade", "photo", "derive", "inspect", "view",
    "render", "write", "viewing",
];

/// Above all floors: the journey and the commands.
const ROOF: [&str; 4] = ["journey", "cli", "lib", "main"];

fn sources() -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("src can be listed") {
            let path = entry.expect("src can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).expect("source is text");
                let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
                found.push((path.strip_prefix(src).expect("below src").to_owned(), text));
            }
        }
    }
    found.sort();
    found
}

/// The floor a file of `src` is on: its folder, or its name where it is in none.
fn floor(path: &Path) -> String {
    let first =
        path.components().next().expect("a file has a path").as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// The floors that a source text names, as `crate::floor`, also within `crate::{…}`.
fn uses(text: &str) -> Vec<String> {
    let mut named = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            Some(group) => {
                let end = group.find("};").unwrap_or(group.len());
                named.extend(group[..end].split(',').map(first_word));
            }
            None => named.push(first_word(rest)),
        }
    }
    named
}

fn first_word(text: &str) -> String {
    text.trim_start().chars().take_while(|letter| letter.is_ascii_lowercase() || *letter == '_').collect()
}

#[test]
fn every_module_stands_on_a_floor() {
    for (path, _) in sources() {
        let floor = floor(&path);
        assert!(
            FLOORS.contains(&floor.as_str()) || ROOF.contains(&floor.as_str()),
            "{} is on no floor",
            path.display()
        );
    }
}

#[test]
fn no_floor_uses_one_above_it() {
    let mut upward = Vec::new();
    for (path, text) in sources() {
        let Some(own) = FLOORS.iter().position(|known| *known == floor(&path)) else { continue };
        // What a floor's tests use does not hold the house up.
        let text = text.split("#[cfg(test)]").next().unwrap_or_default();
        for used in uses(text) {
            let place = FLOORS.iter().position(|known| *known == used);
            if place.is_some_and(|place| place > own) || ROOF.contains(&used.as_str()) {
                upward.push(format!("{} uses {used}", path.display()));
            }
        }
        assert!(!text.contains("super::super::"), "{} climbs two modules at once", path.display());
    }
    assert_eq!(upward, Vec::<String>::new());
}

#[test]
fn only_the_archive_opens_private_fields() {
    let may = ["fields", "derive", "inspect"];
    for (path, text) in sources() {
        let text = text.split("#[cfg(test)]").next().unwrap_or_default();
        if text.contains(".for_archive()") {
            let own = floor(&path);
            let archive = path.starts_with("view/tree/archive");
            assert!(may.contains(&own.as_str()) || archive, "{} opens a private field", path.display());
        }
        if text.contains(".for_buyer()") {
            let papers =
                path.starts_with("view/tree/archive") || path == Path::new("view/sheet/disclosure.rs");
            let own = floor(&path);
            assert!(may.contains(&own.as_str()) || papers, "{} opens a personal field", path.display());
        }
    }
}

#[test]
fn only_the_commands_print_and_only_write_writes() {
    for (path, text) in sources() {
        let own = floor(&path);
        let text = text.split("#[cfg(test)]").next().unwrap_or_default();
        if own != "write" {
            for writing in
                ["fs::write", "File::create", "create_dir", "fs::rename", "remove_file", "remove_dir"]
            {
                assert!(!text.contains(writing), "{} writes files: {writing}", path.display());
            }
        }
        if !["source", "write", "cli"].contains(&own.as_str()) {
            assert!(!text.contains("std::fs"), "{} touches the disk", path.display());
        }
    }
}

#[test]
fn the_checks_can_fail() {
    assert_eq!(uses("use crate::{view::Page, diag}; crate::render::x();"), ["view", "diag", "render"]);
    assert_eq!(floor(Path::new("view/mod.rs")), "view");
    assert_eq!(floor(Path::new("lib.rs")), "lib");
}
