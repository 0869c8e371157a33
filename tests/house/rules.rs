//! The table of diagnostics in DEVELOPERS.md is generated from the rules and must not drift from them.

use std::{env, fs};

use witnessmark::inspect;

use crate::fixture::{below, project};

const OPEN: &str = "<!-- diagnostics -->";
const CLOSE: &str = "<!-- /diagnostics -->";

/// With `UPDATE_DOCS=1`, or where the page has no such block yet, the block is written; otherwise it must be equal.
#[test]
fn the_table_of_diagnostics_is_that_of_the_rules() {
    let path = project("DEVELOPERS.md");
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

#[test]
fn every_file_of_a_rule_is_asked_and_named_after_it() {
    let is_rule = |text: &[u8]| String::from_utf8_lossy(text).contains("static RULE: Rule");
    let files = below(&project("src/inspect")).into_iter().filter(|(_, text)| is_rule(text));
    let name = |path: String| path.rsplit('/').next().map(|file| file.trim_end_matches(".rs").to_owned());
    let mut files: Vec<String> = files.filter_map(|(path, _)| name(path)).collect();
    files.sort();
    let rules: Vec<String> = inspect::RULES.iter().map(|rule| rule.code.name.replace('-', "_")).collect();
    assert_eq!(files, rules);
}
