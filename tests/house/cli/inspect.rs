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
    begun()
        .args(["inspect"])
        .stdout_has("Not yet to be handed over, because:\n  1. ")
        .stdout_has("Besides, these three would help its papers most:\n  ")
        .status(1);
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

/// A chair with doubts about its photographs of every family: files, entries, marks, colours.
const DOUBTFUL: &str = "title = \"Chair\"\nnumber = \"CH-001\"\nkind = \"chair/ladder-back\"\npublish = false\n\
                        [[work]]\ndid = \"glued the loose rungs\"\n\
                        [[photo]]\nfile = \"before-front.jpg\"\nmarks = [{ at = [0.5, 0.5] }]\n\
                        [[swatch]]\nphoto = \"before-front.jpg\"\ntarget = [0, 0, 0.6, 1]\nresult = [0.5, 0, 0.5, 1]\n";

fn doubtful() -> Bench {
    let whole = plain(90);
    Bench::workshop()
        .write("pieces/chair/record.toml", DOUBTFUL)
        .write("pieces/chair/photos/before-front.jpg", plain(100))
        .write("pieces/chair/photos/during-1.jpg", &whole[..whole.len() - 3])
        .write("pieces/chair/photos/during-2.jpg", &whole[..40])
        .write("pieces/chair/photos/during-3.heic", b"\0\0\0\x18ftypheic")
        .write("pieces/chair/photos/IMG_1.jpg", plain(120))
}

/// The doubts that a command tells, each as it is drawn.
fn doubts(bench: &Bench, command: &str) -> Vec<String> {
    let output = bench.process().arg(command).output().unwrap();
    let told = String::from_utf8(output.stderr).unwrap();
    // How far the photographs are stands before the first.
    let told = told[told.find("pieces/").unwrap_or(0)..].split("\n\n");
    told.filter(|each| each.contains("\n  Doubt: ")).map(|each| each.trim().to_owned()).collect()
}

#[test]
fn every_doubt_about_photographs_is_told_from_the_first_run_on() {
    let bench = doubtful();
    let first = doubts(&bench, "inspect");
    for code in [
        "photograph-unreadable",
        "photograph-without-stage",
        "no-alternative-text",
        "no-after-photograph",
        "mark-without-meaning",
        "swatch-patches-overlap",
        "swatch-too-small",
    ] {
        assert!(first.iter().any(|doubt| doubt.contains(&format!("(why {code})"))), "{code}: {first:#?}");
    }
    assert_eq!(doubts(&bench, "writeup"), first);
    assert_eq!(doubts(&bench, "inspect"), first);
}

#[test]
fn a_mistake_elsewhere_hides_no_doubt_about_photographs() {
    let photographs = |bench: &Bench| -> Vec<String> {
        let about = ["(why photograph-", "(why no-a", "(why mark-", "(why swatch-"];
        let mut found = doubts(bench, "inspect");
        found.retain(|doubt| about.iter().any(|code| doubt.contains(code)));
        found
    };
    let sound = photographs(&doubtful());
    let part = format!("{DOUBTFUL}[[part]]\nid = \"seat\"\nname = true\nstanding = \"original\"\n");
    assert_eq!(photographs(&doubtful().write("pieces/chair/record.toml", part)), sound);
    let workshop = "name = \"Bench\"\n[[tin]]\nid = true\n";
    assert_eq!(photographs(&doubtful().write("workshop.toml", workshop)), sound);
    // What an entry that cannot be read may have said is not missed.
    let entry = DOUBTFUL.replace("file = \"before-front.jpg\"\nmarks", "file = true\nmarks");
    let told = photographs(&doubtful().write("pieces/chair/record.toml", entry));
    assert!(told.iter().any(|doubt| doubt.contains("(why photograph-unreadable)")), "{told:#?}");
    assert!(!told.iter().any(|doubt| doubt.contains("(why no-alternative-text)")), "{told:#?}");
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
