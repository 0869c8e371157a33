//! `witnessmark inspect`

use serde_json::Value;

use crate::fixture::{Bench, plain};

#[test]
fn a_mistake_is_shown_with_its_place_and_its_cure() {
    Bench::workshop()
        .piece("chair", "Chair", "CH-001")
        .write(
            "pieces/stool/record.toml",
            "title = \"Stool\"\nnumber = \"ST-001\"\nkind = \"stool/milking\"\nlevl = \"repair\"\n",
        )
        .args(["inspect"])
        .stderr_has("Stool  ST-001\npieces/stool\n")
        .stderr_has(
            "\
pieces/stool/record.toml, line 4
  Mistake: the file has no key `levl`.  (why unknown-key)
      levl = \"repair\"
      ‾‾‾‾
  To mend: write `level`
",
        )
        .stdout_has("1 mistake, ")
        .stdout_has(" in 2 pieces.\n")
        .status(1);
}

#[test]
fn the_most_serious_comes_first() {
    let bench = Bench::workshop().write("pieces/chair/record.toml", format!("levl = 1\n{WORKED_ON}"));
    let output = bench.args(["inspect"]).command().output().unwrap();
    let report = String::from_utf8(output.stderr).unwrap();
    let places = ["  Mistake: ", "  Doubt: ", "  Hint: "].map(|word| (report.find(word), report.rfind(word)));
    for pair in places.windows(2) {
        let ((_, Some(last)), (Some(first), _)) = (pair[0], pair[1]) else { panic!("{report}") };
        assert!(last < first, "{report}");
    }
}

#[test]
fn a_text_to_paste_keeps_its_lines() {
    begun()
        .write("pieces/chair/photos/before-front.jpg", plain(100))
        .args(["inspect"])
        .stderr_has("[[photo]]\n")
        .stderr_has("file = \"before-front.jpg\"\n")
        .status(1);
}

/// A chair that somebody has begun to work on.
const WORKED_ON: &str = "title = \"Chair\"\nnumber = \"CH-001\"\nkind = \"chair/ladder-back\"\n\
                         [[work]]\non = 2026-03-04\ndid = \"glued the loose rungs\"\n";

fn begun() -> Bench {
    Bench::workshop().write("pieces/chair/record.toml", WORKED_ON)
}

#[test]
fn json_is_one_document_with_every_place() {
    let (_, text) = Bench::workshop()
        .write(
            "pieces/Küche 🪑/record.toml",
            "title = \"كرسي\"\nnumber = \"CH-001\"\nkind = \"chair/ladder-back\"\n# é\nlevl = \"repair\"\n",
        )
        .write("pieces/loose/notes.txt", "")
        .write("workshop.toml", "name = \"\"\n")
        .args(["inspect", "--as", "json"])
        .stderr("")
        .output(1);
    let report: Value = serde_json::from_str(&text).unwrap();
    let chair = &report["pieces"][0];
    assert_eq!(
        (&chair["folder"], &chair["title"], &chair["number"]),
        (&"Küche 🪑".into(), &"كرسي".into(), &"CH-001".into())
    );
    let found = &chair["diagnostics"][0];
    for (key, value) in [
        ("code", Value::from("unknown-key")),
        ("rank", "mistake".into()),
        ("file", "pieces/Küche 🪑/record.toml".into()),
        ("line", 5.into()),
        ("column", 1.into()),
        ("source_line", "levl = \"repair\"".into()),
        ("to_mend", "write `level`".into()),
    ] {
        assert_eq!(found[key], value, "{key}");
    }
    assert_eq!(report["pieces"][1]["title"], Value::Null);
    assert_eq!(report["pieces"][1]["diagnostics"][0]["line"], Value::Null);
    assert_eq!(report["workshop"][0]["code"], "empty-text");
}

#[test]
fn what_would_help_most_is_said_as_text_and_as_data() {
    begun().args(["inspect"]).stdout_has("Three additions that would help most:\n  1. ").status(1);
    let (_, text) = begun().args(["inspect", "--as", "json"]).stderr("").output(1);
    let report: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(report["pieces"][0]["additions"].as_array().unwrap().len(), 3);
    let told = report["pieces"][0]["told_percent"].as_u64().unwrap();
    begun().args(["inspect"]).stdout_has(&format!("The record tells {told} % of the checklist.")).status(1);
}

#[test]
fn a_workshop_without_pieces_says_how_to_begin() {
    Bench::workshop()
        .args(["inspect"])
        .stdout("There are no pieces yet: `witnessmark intake NAME` opens the first.\n")
        .stderr("")
        .status(0);
}

#[test]
fn what_is_no_workshop_is_not_inspected() {
    Bench::new()
        .args(["inspect", "my work"])
        .stdout("")
        .stderr("cannot go on: there is no folder `my work`\n")
        .status(2);
    Bench::new().args(["inspect"]).stdout("").stderr_has("it has no workshop.toml").status(2);
}

#[test]
fn what_intake_just_opened_has_nothing_wrong_yet() {
    let bench = Bench::new().args(["intake", "Stool", "--in", "plain"]).status(0);
    let bench = bench.args(["inspect", "plain"]).status(0);
    bench
        .write("shots/a.jpg", plain(100))
        .write("shots/b.jpg", plain(110))
        .args(["intake", "Stool", "--in", "seen", "--photos", "shots"])
        .status(0)
        .args(["inspect", "seen"])
        .status(0);
}

#[test]
fn a_reader_that_has_read_enough_is_no_error() {
    let bench = Bench::workshop().piece("chair", "Chair", "CH-001").args(["inspect", "--as", "json"]);
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    let output = bench.process().stdout(writer).output().unwrap();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{output:?}");
    assert_eq!(output.stderr, b"");
}
