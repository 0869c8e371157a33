//! The example project as a whole: it is sound, it shows what it promises, and it writes the same bytes every time.

use std::sync::LazyLock;

use witnessmark::diag::Rank;
use witnessmark::source::Tree;
use witnessmark::write::Secret;

use crate::fixture::{Workshop, Writing, example, writeup};

/// Writes a copy of the example with so many threads, so that its photographs are developed here and not taken from the
/// darkroom of an earlier run.
fn written(threads: usize) -> Writing {
    let copy = tempfile::tempdir().expect("a folder for the test");
    Workshop::example().lay(copy.path());
    let tree = Tree::open(copy.path()).expect("the example is a workshop");
    let secret = Secret::of(copy.path()).expect("the example has a secret");
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
    pool.install(|| writeup(&tree, &secret))
}

/// The example written once, for the tests that only read it.
static EXAMPLE: LazyLock<Writing> = LazyLock::new(|| written(2));

#[test]
fn it_has_no_errors_and_no_warnings() {
    let Writing { survey, written, .. } = &*EXAMPLE;
    let grave: Vec<String> = survey
        .diagnostics
        .iter()
        .filter(|found| found.rank() != Rank::Hint)
        .map(|found| format!("{}: {} ({})", found.code.name, found.message, found.place.path))
        .collect();
    assert_eq!(grave, Vec::<String>::new());
    assert_eq!(written.pieces.len(), 4);
    assert!(written.developed >= 20 && written.taken == 0);
    assert_eq!(written.left_out, []);
}

#[test]
fn the_same_input_gives_the_same_bytes_on_any_number_of_threads() {
    let two = &EXAMPLE.files;
    let one = written(1).files;
    assert_eq!(one.keys().collect::<Vec<_>>(), two.keys().collect::<Vec<_>>());
    for (path, bytes) in &one {
        assert!(bytes == &two[path], "{path} differs");
    }
}

#[test]
fn it_shows_rework_failure_unknowns_things_left_and_stock_used_twice() {
    let table = EXAMPLE.page("showroom/pieces/tl-007/index.html");
    for shown in ["failed", "Left unmended", "not known", "From stock", "not tested", "taken off again"] {
        assert!(table.to_lowercase().contains(&shown.to_lowercase()), "{shown}");
    }
    let archive = EXAMPLE.page("archive/index.html");
    assert!(archive.matches("pieces/tl-007/index.html").count() >= 2, "the table's row and its stock");
    let buyers: Vec<&String> =
        EXAMPLE.files.keys().filter(|path| path.ends_with("disclosure.html")).collect();
    assert_eq!(buyers.len(), 4);
    assert!(
        !EXAMPLE.page("showroom/index.html").contains("buyers/"),
        "the showroom never leads to the buyers' papers"
    );
}

#[test]
fn the_chest_was_sealed_and_amended_and_its_papers_say_so() {
    let Writing { survey, files, .. } = &*EXAMPLE;
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
    let bytes: usize = example().values().map(Vec::len).sum();
    assert!(bytes < 15_000_000, "{bytes} bytes");
}
