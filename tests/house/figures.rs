//! Figures on papers: never a number that is none, whatever a record says, and each with what it rests on.

use std::collections::BTreeMap;

use serde_json::Value;
use witnessmark::derive::Workpiece;
use witnessmark::diag::{Rank, line_and_column};
use witnessmark::journey::Survey;
use witnessmark::view::{HouseStyle, PieceContext, archive, buyer};

use crate::fixture::{Workshop, Writing};

/// All pages of a workshop, by path, and the survey they were written from.
fn pages(workshop: &Workshop) -> (Survey, BTreeMap<String, String>) {
    let Writing { survey, mut files, .. } = workshop.writeup();
    let binary = ["jpg", "png", "webp", "woff2", "js", "css", "svg", "pdf", "zip"];
    files.retain(|path, _| path.rsplit('.').next().is_none_or(|ending| !binary.contains(&ending)));
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    (survey, files.into_iter().map(|(path, bytes)| (path, text(bytes))).collect())
}

/// What each piece's buyer and the archive would see, as data, by the piece's folder.
fn views(survey: &Survey) -> BTreeMap<String, (Value, Value)> {
    let house = HouseStyle::of(
        survey.folder.workshop.as_ref().expect("the workshop reads"),
        &witnessmark::words::Language::british(),
        crate::fixture::today(),
    );
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
    let (survey, pages) = pages(&Workshop::example_in_small());
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
fn workshop(record: &str, workshop: &str) -> Workshop {
    let record = format!("kind = \"table/gateleg\"\n{record}");
    Workshop::new(&format!("currency = \"GBP\"\n{workshop}")).piece("one", "Oak table", "T-1", &record)
}

/// Codes with file and line of everything graver than a hint that is said of a workshop.
fn said(workshop: &Workshop) -> Vec<String> {
    let (tree, survey) = (workshop.tree(), workshop.survey());
    let grave = survey.diagnostics.iter().filter(|found| found.rank() != Rank::Hint);
    let line = |found: &witnessmark::diag::Diagnostic| {
        let text = tree.text(&found.place.path).and_then(Result::ok).unwrap_or_default();
        found.place.span.map_or(0, |(at, _)| line_and_column(text, at).0)
    };
    grave.map(|found| format!("{} {}:{}", found.code.name, found.place.path, line(found))).collect()
}

#[track_caller]
fn complains(record: &str, wanted: &str) {
    let found = said(&workshop(record, ""));
    assert!(found.iter().any(|line| line == wanted), "{record}: {found:?}");
    // What was found wrong is left out or printed as not known; either way nothing panics and no number is made up.
    let (survey, pages) = pages(&workshop(record, ""));
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
        let found = said(&workshop("", &climate));
        assert!(found.contains(&"out-of-range workshop.toml:4".to_owned()), "{bad}: {found:?}");
    }
    let turned = said(&workshop("", "[climate]\nhumidity-low = 65\nhumidity-high = 35"));
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
    let (survey, pages) = pages(&workshop(&record, ""));
    assert!(survey.diagnostics.iter().all(|found| found.rank() != Rank::Mistake));
    let care =
        pages.iter().find(|(path, _)| path.ends_with("care.html")).expect("the care sheet was written").1;
    assert!(care.contains("Shelf 0, Shelf 1"), "those that bear the same stand in a line");
    assert_eq!(no_number(care), None);
    let whole =
        pages.iter().find(|(path, _)| path.ends_with("build-record.html")).expect("the record was written").1;
    assert!(whole.contains("Shelf 998 and Shelf 999"));
}

#[test]
fn a_workshops_own_row_is_on_paper_and_its_source_is_not() {
    let table = include_str!(concat!(env!("CARGO_MANIFEST_DIR"), "/src/trade/finish.toml"));
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
    let workshop = workshop(record, "").write("trade/finish.toml", &own);
    let (survey, pages) = pages(&workshop);
    assert!(survey.diagnostics.iter().all(|found| found.rank() != Rank::Mistake));
    let care =
        pages.iter().find(|(path, _)| path.ends_with("care.html")).expect("the care sheet was written").1;
    assert!(care.contains("Dust it with our own cloth."), "the row is used");
    assert!(!care.contains("label of our own wax"), "sources stay in the workshop");
}

/// What is told of substances and dangers of a workshop's pieces: how each line begins, how it goes on, and how it
/// weighs.
fn substances(survey: &Survey) -> Vec<(String, String, String)> {
    let house = HouseStyle::of(
        survey.folder.workshop.as_ref().expect("the workshop reads"),
        &witnessmark::words::Language::british(),
        crate::fixture::today(),
    );
    let told = |workpiece: &Workpiece| house.words().sentences(&workpiece.claims.substances);
    let lines = survey.pieces.iter().flat_map(told);
    lines.map(|line| (line.lead, line.text, line.weight.to_owned())).collect()
}

#[test]
fn dangers_are_those_that_the_record_implies() {
    let leads =
        |record: &str| -> Vec<(String, String, String)> { substances(&workshop(record, "").survey()) };
    let part =
        |more: &str| format!("part = [{{ id = \"a\", name = \"Lid\", standing = \"original\"{more} }}]\n");
    let lead = leads(&format!(
        "{}surface = [{{ parts = \"a\", found = \"oil-paint\" }}]\n\
         test = [{{ of = \"lead\", by = \"laboratory\", part = \"a\", result = \"positive in the oldest coat\" }}]",
        part("")
    ));
    assert!(lead[0].0.starts_with("Lead was found in"), "what a test confirmed comes first: {lead:?}");
    assert!(lead[0].1.contains("positive in the oldest coat"), "{}", lead[0].1);
    assert_eq!(lead[0].2, "danger");
    let board = leads(&part(", build = \"panel\", ground = \"chipboard\""));
    assert!(board.iter().any(|(lead, ..)| lead.contains("wood-based board")), "{board:?}");
    let holes =
        leads(&format!("{}finding = [{{ id = \"f\", part = \"a\", seen = \"flight holes\" }}]", part("")));
    assert!(holes.iter().any(|(lead, ..)| lead.contains("has had, woodworm")), "{holes:?}");
    let cord = leads(&part(", build = \"textile\", material = \"woven cord\""));
    assert!(
        !cord.iter().any(|(lead, ..)| lead.contains("upholstery")),
        "a seat of woven cord is no upholstery"
    );
}

#[test]
fn laws_are_for_the_workshop() {
    let survey = Workshop::example_in_small().survey();
    let views = views(&survey);
    // Laws are for the workshop.
    for (lead, text, _) in substances(&survey) {
        assert!(
            !["Act", "CFR", "REACH", "Regulation"].iter().any(|law| lead.contains(law) || text.contains(law))
        );
    }
    for (_, archive) in views.values() {
        let rules = archive["bench"]["sheet"]["cautions"].as_array().expect("a list");
        for rule in rules.iter().filter_map(|one| one["rules"].as_array()).flatten() {
            assert_eq!(rule["written_on"], "November 2026");
            assert_ne!(rule["source"], "");
        }
        let closing = archive["bench"]["sheet"]["closing"].as_str().expect("a text");
        assert!(closing.contains("licensed trades decide"));
        assert!(archive["bench"]["finishes"].is_array());
    }
}

#[test]
fn a_rub_that_found_nothing_is_told_as_that_and_a_test_through_all_coats_clears() {
    let told = |by: &str| {
        let record = format!(
            "part = [{{ id = \"a\", name = \"Top\", standing = \"original\" }}]\n\
             surface = [{{ parts = \"a\", found = \"old-finish\", steps = [\
             {{ on = 2026-03-12, test = \"lead\", by = \"{by}\", result = \"negative on three spots\" }}] }}]"
        );
        let lines = substances(&workshop(&record, "").survey());
        (lines[0].0.clone(), lines[0].1.clone(), lines[0].2.clone())
    };
    let (lead, text, weight) = told("swab");
    assert_eq!((lead.as_str(), weight.as_str()), ("The old finish on Top may hold lead", "untested-danger"));
    assert!(
        text.starts_with("A rub test of 12 March 2026 found none; that proves nothing for coats below."),
        "{text}"
    );
    let (lead, text, weight) = told("laboratory, through all coats");
    assert_eq!((lead.as_str(), weight.as_str()), ("No lead was found in the old finish on Top", "plain"));
    assert_eq!(text, "A laboratory test of 12 March 2026 went through all coats and found none.");
}

#[test]
fn the_ledger_of_the_example_is_in_the_archive_alone() {
    let survey = Workshop::example_in_small().survey();
    for (folder, (papers, archive)) in views(&survey) {
        assert!(archive["ledger"]["results"].as_array().is_some_and(|lines| lines.len() >= 6), "{folder}");
        assert_eq!(papers.get("ledger"), None, "{folder}");
    }
}

#[test]
fn what_a_piece_cost_is_added_up_and_what_is_missing_is_named() {
    let record = "found = { paid = 60.00 }\ncost = [{ what = \"paint\", amount = 24.00 }, { what = \"wax\", amount = 17.60 }]\n\
                  part = [{ id = \"a\", name = \"Lath\", standing = \"new\", from-stock = \"laths\" }]";
    let stock = "stock = [{ id = \"laths\", what = \"pine laths\", origin = \"a bed\" }]";
    let survey = workshop(record, "").write("stock.toml", stock).survey();
    let ledger = &views(&survey)["one"].1["ledger"];
    // By hand: 60.00 + 24.00 + 17.60, and the laths' price if it were known.
    assert_eq!(ledger["results"][0]["amount"], "at least £101.60");
    let told: Vec<&str> =
        ledger["spent"].as_array().unwrap().iter().filter_map(|line| line["how"].as_str()).collect();
    assert!(told.contains(&"what was paid for the stock “laths” is not recorded in stock.toml"), "{told:?}");
}
