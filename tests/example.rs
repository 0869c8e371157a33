//! The example project as a whole: it is sound, it shows what it promises, and it writes the same bytes every time.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

use chrono::NaiveDate;
use witnessmark::diag::Severity;
use witnessmark::journey::{self, Printing, Quiet, Survey, Written};
use witnessmark::source::Tree;
use witnessmark::write::{Secret, Stage};

fn project() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project")
}

/// Writes the example with so many threads into a folder that is gone after the test.
fn written(threads: usize) -> (Survey, Written, BTreeMap<String, Vec<u8>>) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let target = folder.path().join("written");
    // A copy, so that its photographs are developed here and not taken from the store of an earlier run.
    let copy = folder.path().join("project");
    for (path, bytes) in own_files() {
        let file = copy.join(path);
        fs::create_dir_all(file.parent().expect("a file lies in a folder")).expect("room for the copy");
        fs::write(file, bytes).expect("room for the copy");
    }
    let tree = Tree::open(&copy).expect("the example is a workshop");
    let secret = Secret::of(&copy).expect("the example has a secret");
    let today = NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day");
    let stage = Stage::open(&target).expect("an empty place");
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
    let (survey, written) = pool
        .install(|| journey::writeup(&tree, today, stage, &secret, None, Printing::All, &Quiet))
        .expect("the example is written");
    (survey, written.expect("its workshop reads"), files(&target))
}

/// The example's own files, without what was made from them.
fn own_files() -> BTreeMap<String, Vec<u8>> {
    let mut found = files(&project());
    found.retain(|path, _| !path.starts_with("written") && !path.starts_with(".store"));
    found
}

fn files(root: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![root.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).expect("the tree can be listed") {
            let path = entry.expect("the tree can be listed").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(root).expect("below the root").display().to_string();
                found.insert(name, fs::read(&path).expect("the file can be read"));
            }
        }
    }
    found
}

/// The example written once, for the tests that only read it.
static EXAMPLE: LazyLock<(Survey, Written, BTreeMap<String, Vec<u8>>)> = LazyLock::new(|| written(2));

#[test]
fn it_has_no_errors_and_no_warnings() {
    let (survey, written, _) = &*EXAMPLE;
    let grave: Vec<String> = survey
        .diagnostics
        .iter()
        .filter(|found| found.severity() != Severity::Advice)
        .map(|found| format!("{}: {} ({})", found.code.name, found.message, found.place.path))
        .collect();
    assert_eq!(grave, Vec::<String>::new());
    assert_eq!(written.pieces.len(), 4);
    assert!(written.developed >= 20 && written.taken == 0);
    assert_eq!(written.left_out, []);
}

#[test]
fn the_same_input_gives_the_same_bytes_on_any_number_of_threads() {
    let (_, _, two) = &*EXAMPLE;
    let (_, _, one) = written(1);
    assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>());
    for (path, bytes) in &one {
        assert!(bytes == &two[path], "{path} differs");
    }
}

#[test]
fn it_shows_rework_failure_unknowns_things_left_and_stock_used_twice() {
    let (_, _, files) = &*EXAMPLE;
    let page = |path: &str| String::from_utf8(files[path].clone()).expect("a page is text");
    let table = page("showroom/pieces/tl-007/index.html");
    for shown in ["failed", "Left unmended", "not known", "Made from stock", "not tested", "taken off again"]
    {
        assert!(table.to_lowercase().contains(&shown.to_lowercase()), "{shown}");
    }
    let archive = page("archive/index.html");
    assert!(archive.matches("pieces/tl-007/index.html").count() >= 2, "the table's row and its stock");
    let buyers: Vec<&String> = files.keys().filter(|path| path.ends_with("disclosure.html")).collect();
    assert_eq!(buyers.len(), 4);
    assert!(
        !page("showroom/index.html").contains("buyers/"),
        "the showroom never leads to the buyers' papers"
    );
}

#[test]
fn the_chest_was_sealed_and_amended_and_its_papers_say_so() {
    let (survey, _, files) = &*EXAMPLE;
    let workpiece = survey.piece("blanket-chest").expect("its record reads");
    let (chest, facts) = (&workpiece.piece, &workpiece.facts);
    assert_eq!(chest.seals.len(), 1, "its seal fits");
    // Where this fails after the chest was changed, seal it anew: in a copy without its `[[amendment]]` and its seal
    // and with the old extent, `SOURCE_DATE_EPOCH=$(date -ud 2026-05-16 +%s) witnessmark handover blanket-chest`.
    let amended: Vec<&str> = facts.amendments.iter().map(|amendment| amendment.words.as_str()).collect();
    assert_eq!(
        amended,
        [
            "Finding “loss”: extent was “150 mm at the right front corner”, is now “190 mm at the right front corner”"
        ]
    );
    let record = chest.record.as_ref().expect("its record reads");
    assert_eq!(record.amendments.len(), amended.len(), "each is explained");
    assert!(record.amendments[0].on.value > chest.seals[0].on);
    assert_eq!(Some(chest.seals[0].on), chest.handed_over(), "it was sealed on the day it left");
    let told = "Finding “loss”: extent was “150 mm at the right front corner”, is now “190 mm";
    let papers = files.iter().filter(|(path, _)| path.contains("/ch-004") && path.ends_with(".html"));
    let papers: Vec<(&String, String)> =
        papers.map(|(path, page)| (path, String::from_utf8(page.clone()).expect("a page is text"))).collect();
    assert!(papers.len() >= 6, "{}", papers.len());
    for (path, page) in papers {
        assert!(page.contains(told), "{path}");
        let short = chest.seals[0].short();
        assert_eq!(page.contains(&short), !path.starts_with("showroom"), "{path}");
    }
}

#[test]
fn it_stays_small() {
    let bytes: usize = own_files().values().map(Vec::len).sum();
    assert!(bytes < 15_000_000, "{bytes} bytes");
}
