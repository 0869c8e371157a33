use std::collections::BTreeMap;

use super::*;
use crate::derive::Workpiece;
use crate::diag::Rank;
use crate::record;
use crate::render::buyer_papers;
use crate::source::Tree;
use crate::trade::Trade;
use crate::view::{HouseStyle, PieceContext};
use crate::words::Language;

const RECORD: &str = r#"
number = "T-1"
kind = "table/gateleg"
part = [{ id = "top", name = "Top", standing = "new", timber = "white-oak" }]
surface = [{ parts = ["top"], steps = [{ on = 2026-03-02, apply = "paste-wax", coats = 2 }] }]
"#;

/// The sheets of a small piece, and the press of a workshop whose own theme files are laid over.
fn piece(
    title: &str,
    workshop: &str,
    theme: &[(&str, &str)],
) -> (Result<Press<'static>, RenderError>, Vec<Sheet>) {
    let title = serde_json::to_string(title).unwrap().replace('\u{7f}', "\\u007f");
    let mut files: BTreeMap<String, String> = BTreeMap::from([
        ("workshop.toml".to_owned(), format!("name = \"Bench\"\ncurrency = \"GBP\"\n{workshop}")),
        ("pieces/table/record.toml".to_owned(), format!("title = {title}\n{RECORD}")),
    ]);
    files.extend(theme.iter().map(|(path, text)| (format!("theme/{path}"), (*text).to_owned())));
    let tree = Tree::of(files);
    let (folder, problems) = record::read(&tree);
    let mistakes = problems.iter().filter(|problem| problem.rank() == Rank::Mistake);
    assert_eq!(mistakes.count(), 0, "the fixture cannot be read: {problems:?}");
    let trade = Trade::built_in();
    let workpiece = Workpiece::unopened(&folder, &folder.pieces[0], trade).unwrap();
    let house =
        HouseStyle::of(folder.workshop.as_ref().unwrap(), &Language::british(), chrono::NaiveDate::default());
    let context = PieceContext::of(&folder, &workpiece, trade, &house);
    let papers = buyer_papers(&context, house.papers_address("t-1-x").as_deref());
    // A test's theme may stay until the tests end.
    let theme = Box::leak(Box::new(Theme::built_in(&tree).unwrap()));
    (Press::of(theme), sheets(&house, &papers, context.last_day()))
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let (press, sheets) = piece("Table", "", &[]);
    let press = press.unwrap();
    for sheet in &sheets {
        let first = press.set(sheet, &|_| None).unwrap();
        assert!(first.starts_with(b"%PDF-1.7"), "{}", sheet.file);
        assert!(first == press.set(sheet, &|_| None).unwrap(), "{}", sheet.file);
    }
}

/// Width and height of a sheet's first page in millimetres.
fn size(workshop: &str, file: &str) -> (f64, f64) {
    let (press, sheets) = piece("Table", workshop, &[]);
    let sheet = sheets.iter().find(|sheet| sheet.file == file).unwrap();
    let press = press.unwrap();
    let words = press.words(&sheet.language, press.fonts().unwrap(), false);
    let desk = Desk::new(&press, sheet, words, &|_| None).unwrap();
    let size = lay_out(&desk).unwrap().pages()[0].frame.size();
    let millimetres = |length: typst::layout::Abs| (length.to_mm() * 10.0).round() / 10.0;
    (millimetres(size.x), millimetres(size.y))
}

#[test]
fn papers_take_the_workshops_size_and_the_label_its_own() {
    // ISO 216: A4 is 210 by 297 mm. US letter is 8.5 by 11 inches of 25.4 mm.
    assert_eq!(size("", "disclosure.pdf"), (210.0, 297.0));
    assert_eq!(size("paper = \"letter\"", "disclosure.pdf"), (215.9, 279.4));
    // The card lies on its side, to be folded.
    assert_eq!(size("", "care.pdf"), (297.0, 210.0));
    assert_eq!(size("paper = \"letter\"", "care.pdf"), (279.4, 215.9));
    assert_eq!(size("paper = \"letter\"", "label.pdf"), (90.0, 55.0));
}

#[test]
fn arrows_and_signs_of_comparison_can_be_drawn() {
    let (press, _) = piece("Table", "", &[]);
    let press = press.unwrap();
    for letter in "→←↑↓↔≤≥≠≈√−×÷±½°µ".chars() {
        assert!(press.fonts().unwrap().covers(letter), "{letter}");
    }
}

#[test]
fn no_title_breaks_a_paper() {
    let long = "long ".repeat(40);
    let endless = "x".repeat(200);
    for title in [
        "\"quotes\" 'and' <b>markup</b> &amp;",
        "#panic() $x$ *a* _b_ `c` @d <e> // = - + / \\ #import \"x\"",
        "🪑 👩‍🔧 🇬🇧 ✂️",
        "كرسي خشبي قديم",
        "漢字 שלום हिन्दी \u{202e} \u{e000} \u{10ffff} e\u{301} \u{7f}",
        &long,
        &endless,
    ] {
        let (press, sheets) = piece(title, "", &[]);
        let press = press.unwrap();
        for sheet in sheets.iter().filter(|sheet| ["care.pdf", "label.pdf"].contains(&sheet.file.as_str())) {
            assert!(press.set(sheet, &|_| None).is_ok(), "{} of {title}", sheet.file);
        }
    }
}

#[test]
fn a_fault_of_a_template_names_template_and_line_and_says_what_to_do() {
    let fault = |files: &[(&str, &str)]| {
        let (press, sheets) = piece("Table", "", files);
        press.unwrap().set(&sheets[1], &|_| None).unwrap_err().to_string()
    };
    let said = fault(&[(
        "papers/care.typ",
        "#import \"paper.typ\": *\n#show: paper\n\n  #opning(\"Care sheet\", \"\")",
    )]);
    assert_eq!(
        said,
        "care.pdf of Table (T-1) cannot be set\n  papers/care.typ:4:4: unknown variable: opning"
    );
    let said = fault(&[("papers/care.typ", "#data.care")]);
    assert!(said.contains("papers/care.typ:1:2: unknown variable: data"), "{said}");
    let said = fault(&[("papers/care.typ", "#import \"@preview/x:1.0.0\": *")]);
    assert!(said.contains("papers/care.typ:1:9") && said.contains("papers use no packages"), "{said}");
    let said = fault(&[("papers/care.typ", "#set text(font: \"Nobody\")\nx")]);
    assert!(said.contains("unknown font family: nobody"), "{said}");
    let said = fault(&[("papers/care.typ", "#read(\"../../secret\")")]);
    assert!(said.contains("papers/care.typ:1:7"), "{said}");
    // What only an export finds: a picture that says nothing to who cannot see it.
    let title = "#set document(title: \"x\", date: datetime(year: 2026, month: 1, day: 1))\n";
    let said = fault(&[
        ("papers/care.typ", &format!("{title}#image(\"x.svg\")")),
        ("papers/x.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"1\" height=\"1\"/>"),
    ]);
    assert!(said.contains("papers/care.typ:2:2") && said.contains("alt"), "{said}");
}

#[test]
fn a_typesetter_that_breaks_off_costs_one_sheet() {
    let (press, mut sheets) = piece("Table", "", &[]);
    let press = press.unwrap();
    let whole = sheets[1].clone();
    sheets[1].pictures.insert("pictures/a.jpg".to_owned(), "picture-1.jpg".to_owned());
    let said = press.set(&sheets[1], &|_| panic!("over a picture")).unwrap_err().to_string();
    assert!(said.contains("the typesetter broke off"), "{said}");
    assert!(press.set(&whole, &|_| None).is_ok(), "the next one is set");
}

#[test]
fn a_font_that_is_none_is_named() {
    let (press, sheets) = piece("Table", "", &[("papers/fonts/mine.otf", "no font")]);
    let said = press.unwrap().set(&sheets[0], &|_| None).unwrap_err().to_string();
    assert_eq!(said, "`papers/fonts/mine.otf` of the theme cannot be used as a font: it is no OpenType font");
}

#[test]
fn keys_follow_data_pictures_and_templates() {
    let key = |title: &str, theme: &[(&str, &str)], print: &str| {
        let (press, mut sheets) = piece(title, "", theme);
        sheets[0].pictures.insert("pictures/a.jpg".to_owned(), "picture-1.jpg".to_owned());
        press.unwrap().key(&sheets[0], &|_| Some(print.to_owned()))
    };
    let first = key("Table", &[], "a");
    assert_eq!(first.len(), 64);
    assert_eq!(first, key("Table", &[], "a"));
    assert_ne!(first, key("Other", &[], "a"));
    assert_ne!(first, key("Table", &[], "b"));
    assert_ne!(first, key("Table", &[("papers/paper.typ", "")], "a"));
}

/// The list of what to look for on a piece of a kind, with rows of the workshop's own, on a size of paper.
fn look_over_sheet(kind: &str, own: &str, paper: &str) -> Sheet {
    let tree = Tree::of([("workshop.toml", "name = \"Bench\""), ("trade/looking.toml", own)]);
    let trade = Trade::with(&tree, None).0;
    let words = crate::words::Words::for_diagnostics();
    let list = crate::view::LookOver::of(kind, &trade.looking_over(kind), None, &words);
    let workshop =
        crate::view::WorkshopView { name: "Bench".to_owned(), paper: paper.to_owned(), ..Default::default() };
    look_over(&workshop, &words, &list, chrono::NaiveDate::default())
}

#[test]
fn what_to_look_for_is_one_page_whatever_the_kind() {
    let (press, _) = piece("Table", "", &[]);
    let press = press.unwrap();
    for kind in
        ["stool", "kitchen cabinet with mirror and marble", "zograscope", "sofa", &"ô-ü/ ".repeat(2000)]
    {
        for paper in ["A4", "letter"] {
            let sheet = look_over_sheet(kind, "", paper);
            assert_eq!(press.pages(&sheet).unwrap(), 1, "{kind:.40}, {paper}");
        }
    }
    let long = "A long line that says too much of it. ".repeat(40);
    let row = |at: usize| {
        format!(
            "[[look]]\nid = \"own-{at}\"\nof = \"any\"\ndo = \"look\"\nlook = \"{long}\"\nmeans = \"{long}\"\nsource = \"us\"\n"
        )
    };
    let own: String = (0..20).map(row).collect();
    assert_eq!(press.pages(&look_over_sheet("stool", &own, "A4")).unwrap(), 1, "what has no room is counted");
    assert!(press.set(&look_over_sheet("stool", &own, "A4"), &|_| None).unwrap().starts_with(b"%PDF-1.7"));
}
