//! Figures on papers: never a number that is none, whatever a record says, and each with what it rests on.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDate;
use serde_json::Value;
use witnessmark::diag::{Severity, line_and_column};
use witnessmark::journey::{self, Printing, Quiet, Survey};
use witnessmark::source::Tree;
use witnessmark::view::{HouseStyle, PieceContext, archive, buyer};
use witnessmark::write::{Secret, Stage};

fn today() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 11, 25).expect("a day")
}

fn photograph() -> Vec<u8> {
    let mut bytes = Vec::new();
    let encoder = jpeg_encoder::Encoder::new(&mut bytes, 80);
    encoder
        .encode(&[90_u8; 32 * 24 * 3], 32, 24, jpeg_encoder::ColorType::Rgb)
        .expect("a small picture encodes");
    bytes
}

/// The example project with small pictures in place of its photographs, which say nothing about figures.
fn example() -> BTreeMap<String, Vec<u8>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("example-project");
    let mut files = BTreeMap::new();
    for path in below(&root) {
        let name = path.strip_prefix(&root).expect("below the root").display().to_string();
        let text = name.ends_with(".toml") || name.ends_with(".md");
        if text {
            files.insert(name, fs::read(&path).expect("the file can be read"));
        } else if name.contains("/photos/") {
            files.insert(name, photograph());
        }
    }
    files
}

fn below(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder can be listed");
    let paths = entries.map(|entry| entry.expect("the folder can be listed").path());
    paths.flat_map(|path| if path.is_dir() { below(&path) } else { vec![path] }).collect()
}

/// All pages of a workshop, by path, and the survey they were written from.
fn pages(files: BTreeMap<String, Vec<u8>>) -> (Survey, BTreeMap<String, String>) {
    let tree = Tree::of(files);
    let folder = tempfile::tempdir().expect("a folder for the test");
    let target = folder.path().join("written");
    let secret = Secret::from_text("0123456789abcdef0123456789abcdef").expect("long enough");
    let stage = Stage::open(&target).expect("an empty place");
    let (survey, _) =
        journey::writeup(&tree, today(), stage, &secret, None, Printing::All, &Quiet).expect("it is written");
    let binary = ["jpg", "png", "webp", "woff2", "js", "css", "svg"];
    let mut pages = BTreeMap::new();
    for path in below(&target) {
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        if !binary.contains(&ending) {
            let bytes = fs::read(&path).expect("the file can be read");
            let name = path.strip_prefix(&target).expect("below the target").display().to_string();
            pages.insert(name, String::from_utf8_lossy(&bytes).into_owned());
        }
    }
    (survey, pages)
}

/// What each piece's buyer and the archive would see, as data, by the piece's folder.
fn views(survey: &Survey) -> BTreeMap<String, (Value, Value)> {
    let house = HouseStyle::of(survey.folder.workshop.as_ref().expect("the workshop reads"));
    let view = |workpiece| {
        let context = PieceContext::of(&survey.folder, workpiece, &survey.trade, &house);
        let papers = buyer::papers(&context);
        let archive = serde_json::to_value(archive::piece_page(&context, &papers, ""));
        let papers = serde_json::to_value(&papers).expect("a view is data");
        (context.folder().to_owned(), (papers, archive.expect("a view is data")))
    };
    survey.pieces.iter().map(view).collect()
}

/// The first word of a text that stands for no number.
fn no_number(text: &str) -> Option<&str> {
    let words = text.split(|letter: char| !letter.is_alphanumeric());
    words.into_iter().find(|word| ["NaN", "nan", "inf", "Infinity", "infinity"].contains(word))
}

#[test]
fn no_paper_of_the_example_prints_a_number_that_is_none() {
    let (survey, pages) = pages(example());
    assert!(pages.len() > 20, "{} pages", pages.len());
    for (path, text) in &pages {
        assert_eq!(no_number(text), None, "{path}");
    }
    for (folder, (papers, archive)) in views(&survey) {
        for view in [papers, archive] {
            assert_eq!(no_number(&view.to_string()), None, "{folder}");
        }
    }
}

#[test]
fn the_search_for_such_numbers_finds_them() {
    assert_eq!(no_number("grows by NaN mm"), Some("NaN"));
    assert_eq!(no_number("<td>-inf</td>"), Some("inf"));
    assert_eq!(no_number("information, infill, Nan's"), None);
}

/// A workshop of one piece.
fn workshop(record: &str, workshop: &str, more: &[(&str, &str)]) -> BTreeMap<String, Vec<u8>> {
    let needed = [("title", "Oak table"), ("number", "T-1"), ("kind", "table/gateleg")];
    let given = needed.iter().map(|(key, value)| format!("{key} = \"{value}\"\n"));
    let mut files = BTreeMap::from([
        (
            "workshop.toml".to_owned(),
            format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}").into_bytes(),
        ),
        ("pieces/one/record.toml".to_owned(), (given.collect::<String>() + record).into_bytes()),
    ]);
    files.extend(more.iter().map(|(path, text)| ((*path).to_owned(), text.as_bytes().to_vec())));
    files
}

/// Codes with file and line of everything graver than advice that is said of a workshop.
fn said(files: BTreeMap<String, Vec<u8>>) -> Vec<String> {
    let tree = Tree::of(files);
    let survey = journey::survey(&tree, today(), &Quiet);
    let grave = survey.diagnostics.iter().filter(|found| found.severity() != Severity::Advice);
    let line = |found: &witnessmark::diag::Diagnostic| {
        let text = tree.text(&found.place.path).and_then(Result::ok).unwrap_or_default();
        found.place.span.map_or(0, |(at, _)| line_and_column(text, at).0)
    };
    grave.map(|found| format!("{} {}:{}", found.code.name, found.place.path, line(found))).collect()
}

#[track_caller]
fn complains(record: &str, wanted: &str) {
    let found = said(workshop(record, "", &[]));
    assert!(found.iter().any(|line| line == wanted), "{record}: {found:?}");
    // What was found wrong is left out or printed as not known; either way nothing panics and no number is made up.
    let (survey, pages) = pages(workshop(record, "", &[]));
    for text in pages
        .values()
        .chain(views(&survey).values().map(|(_, archive)| archive.to_string()).collect::<Vec<_>>().iter())
    {
        assert_eq!(no_number(text), None, "{record}");
    }
}

#[test]
fn sizes_that_cannot_be_are_shown_at_their_line() {
    let record = "pieces/one/record.toml";
    for bad in ["0", "-900", "20001", "inf", "nan", "-0.0"] {
        complains(
            &format!("size = {{ width = {bad}, depth = 300, height = 700 }}"),
            &format!("out-of-range {record}:4"),
        );
        complains(
            &format!("[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\nsize = {{ length = {bad} }}"),
            &format!("out-of-range {record}:8"),
        );
    }
    complains("[[cost]]\nwhat = \"x\"\namount = -1", &format!("out-of-range {record}:6"));
    complains("[[cost]]\nwhat = \"x\"\ntin = \"t\"\nshare = 0", &format!("out-of-range {record}:7"));
    complains("[[cost]]\nwhat = \"x\"\nshare = nan", &format!("out-of-range {record}:6"));
    complains("work = [{ did = \"x\", hours = -1 }]", &format!("out-of-range {record}:4"));
}

#[test]
fn a_climate_that_cannot_be_is_shown_at_its_line() {
    for bad in ["-1", "101", "nan"] {
        let climate = format!("[climate]\nhumidity-low = {bad}\nhumidity-high = 65");
        let found = said(workshop("", &climate, &[]));
        assert!(found.contains(&"out-of-range workshop.toml:4".to_owned()), "{bad}: {found:?}");
    }
    let turned = said(workshop("", "[climate]\nhumidity-low = 65\nhumidity-high = 35", &[]));
    assert!(turned.iter().any(|line| line.starts_with("climate-upside-down workshop.toml:")), "{turned:?}");
}

#[test]
fn a_timber_that_is_not_known_is_shown_at_its_line() {
    complains(
        "[[part]]\nid = \"a\"\nname = \"A\"\nstanding = \"new\"\ntimber = \"blorkwood\"\nbuild = \"solid\"\n\
         size = { length = 900, width = 300, thick = 20 }",
        "unknown-timber pieces/one/record.toml:8",
    );
}

#[test]
fn a_thousand_shelves_are_written() {
    let part = |n: usize| {
        format!(
            "[[part]]\nid = \"s{n}\"\nname = \"Shelf {n}\"\nstanding = \"new\"\ntimber = \"white-oak\"\nbuild = \"solid\"\n\
             size = {{ length = 900, width = 250, thick = 18 }}\n"
        )
    };
    let shelves: Vec<String> =
        (0..1000).map(|n| format!("{{ part = \"s{n}\", ends = \"supported\" }}")).collect();
    let record =
        (0..1000).map(part).collect::<String>() + &format!("[use]\nshelves = [{}]\n", shelves.join(", "));
    let (survey, pages) = pages(workshop(&record, "", &[]));
    assert!(survey.diagnostics.iter().all(|found| found.severity() != Severity::Error));
    let care =
        pages.iter().find(|(path, _)| path.ends_with("care.html")).expect("the care sheet was written").1;
    assert!(care.contains("Shelf 999"));
    assert_eq!(no_number(care), None);
}

#[test]
fn a_workshops_own_row_is_named_as_the_source_on_paper() {
    let table = include_str!("../src/trade/finish.toml");
    let start = table.find("[[finish]]\nid = \"paste-wax\"").expect("the table has paste wax");
    let row = &table[start..];
    let row = &row[..row[1..].find("[[finish]]").map_or(row.len(), |end| end + 1)];
    let source = row.lines().find(|line| line.starts_with("source = ")).expect("every row has a source");
    let own = row.replace(source, "source = \"label of our own wax, 2026\"").replace(
        row.lines().find(|line| line.starts_with("dust = ")).expect("every finish is dusted"),
        "dust = \"Dust it with our own cloth.\"",
    );
    let record = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n\
                  surface = [{ parts = \"a\", found = \"bare-wood\", steps = [{ apply = \"paste-wax\" }] }]";
    let (survey, pages) = pages(workshop(record, "", &[("trade/finish.toml", &own)]));
    assert!(survey.diagnostics.iter().all(|found| found.severity() != Severity::Error));
    let care =
        pages.iter().find(|(path, _)| path.ends_with("care.html")).expect("the care sheet was written").1;
    assert!(care.contains("Dust it with our own cloth."), "the row is used");
    let named = care.replace("&#39;", "'").replace("&#x27;", "'");
    assert!(
        named.contains("label of our own wax, 2026 (this workshop's own row, trade/finish.toml)"),
        "{named}"
    );
}

/// The cautions that a piece's buyer gets, as titles, texts and tests.
fn cautions(papers: &Value) -> Vec<(String, String, String)> {
    let text = |value: &Value| value.as_str().expect("a text").to_owned();
    let cautions = papers["care"]["hazards"]["cautions"].as_array().expect("a list");
    cautions.iter().map(|one| (text(&one["title"]), text(&one["because"]), text(&one["tested"]))).collect()
}

#[test]
fn the_examples_cautions_are_those_its_records_imply() {
    let tree = Tree::of(example());
    let survey = journey::survey(&tree, today(), &Quiet);
    let views = views(&survey);
    let titles = |folder: &str| -> Vec<String> {
        cautions(&views[folder].0).into_iter().map(|(title, _, _)| title).collect()
    };
    let chest = cautions(&views["blanket-chest"].0);
    assert_eq!(chest[0].0, "Lead in old paint", "what a test confirmed comes first");
    assert!(chest[0].2.contains("positive in the oldest coat"), "{}", chest[0].2);
    assert_eq!(titles("blanket-chest"), ["Lead in old paint", "Lids and children", "Old insecticides"]);
    assert_eq!(
        titles("open-bookcase"),
        ["Formaldehyde from wood-based board", "Cloths with drying oil", "Tipping over"]
    );
    let chair = titles("ladder-back-chair");
    assert!(chair.contains(&"Woodworm".to_owned()), "{chair:?}");
    assert!(
        !chair.contains(&"Fire safety of upholstery".to_owned()),
        "a seat of woven cord is no upholstery"
    );
    for (papers, archive) in views.values() {
        let hazards = &papers["disclosure"]["hazards"];
        assert_eq!(hazards, &papers["care"]["hazards"]);
        let rules =
            hazards["cautions"].as_array().expect("a list").iter().flat_map(|one| one["rules"].as_array());
        for rule in rules.flatten() {
            assert_eq!(rule["written_on"], "November 2026");
            assert_ne!(rule["source"], "");
        }
        assert!(hazards["closing"].as_str().expect("a text").contains("licensed trades decide"));
        assert!(!archive["bench"]["finishes"].as_array().expect("a list").is_empty());
    }
}

#[test]
fn what_was_tested_and_not_found_raises_no_alarm_and_is_said() {
    let record = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]\n\
                  surface = [{ parts = \"a\", found = \"old-finish\", steps = [\
                  { test = \"lead swab\", result = \"negative on three spots\" }] }]";
    let tree = Tree::of(workshop(record, "", &[]));
    let survey = journey::survey(&tree, today(), &Quiet);
    let (papers, _) = &views(&survey)["one"];
    assert!(cautions(papers).is_empty(), "{:?}", cautions(papers));
    let cleared = &papers["disclosure"]["hazards"]["cleared"][0];
    assert_eq!(cleared["title"], "Lead in old paint");
    assert_eq!(cleared["tested"], "Tested: lead swab (Top): negative on three spots.");
}

#[test]
fn the_ledger_of_the_example_is_in_the_archive_alone() {
    let tree = Tree::of(example());
    let survey = journey::survey(&tree, today(), &Quiet);
    for (folder, (papers, archive)) in views(&survey) {
        assert!(archive["ledger"]["results"].as_array().is_some_and(|lines| lines.len() >= 6), "{folder}");
        assert_eq!(papers.get("ledger"), None, "{folder}");
    }
    // By hand: 60.00 + 24.00 + 17.60 + 14.20, and half of the laths' price if it were known.
    let chest = &views(&survey)["blanket-chest"].1["ledger"];
    assert_eq!(chest["results"][0]["amount"], "at least £115.80");
    assert_eq!(
        chest["missing"][0],
        "What was paid for the stock `pine-lath-2024` is not recorded in stock.toml."
    );
}
