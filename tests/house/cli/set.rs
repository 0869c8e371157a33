//! Sets whose pieces are sold apart: one record for what they share, and each its own papers.

use crate::fixture::{Bench, Workshop, plain};

/// What nobody but the workshop may read of the set.
const PRIVATE: [&str; 4] = ["farm sale of secrets", "wax of secrets", "heed this secret", "noted in secret"];

const SET: &str = r#"
set-of = 3
made = "1900/1930"
notes = "noted in secret"
found = { on = 2026-03-02, from = "farm sale of secrets", paid = 60.00 }
cost = [{ what = "wax of secrets", amount = 9.00 }]
lesson = [{ text = "heed this secret", for = "chair" }]
finding = [
  { id = "f-dirt", seen = "grime all over" },
  { id = "f-split", seen = "split in the back leg", piece = "CH-003" },
]
work = [
  { on = 2026-03-05, did = "washed the frames", mends = "f-dirt", task = "cleaning", hours = 3 },
  { on = 2026-03-06, did = "glued the leg", mends = "f-split", task = "gluing", hours = 1.5, piece = "chair-3" },
]
"#;

fn piece(number: usize, more: &str) -> String {
    format!("set = \"chairs\"\nnumber = \"CH-00{number}\"\nasking = 45.00\n{more}")
}

pub(super) fn set() -> Workshop {
    let sold = "handover = { on = 2026-04-02, to = \"Ada Example\", price = 42.00 }\n\
                receipt = [{ number = 1, on = 2026-04-02, what = \"full\", amount = 42.00 }]\n";
    let story = "Three chairs from one kitchen.\n";
    Workshop::new("currency = \"GBP\"\nhourly-rate = 18.00\n")
        .piece("chairs", "Ladder-back chair", "CH", &format!("kind = \"seating/chair\"\n{SET}"))
        .write("pieces/chairs/story.md", story)
        .write("pieces/chairs/photos/before-all.jpg", plain(70))
        .write("pieces/chair-1/record.toml", piece(1, ""))
        .write("pieces/chair-1/photos/after-front.jpg", plain(140))
        .write("pieces/chair-2/record.toml", piece(2, sold).replace("asking = 45.00\n", ""))
        .write("pieces/chair-3/record.toml", piece(3, ""))
}

/// The text of all pages of a piece that others than the workshop may read.
fn shown(files: &std::collections::BTreeMap<String, Vec<u8>>, number: usize) -> String {
    let own = |path: &str| {
        let (showroom, buyers) =
            (format!("showroom/pieces/ch-00{number}/"), format!("buyers/ch-00{number}-"));
        (path.starts_with(&showroom) || path.starts_with(&buyers)) && path.ends_with(".html")
    };
    let pages = files.iter().filter(|(path, _)| own(path));
    pages.map(|(_, bytes)| String::from_utf8_lossy(bytes).to_lowercase()).collect()
}

#[test]
fn each_piece_has_its_own_papers_and_what_is_said_of_one_stands_on_no_other() {
    let writing = set().writeup();
    assert_eq!(writing.written.pieces.len(), 3);
    assert!(!writing.files.keys().any(|path| path.contains("pieces/ch/") || path.contains("buyers/ch-0000")));
    for number in 1..=3 {
        let shown = shown(&writing.files, number);
        assert!(
            shown.contains("grime all over") && shown.contains("three chairs from one kitchen"),
            "{number}"
        );
        assert!(shown.contains("one of a set of 3"), "{number}");
        assert_eq!(shown.contains("split in the back leg"), number == 3, "{number}");
        assert_eq!(shown.contains("glued the leg"), number == 3, "{number}");
        for other in (1..=3).filter(|other| *other != number) {
            let papers = format!("buyers/ch-00{number}-");
            let own = writing.files.iter().filter(|(path, _)| path.starts_with(&papers));
            let text: String = own.map(|(_, bytes)| String::from_utf8_lossy(bytes)).collect();
            assert!(!text.contains(&format!("CH-00{other}")), "{other} on the papers of {number}");
        }
    }
    let front = writing.page("showroom/index.html");
    assert_eq!(front.matches("£45").count(), 2, "the one that was sold asks nothing");
    for (path, bytes) in writing.files.iter().filter(|(path, _)| !path.starts_with("archive/")) {
        let text = String::from_utf8_lossy(bytes);
        let held = PRIVATE.iter().find(|private| text.contains(*private));
        assert_eq!(held, None, "{path}");
        assert!(!path.ends_with("receipts.pdf") && !path.ends_with("receipts.html"), "{path}");
    }
    assert!(writing.files.contains_key("archive/pieces/ch-002/receipts.html"));
    let ledger = writing.page("archive/pieces/ch-001/index.html");
    assert!(ledger.contains("What the 3 pieces of its set share is divided between them"));
}

#[cfg(feature = "papers")]
#[test]
fn receipts_are_a_paper_to_print_in_the_archive_alone() {
    let writing = set().writeup();
    let paper = writing.files.get("archive/pieces/ch-002/receipts.pdf").expect("it was set");
    assert!(paper.starts_with(b"%PDF-1.7"));
    assert!(writing.page("archive/pieces/ch-002/receipts.html").contains("href=\"receipts.pdf\""));
    let all: Vec<&String> = writing.files.keys().filter(|path| path.contains("receipts")).collect();
    assert_eq!(all, ["archive/pieces/ch-002/receipts.html", "archive/pieces/ch-002/receipts.pdf"]);
}

#[test]
fn the_archive_counts_what_the_pieces_share_once() {
    let bench = Bench::new().lay(&set()).runs(["writeup", "."]);
    let asked = |bench: Bench, question: &[&str]| {
        let (bench, said) = bench.args_of(&[&["consult"], question].concat()).output(0);
        (bench, said)
    };
    let (bench, said) = asked(bench, &["time", "cleaning"]);
    assert!(said.contains("1 hour a piece: of one piece"), "{said}");
    assert_eq!(said.matches("washed the frames (3 hours)").count(), 1, "{said}");
    let (bench, said) = asked(bench, &["time", "gluing"]);
    assert!(said.contains("1.5 hours a piece: of one piece"), "{said}");
    let (bench, said) = asked(bench, &["words", "washed"]);
    assert!(said.contains("1 line in 1 piece"), "{said}");
    let (bench, said) = asked(bench, &["money"]);
    assert!(said.contains("Taken £42.00 for 1 piece; spent £69.00; worked 4.5 hours."), "{said}");
    let (bench, said) = asked(bench, &["lessons", "chair"]);
    assert_eq!(said.matches("heed this secret").count(), 1, "{said}");
    // What is asked is of today: a line of the set's record makes the database one of before.
    let record = String::from_utf8(bench.read("pieces/chairs/record.toml")).unwrap();
    let bench = bench.write("pieces/chairs/record.toml", record.replace("washed", "scoured"));
    let (_, said) = asked(bench, &["words", "scoured"]);
    assert!(said.contains("scoured the frames"), "{said}");
}

#[test]
fn a_piece_of_a_set_is_handed_over_by_itself_and_later_work_on_all_is_doubted() {
    let bench = Bench::new().lay(&set());
    let (bench, said) = bench.args(["handover", "CH-002"]).output(0);
    assert!(said.contains("pieces/chair-2/sealed/001.toml"), "{said}");
    let (bench, _) = bench
        .args(["handover", "CH"])
        .stderr_has(
            "`CH` is a set whose pieces are sold apart; name one of them: `CH-001`, `CH-002`, `CH-003`",
        )
        .output(2);
    let record = String::from_utf8(bench.read("pieces/chairs/record.toml")).unwrap();
    let record = record.replace(
        "{ on = 2026-03-05,",
        "{ on = 2026-05-01, did = \"tightened the rungs\" },\n  { on = 2026-03-05,",
    );
    let bench = bench.write("pieces/chairs/record.toml", &record);
    let (bench, said) = bench.args(["inspect", "--as", "json"]).output(1);
    assert_eq!(said.matches("\"set-work-after-leaving\"").count(), 1, "{said}");
    assert!(
        said.contains("work of 2026-05-01 is of all 3 pieces, and CH-002 had left on 2026-04-02"),
        "{said}"
    );
    assert!(said.contains("changed-since-seal"), "{said}");
    // Named, it is of the others alone, and the sealed piece stands as it was sealed.
    let named = record
        .replace("tightened the rungs\" }", "tightened the rungs\", piece = [\"CH-001\", \"CH-003\"] }");
    let bench = bench.write("pieces/chairs/record.toml", named);
    let (_, said) = bench.args(["inspect", "--as", "json"]).output(1);
    assert!(!said.contains("set-work-after-leaving") && !said.contains("changed-since-seal"), "{said}");
}

#[test]
fn pieces_are_opened_and_jotted_of_as_those_of_their_set() {
    let bench = Bench::new().lay(&set());
    let (bench, _) = bench
        .args(["intake", "Chair four", "--set", "chirs"])
        .stderr_has("there is no set `chirs` (perhaps `chairs`)")
        .output(2);
    let (bench, _) = bench.args(["intake", "Chair four", "--set", "CH"]).output(0);
    let record = String::from_utf8(bench.read("pieces/chair-four/record.toml")).unwrap();
    assert!(
        record.contains("set    = \"chairs\"") && record.contains("kind   = \"seating/chair\""),
        "{record}"
    );
    let (bench, said) = bench.args(["inspect", "--as", "json"]).output(1);
    assert!(
        said.contains("set-overfull") && said.contains("this is a set of 3, and 4 records are of it"),
        "{said}"
    );
    let (bench, _) = bench.args(["jot", "CH", "2026-03-07 waxed all of them, 45 min"]).output(0);
    let (bench, said) = bench.args(["enter", "CH", "--show"]).output(0);
    assert!(said.contains("waxed all of them"), "{said}");
    let (bench, said) = bench.args(["enter", "CH-001", "--show"]).output(0);
    assert!(said.contains("No line of the day book proposes anything"), "{said}");
    assert!(bench.path("pieces/chairs/daybook.txt").exists());
}
