//! `witnessmark consult`

use std::fs;

use crate::fixture::{Bench, Workshop};

const DATABASE: &str = "written/archive/archive.db";
const RECORD: &str = "pieces/rush-chair/record.toml";

fn bench() -> Bench {
    Bench::new().lay(&Workshop::example_in_small())
}

#[test]
fn the_database_is_asked_as_long_as_it_tells_what_the_records_say() {
    let asked = ["consult", "bulrush"];
    let bench = bench()
        .args(asked)
        .stderr_has("Asked of the records themselves: `written/archive/archive.db`")
        .stdout_has("CH-008")
        .status(0);
    let bench = bench.args(["writeup"]).status(1);
    let databases: Vec<String> =
        bench.names("written").into_iter().filter(|name| name.ends_with(".db")).collect();
    assert_eq!(databases, ["archive/archive.db"]);
    let bench = bench.args(asked).stderr("").stdout_has("CH-008").status(0);

    // A record that says the same again is no news, and one that says something else is.
    let record = String::from_utf8(bench.read(RECORD)).unwrap();
    fs::write(bench.path(RECORD), &record).unwrap();
    let bench = bench.args(asked).stderr("").status(0);
    fs::write(bench.path(RECORD), format!("notes = \"A zebrano wedge.\"\n{record}")).unwrap();
    let bench =
        bench.args(["consult", "zebrano"]).stderr_has("pieces/rush-chair").stdout_has("zebrano").status(0);
    fs::write(bench.path(RECORD), &record).unwrap();

    // Whatever stands in its place is said, and the records answer.
    let whole = bench.read(DATABASE);
    let mut newer = whole.clone();
    newer[60..64].copy_from_slice(&99_i32.to_be_bytes());
    let mut spoilt = whole.clone();
    spoilt[4096..].fill(0x5a);
    let half = whole[..whole.len() / 2].to_vec();
    let mut bench = bench;
    for (bytes, said) in [
        (half, "Asked of the records"),
        (Vec::new(), "Asked of the records"),
        (b"no database".to_vec(), "Asked of the records"),
        (newer, "newer"),
        (spoilt, "Asked of the records"),
    ] {
        fs::write(bench.path(DATABASE), bytes).unwrap();
        bench = bench.args(asked).stderr_has(said).stdout_has("CH-008").status(0);
    }
    fs::remove_file(bench.path(DATABASE)).unwrap();
    fs::create_dir(bench.path(DATABASE)).unwrap();
    let bench = bench.args(asked).stderr_has("Asked of the records").stdout_has("CH-008").status(0);
    fs::remove_dir(bench.path(DATABASE)).unwrap();
    fs::write(bench.path(DATABASE), &whole).unwrap();
    fs::remove_dir_all(bench.path("pieces/rush-chair")).unwrap();
    bench.args(asked).stderr_has("which is gone").stdout_has("Nothing was found").status(1);
}

#[test]
fn a_database_that_is_held_or_protected_is_asked_and_replaced_all_the_same() {
    let bench = bench().args(["writeup"]).status(1);
    let path = bench.path(DATABASE);
    let holder = rusqlite::Connection::open(&path).unwrap();
    holder.execute_batch("BEGIN EXCLUSIVE; SELECT count(*) FROM piece;").unwrap();
    let bench = bench.args(["consult", "bulrush"]).stderr("").stdout_has("CH-008").status(0);
    let record = String::from_utf8(bench.read(RECORD)).unwrap();
    fs::write(bench.path(RECORD), format!("notes = \"A zebrano wedge.\"\n{record}")).unwrap();
    let bench = bench.args(["consult", "zebrano"]).stdout_has("zebrano").status(0);
    #[cfg(unix)]
    let bench = {
        // What is written is swapped in as a whole, so that whoever holds the old one keeps it.
        let bench = bench.args(["writeup"]).status(1);
        let bench = bench.args(["consult", "zebrano"]).stderr("").stdout_has("zebrano").status(0);
        let held: i64 = holder.query_row("SELECT count(*) FROM piece", [], |row| row.get(0)).unwrap();
        assert!(held > 0);
        bench
    };
    drop(holder);
    let mut protected = fs::metadata(&path).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(&path, protected).unwrap();
    let bench = bench.args(["consult", "zebrano"]).stdout_has("zebrano").status(0);
    fs::write(bench.path(RECORD), record).unwrap();
    let bench = bench.args(["writeup"]).status(1);
    bench.args(["consult", "zebrano"]).stderr("").stdout_has("Nothing was found in").status(1);
}

#[test]
fn the_archives_pages_stand_in_the_archive_alone_and_make_sense_of_none_and_one() {
    let pages = ["faults", "index", "recipes", "stock", "times", "year"].map(|page| format!("{page}.html"));
    let none = Bench::workshop().args(["writeup"]).status(0);
    let front = String::from_utf8(none.read("written/archive/index.html")).unwrap();
    assert!(front.contains("No piece is recorded yet.") && front.contains("Nothing waits."), "{front}");
    assert!(pages.iter().all(|page| none.names("written/archive").contains(page)));
    let example = bench().args(["writeup"]).status(1);
    for bench in [none, example] {
        for tree in
            ["showroom", "buyers"].into_iter().filter(|tree| bench.path(&format!("written/{tree}")).is_dir())
        {
            let elsewhere = bench.names(&format!("written/{tree}"));
            let of_archive = |name: &&String| {
                name.contains("assets/archive/") || name.ends_with("linked.json") || name.ends_with(".db")
            };
            assert_eq!(elsewhere.iter().find(of_archive), None, "{tree}");
        }
    }
}

#[test]
fn every_question_is_answered_in_every_form_at_80_columns() {
    let questions: [&[&str]; 15] = [
        &["words", "glue"],
        &["colour", "--lab", "40,-5,20", "--on", "oak"],
        &["colour"],
        &["time", "gluing"],
        &["quote", "chair/side"],
        &["quote", "table", "--task", "gluing", "--task", "finishing"],
        &["quote", "table", "--earn", "18", "--sell", "240"],
        &["quote", "chair/side", "--earn", "60", "--sell", "24", "--pay", "80"],
        &["faults", "white ring"],
        &["stock"],
        &["money", "--year", "2026"],
        &["money"],
        &["lessons"],
        &["due", "--until", "2027-01-01"],
        &["care", "WT-011", "red wine"],
    ];
    let mut bench = bench();
    for question in questions {
        let mut ask = |form: &str| {
            let args = ["consult"].iter().chain(question).chain(&["--as", form]).copied().collect::<Vec<_>>();
            let (next, text) = std::mem::replace(&mut bench, Bench::new()).args_of(&args).output(0);
            bench = next;
            text
        };
        let text = ask("text");
        assert!(text.contains("Rests on ") || question[0] == "colour", "{question:?}: {text}");
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{question:?}: {line}");
            assert_eq!(line, line.trim_end(), "{question:?}");
        }
        let json: serde_json::Value = serde_json::from_str(&ask("json")).unwrap();
        assert!(json["answered"].as_bool().unwrap(), "{json}");
        assert!(!json["rests-on"].as_array().unwrap().is_empty() || question == ["colour"], "{json}");
        let csv = ask("csv");
        assert!(csv.starts_with("table,") && csv.ends_with("\n") && csv.lines().count() > 1, "{csv}");
    }
}

#[test]
fn what_is_not_there_is_said_with_what_was_searched() {
    let bench = bench().args(["consult", "quaternion"]).stdout_has("Nothing was found in").status(1);
    let bench = bench.args(["consult", "care", "WT-01"]).stderr_has("perhaps WT-011").status(2);
    let bench = bench.args(["consult", "colour", "--swatch", "WT-011/9"]).stderr_has("no swatch 9").status(2);
    let bench = bench.args(["consult", "colour", "--swatch", "WT-011/1"]).stdout_has("None").status(1);
    let bench = bench.args(["consult", "colour", "--lab", "4,x"]).stderr_has("three numbers").status(2);
    let like = "WT-011/after.jpg@0.1,0.1,0.1,0.1";
    let bench = bench.args(["consult", "colour", "--like", like]).stderr_has("has no `after.jpg`").status(2);
    let like = "WT-011/after-front.jpg@0.1,0.1,0.3,0.3";
    let bench = bench.args(["consult", "colour", "--like", like]).stdout_has("Colours like L*").status(0);
    let bench = bench.args(["consult", "stock", "hinges"]).stdout_has("hinges-2025-10").status(0);
    let bench =
        bench.args(["consult", "time", "teleporting"]).stdout_has("The tasks on record are").status(1);
    bench.args(["consult", "due", "--until", "someday"]).stderr_has("someday").status(2);
    Bench::new().args(["consult", "oak"]).stderr_has("is not a workshop").status(2);
    Bench::workshop().args(["consult", "oak"]).stdout_has("0 pieces").status(1);
}

#[test]
fn nothing_that_is_typed_commands_the_search_or_the_terminal() {
    let mut bench = bench();
    for (odd, code) in [
        ("\"", 1),
        ("a\" OR \"b", 0),
        ("NEAR(", 0),
        ("text:quaternion", 1),
        ("* ^ +", 1),
        ("🪑", 1),
        ("כיסא", 1),
        ("\u{202e}\u{1b}[31mquaternion", 1),
        ("'; DROP TABLE line; --", 0),
    ] {
        let (next, text) = bench.args(["consult", "words", "--", odd]).output(code);
        assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text:?}");
        bench = next;
    }
}

#[test]
fn a_new_piece_is_begun_with_what_was_learnt_from_those_like_it() {
    let bench = bench();
    let bench = bench
        .args(["intake", "Walnut stand", "--kind", "table/tripod"])
        .stdout_has("One piece of the kind table took 12.5 hours.")
        .stdout_has("Try oxalic acid on walnut at the edge of a stain")
        .status(0);
    // What pieces of a kind taught is told for its name alone, and the kind is heard in the title.
    let bench = bench
        .args(["intake", "Blanket box", "--kind", "chest"])
        .stdout_has("One piece of the kind chest took 20 hours.")
        .stdout_has("Milk paint on old oil paint")
        .status(0);
    let bench = bench
        .args(["intake", "Old beech chair"])
        .stdout_has("One piece of the kind chair took 16 hours.")
        .stdout_has("Hide glue gels before it wets a cold joint")
        .status(0);
    let (_, told) = bench.args(["intake", "Brass lamp", "--kind", "lamp/desk"]).output(0);
    assert!(!told.contains("Before you begin"), "{told}");
}
