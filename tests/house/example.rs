//! The example project as a whole: it is sound, it shows what it promises, and it writes the same bytes every time.

use std::sync::LazyLock;

use witnessmark::diag::Rank;
use witnessmark::record::PhotoStage;
use witnessmark::source::Tree;
use witnessmark::words::{Language, Words};
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
    let public: Vec<String> = EXAMPLE
        .files
        .keys()
        .filter(|path| path.starts_with("showroom/pieces/") && path.ends_with("index.html"))
        .map(|path| EXAMPLE.page(path).to_lowercase())
        .collect();
    let shown = |words: &str| public.iter().any(|page| page.contains(words));
    for words in [
        "failed",
        "left as it is",
        "not known",
        "made from the workshop",
        "not tested",
        "taken off again",
        "reserved",
        "sold",
    ] {
        assert!(shown(words), "{words}");
    }
    let records = || EXAMPLE.survey.pieces.iter().map(|piece| &piece.record);
    let stocks = records().flat_map(|record| record.parts.iter().filter_map(|part| part.from_stock.as_ref()));
    let stocks: Vec<&str> = stocks.map(|stock| stock.0.as_str()).collect();
    assert!(stocks.iter().any(|one| stocks.iter().filter(|other| *other == one).count() > 1), "{stocks:?}");
    assert!(records().any(|record| record.decisions.iter().any(|decision| decision.options.len() >= 4)));
    assert!(
        records().any(|record| !record.patches.is_empty()) && records().any(|record| record.rest.is_some())
    );
    let buyers = EXAMPLE.files.keys().filter(|path| path.ends_with("disclosure.html")).count();
    assert_eq!(buyers, 4);
    assert!(
        !EXAMPLE.page("showroom/index.html").contains("buyers/"),
        "the showroom never leads to the buyers' papers"
    );
}

#[test]
fn its_pictures_agree_with_its_records_where_that_can_be_compared() {
    for workpiece in &EXAMPLE.survey.pieces {
        let (folder, record) = (&workpiece.piece.folder, &workpiece.record);
        let leads = workpiece.photographs.all.iter().filter(|facts| !facts.outlines.is_empty());
        assert!(leads.clone().count() > 0, "{folder}: parts are outlined on a photograph");
        for facts in leads {
            for mark in &facts.outlines {
                let id = mark.part.as_ref().expect("an outline names its part");
                let part = record.parts.iter().find(|part| part.id.value == id.value);
                assert!(part.is_some_and(|part| part.present()), "{folder}: `{}` is outlined", id.0);
            }
        }
        let worked: Vec<_> =
            record.works.iter().filter_map(|work| work.on.as_ref()).map(|on| on.value).collect();
        let (first, last) =
            (worked.iter().min().expect("dated work"), worked.iter().max().expect("dated work"));
        for facts in &workpiece.photographs.all {
            let checked =
                facts.checked().unwrap_or_else(|| panic!("{folder}: {} opens", facts.photograph.file));
            let taken = checked.header.taken.expect("a rendering carries its day").date();
            match facts.photograph.stage {
                Some(PhotoStage::Before) => assert!(taken <= *first, "{folder}: {}", facts.photograph.file),
                Some(PhotoStage::After) => assert!(taken >= *last, "{folder}: {}", facts.photograph.file),
                Some(PhotoStage::Hidden) => assert!(taken >= *first, "{folder}: {}", facts.photograph.file),
                _ => assert!(taken >= *first && taken <= *last, "{folder}: {}", facts.photograph.file),
            }
        }
    }
    let photographs: usize = EXAMPLE.survey.pieces.iter().map(|piece| piece.photographs.all.len()).sum();
    assert!(photographs >= 24, "{photographs}");
}

#[test]
fn what_was_sealed_and_amended_says_so_on_its_papers() {
    let Writing { survey, files, .. } = &*EXAMPLE;
    let sealed = survey.pieces.iter().filter(|workpiece| !workpiece.piece.seals.is_empty());
    let sealed: Vec<_> = sealed.collect();
    assert!(!sealed.is_empty(), "a piece is sealed");
    for workpiece in sealed {
        // Where this fails after the record or the story was changed, seal it anew: in a copy as it was before its
        // `[[amendment]]`, without its seal, with `SOURCE_DATE_EPOCH` set to the day of handover.
        let (piece, facts, record) = (&workpiece.piece, &workpiece.facts, &workpiece.record);
        assert_eq!(
            facts.amendments.len(),
            record.amendments.len(),
            "each change is explained: {:#?}",
            facts.amendments
        );
        assert!(!record.amendments.is_empty());
        assert!(record.amendments.iter().all(|amended| amended.on.value > piece.seals[0].on));
        assert_eq!(Some(piece.seals[0].on), piece.handed_over(), "it was sealed on the day it left");
        let workshop = EXAMPLE.survey.folder.workshop.as_ref().expect("it reads");
        let told = Words::of(Language::british(), workshop).say(&facts.amendments[0].message);
        // A sentence begins with a capital.
        let told = told.split(['“', '"']).next().and_then(|told| told.get(1..)).expect("a beginning");
        let number = record.number.to_lowercase();
        // What a post is made from is no paper of the piece.
        let papers = files.iter().filter(|(path, _)| {
            path.contains(&format!("/{number}")) && path.ends_with(".html") && !path.ends_with("post.html")
        });
        let papers: Vec<(&String, String)> = papers
            .map(|(path, page)| (path, String::from_utf8(page.clone()).expect("a page is text")))
            .collect();
        assert!(papers.len() >= 6, "{}", papers.len());
        let short = piece.seals[0].short();
        for (path, page) in papers {
            assert!(page.contains(told.trim()), "{path}: {told}");
            assert_eq!(page.contains(&short), !path.starts_with("showroom"), "{path}");
        }
    }
}

#[test]
fn it_stays_small() {
    let bytes: usize = example().values().map(Vec::len).sum();
    assert!(bytes < 15_000_000, "{bytes} bytes");
}
