//! Papers that stand: a mistake in a record takes none away.

use crate::fixture::Bench;

/// A sound piece that was written, and after it a mistake in its record.
fn mistaken() -> Bench {
    let bench = Bench::sound().sound_piece("stool", "ST-002").args(["writeup"]).status(0);
    bench.write("pieces/chair/record.toml", "title = \n")
}

/// The files of a piece's papers in all trees, but for the note on them.
fn papers(bench: &Bench, slug: &str) -> Vec<(String, Vec<u8>)> {
    let files = bench.files("written").into_iter();
    files.filter(|(path, _)| path.contains(&format!("/{slug}")) && !path.contains("standing/")).collect()
}

#[test]
fn a_mistaken_record_keeps_its_last_good_papers_and_it_is_said() {
    let bench = Bench::sound().sound_piece("stool", "ST-002").args(["writeup"]).status(0);
    let before = papers(&bench, "ch-001");
    assert!(before.len() > 15, "{}", before.len());
    let bench = bench
        .write("pieces/chair/record.toml", "title = \n")
        .args(["writeup"])
        .stdout_has("Standing from before: 1 piece\n  chair: its record could not be read; papers from before 25 November 2026\n")
        .status(1);
    assert!(papers(&bench, "ch-001") == before);
    let text = |path: &str| String::from_utf8(bench.read(path)).unwrap();
    assert!(text("written/archive/index.html").contains("papers from before 25 November 2026"));
    assert!(text("written/showroom/index.html").contains("pieces/ch-001/index.html"));
    // The archive's front says what waits on the day it is written, and the list of all files has its fingerprint.
    let of_the_day = |path: &str| ["archive/index.html", ".witnessmark"].contains(&path);
    let files = || -> Vec<(String, Vec<u8>)> {
        bench.files("written").into_iter().filter(|(path, _)| !of_the_day(path)).collect()
    };
    let once = files();
    // The day stays that on which they were first left, and a second time nothing else is written.
    let output = bench.command().env("SOURCE_DATE_EPOCH", "1796000000").output().unwrap();
    assert!(String::from_utf8_lossy(&output.stdout).contains("papers from before 25 November 2026\n"));
    assert!(files() == once);
}

#[test]
fn a_mended_record_is_written_anew() {
    let bench = mistaken().args(["writeup"]).status(1);
    let bench = bench.sound_piece("chair", "CH-001").args(["writeup"]).status(0);
    assert!(
        !String::from_utf8(bench.read("written/archive/index.html")).unwrap().contains("papers from before")
    );
}

#[test]
fn without_earlier_papers_there_are_none() {
    let bench = Bench::sound()
        .write("pieces/stool/record.toml", "title = \n")
        .args(["writeup"])
        .stdout_has("  stool: its record could not be read\n")
        .status(1);
    assert!(papers(&bench, "st-002").is_empty());
}

#[test]
fn a_piece_that_is_gone_takes_its_papers_along_unless_it_was_sealed() {
    let bench = Bench::sound().sound_piece("stool", "ST-002").args(["writeup"]).status(0);
    std::fs::remove_dir_all(bench.path("pieces/chair")).unwrap();
    let bench = bench.args(["writeup"]).status(0);
    assert!(papers(&bench, "ch-001").is_empty());
    let bench = bench.args(["handover", "stool", "--with-open-questions"]).status(0);
    let bench = bench.args(["writeup"]).status(0);
    let before = papers(&bench, "st-002");
    assert!(!before.is_empty());
    std::fs::remove_dir_all(bench.path("pieces/stool")).unwrap();
    let bench = bench
        .args(["writeup"])
        .stdout_has(
            "stool: its folder is gone, and it was sealed; papers from before 25 November\n    2026\n",
        )
        .status(0);
    assert!(papers(&bench, "st-002") == before);
}

#[test]
fn a_sealed_piece_keeps_its_address_when_its_number_changes() {
    let bench = Bench::sound().args(["handover", "chair", "--with-open-questions"]).status(0);
    let bench = bench.args(["writeup"]).status(0);
    let buyers = |bench: &Bench| -> Vec<String> {
        let names = bench.names("written/buyers");
        names.into_iter().filter(|name| name.ends_with("/index.html")).collect()
    };
    let before = buyers(&bench);
    let record =
        String::from_utf8(bench.read("pieces/chair/record.toml")).unwrap().replace("CH-001", "CH-900");
    let why = "\n[[amendment]]\non = 2026-11-25\nbecause = \"numbered anew\"\n";
    let bench = bench.write("pieces/chair/record.toml", record + why).args(["writeup"]);
    let bench = bench.stdout_has("Standing from before: 1 piece\n  chair: ").status(0);
    let after = buyers(&bench);
    assert_eq!((before.len(), after.len()), (1, 2));
    assert!(after.contains(&before[0]));
}

#[test]
fn a_sealed_piece_bears_no_missing_row() {
    let bench = Bench::sound().args(["handover", "chair", "--with-open-questions"]).status(0);
    let bench = bench.args(["writeup"]).status(0);
    let before = papers(&bench, "ch-001");
    let record = String::from_utf8(bench.read("pieces/chair/record.toml")).unwrap();
    let bench = bench.write("pieces/chair/record.toml", record + "\n[[finding]]\nid = \"a\"\nseen = true\n");
    let bench = bench.args(["writeup"]).stdout_has("papers from before").status(1);
    assert!(papers(&bench, "ch-001") == before);
}

#[test]
fn what_is_taken_out_of_the_showroom_goes_although_the_rest_is_mistaken() {
    let bench = Bench::sound().args(["writeup"]).status(0);
    let record = String::from_utf8(bench.read("pieces/chair/record.toml")).unwrap();
    let bench = bench.write("pieces/chair/record.toml", format!("publish = false\nsumary = \"x\"\n{record}"));
    let bench = bench.args(["writeup"]).stdout_has("papers from before").status(1);
    assert!(!bench.path("written/showroom/pieces/ch-001").exists());
    assert!(!String::from_utf8(bench.read("written/showroom/index.html")).unwrap().contains("ch-001"));
    assert!(bench.path("written/archive/pieces/ch-001/index.html").exists());
    // Nor does it come back when nothing of the record can be read any more.
    let bench = bench.write("pieces/chair/record.toml", "title = \n").args(["writeup"]).status(1);
    assert!(!String::from_utf8(bench.read("written/showroom/index.html")).unwrap().contains("ch-001"));
}

#[test]
fn papers_of_one_piece_alone_leave_a_mistaken_one_standing() {
    let bench = mistaken().args(["writeup", "--only", "stool"]);
    let before = papers(&bench, "ch-001");
    let bench = bench.status(0);
    assert!(papers(&bench, "ch-001") == before);
}
