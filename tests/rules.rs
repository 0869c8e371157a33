//! The table of diagnostics in DEVELOPERS.md is generated from the rules and must not drift from them.

use std::path::{Path, PathBuf};
use std::{env, fs};

use witnessmark::inspect;

const OPEN: &str = "<!-- diagnostics -->";
const CLOSE: &str = "<!-- /diagnostics -->";

/// With `UPDATE_DOCS=1`, or where the page has no such block yet, the block is written; otherwise it must be equal.
#[test]
fn the_table_of_diagnostics_is_that_of_the_rules() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("DEVELOPERS.md");
    let page = fs::read_to_string(&path).unwrap_or_else(|_| "# For developers\n".to_owned());
    let wanted = format!("{OPEN}\n{}{CLOSE}", inspect::table());
    let updated = match block(&page) {
        Some(found) if found == wanted => return,
        Some(found) => {
            let update = env::var_os("UPDATE_DOCS").is_some_and(|value| value == "1");
            assert!(
                update,
                "DEVELOPERS.md lists other diagnostics than the rules: run the tests with UPDATE_DOCS=1"
            );
            page.replace(found, &wanted)
        }
        None => format!("{}\n\n{wanted}\n", page.trim_end()),
    };
    fs::write(&path, updated).unwrap();
}

/// The block with both of its marks.
fn block(page: &str) -> Option<&str> {
    let start = page.find(OPEN)?;
    let length = page[start..].find(CLOSE)? + CLOSE.len();
    Some(&page[start..start + length])
}

/// The files of a family that are no rules: what its rules share.
const SHARED: [&str; 4] = ["doubt", "mod", "names", "stride"];

#[test]
fn every_rule_is_asked_and_every_file_is_a_rule_or_known() {
    let mut files: Vec<String> = listed(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/inspect"))
        .filter(|family| family.is_dir())
        .flat_map(listed)
        .map(|file| file.file_stem().unwrap().to_string_lossy().into_owned())
        .filter(|file| !SHARED.contains(&file.as_str()))
        .collect();
    files.sort();
    let rules: Vec<String> = inspect::RULES.iter().map(|rule| rule.code.name.replace('-', "_")).collect();
    assert_eq!(files, rules);
}

fn listed(folder: PathBuf) -> impl Iterator<Item = PathBuf> {
    fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path())
}
