//! Circles: files that need each other, so that none can be read before the others.

use std::collections::{BTreeMap, BTreeSet};

use super::House;

/// The circles among the files of a floor, each sorted.
///
/// A name that is only handed on counts for the file that it comes from, and `pub use` for nobody. So a `mod.rs` that
/// only declares and hands on is in no circle, whatever it brings in for the files below it.
pub(super) fn circles(house: &House, floor: &str) -> Vec<Vec<String>> {
    let uses = uses(house, floor);
    let reach: BTreeMap<&str, BTreeSet<&str>> = uses.keys().map(|file| (*file, reach(&uses, file))).collect();
    let circle = |file: &&str| -> Vec<String> {
        let others = reach[file].iter().filter(|other| reach[*other].contains(file));
        others.map(|other| (*other).to_owned()).collect()
    };
    let found: BTreeSet<Vec<String>> = uses.keys().map(circle).filter(|circle| circle.len() > 1).collect();
    found.into_iter().collect()
}

/// A circle in words: what each of its files uses of the others.
pub(super) fn told(house: &House, circle: &[String]) -> Vec<String> {
    let uses = circle.first().map(|file| uses(house, super::floor(file))).unwrap_or_default();
    let told = |file: &String| {
        let others = uses[file.as_str()].iter().filter(|other| circle.iter().any(|file| file == *other));
        format!("{file} uses {}", others.copied().collect::<Vec<_>>().join(", "))
    };
    circle.iter().map(told).collect()
}

/// What each file of a floor uses of the others.
fn uses<'h>(house: &'h House, floor: &str) -> BTreeMap<&'h str, BTreeSet<&'h str>> {
    let files: BTreeSet<&str> = house.files().filter(|file| super::floor(file) == floor).collect();
    let mut uses = BTreeMap::new();
    for file in &files {
        let is_index = file.ends_with("/mod.rs") && !house.has_code(file);
        let mentions = house.mentions(file).into_iter().filter(|mention| !is_index && !mention.handed_on);
        let mut others: BTreeSet<&str> =
            mentions.filter_map(|mention| files.get(mention.file?.as_str()).copied()).collect();
        others.remove(file);
        uses.insert(*file, others);
    }
    uses
}

/// All files that one leads to.
fn reach<'h>(uses: &BTreeMap<&'h str, BTreeSet<&'h str>>, file: &str) -> BTreeSet<&'h str> {
    let mut found = BTreeSet::new();
    let mut next: Vec<&str> = uses[file].iter().copied().collect();
    while let Some(file) = next.pop() {
        if found.insert(file) {
            next.extend(&uses[file]);
        }
    }
    found
}
