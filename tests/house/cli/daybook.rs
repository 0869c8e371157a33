//! `witnessmark jot` and `witnessmark enter`

use std::fs;

use crate::fixture::{Bench, plain, today};

const BOOK: &str = "pieces/chair/daybook.txt";
const RECORD: &str = "pieces/chair/record.toml";

fn bench() -> Bench {
    Bench::workshop().piece("chair", "Rush chair", "CH-001")
}

fn text(bench: &Bench, path: &str) -> String {
    String::from_utf8(bench.read(path)).unwrap()
}

#[test]
fn a_line_is_put_behind_those_that_are_there() {
    let bench = bench()
        .args(["jot", "CH-001", "closed the split, hide glue, 1.5h"])
        .stdout_has("on the papers: closed the split, hide glue")
        .status(0);
    assert_eq!(text(&bench, BOOK), format!("{} closed the split, hide glue, 1.5h\n", today()));
    let bench =
        bench.write(BOOK, "2026-03-11 a\r\n  b").args(["jot", "chair", "must", "order", "glides"]).status(0);
    assert_eq!(text(&bench, BOOK), format!("2026-03-11 a\r\n  b\r\n{} must order glides\r\n", today()));
    let bench = bench.args(["jot", "chair", "12/3 seat off"]).status(0);
    assert!(text(&bench, BOOK).ends_with("glides\r\n12/3 seat off\r\n"));
}

#[test]
fn what_cannot_be_jotted_changes_nothing() {
    let bench = bench().args(["jot", "stool", "x"]).stderr_has("there is no piece `stool`").status(2);
    let bench = bench.args(["jot", "chair", " \u{200b}"]).stderr_has("nothing to jot").status(2);
    assert!(!bench.path(BOOK).exists());
    let latin = b"2026-03-11 caf\xe9\n";
    let bench = bench.write(BOOK, latin).args(["jot", "chair", "x"]).stderr_has("save it as UTF-8").status(2);
    assert_eq!(bench.read(BOOK), latin);
    let bench = bench
        .write("photo.txt", "no photograph")
        .write(BOOK, "2026-03-11 a\n")
        .args(["jot", "chair", "x", "--photo", "photo.txt"])
        .stderr_has("was not brought in, and nothing was jotted")
        .status(2);
    assert_eq!(text(&bench, BOOK), "2026-03-11 a\n");
}

#[test]
fn a_photograph_comes_in_with_its_line() {
    let bench = bench()
        .write("IMG_7.JPG", plain(90))
        .args(["jot", "chair", "glued", "--photo", "IMG_7.JPG"])
        .stdout_has("during-01.JPG")
        .status(0);
    assert_eq!(bench.names("pieces/chair/photos"), ["during-01.JPG"]);
}

#[cfg(unix)]
#[test]
fn a_link_in_place_of_the_day_book_is_not_followed() {
    let bench = bench().write("elsewhere.txt", "mine\n");
    std::os::unix::fs::symlink(bench.path("elsewhere.txt"), bench.path(BOOK)).unwrap();
    let bench = bench.args(["jot", "chair", "x"]).status(2);
    assert_eq!(text(&bench, "elsewhere.txt"), "mine\n");
}

#[test]
fn proposals_are_shown_and_those_that_are_agreed_to_are_written_once() {
    let part = "\n[[part]]\nid = \"seat\" # as found\nname = \"Seat\"\nstanding = \"original\"\n";
    let bench = bench();
    let record = text(&bench, RECORD) + part;
    let bench = bench
        .write(RECORD, &record)
        .write(BOOK, "2026-03-11 lead swab seat neg\n2026-03-12 split in the left leg\n");
    let bench = bench.args(["enter", "chair", "--show"]).stdout_has("result = \"negative\"").status(0);
    assert_eq!(text(&bench, RECORD), record);
    let bench = bench.args(["enter", "chair", "--all"]).stdout_has("1 row was entered").status(0);
    let entered = text(&bench, RECORD);
    assert!(entered.starts_with(record.trim_end()), "{entered}");
    assert!(entered.contains("from-daybook = \"2026-03-11 lead swab seat neg\""), "{entered}");
    // What was asked is answered with no, and so stays as it was.
    let bench = bench.args(["enter", "chair"]);
    bench.command().write_stdin("n\nn\nn\nn\n").assert().code(0);
    assert_eq!(text(&bench, RECORD), entered);
    // The part that the record does not have is not added, and the row is entered without it.
    bench.command().write_stdin("n\ny\n").assert().code(0);
    let more = text(&bench, RECORD);
    assert!(more.contains("seen = \"split\"") && !more.contains("lead swab seat neg\"\nfrom"), "{more}");
    assert_eq!(fs::read_to_string(bench.path(BOOK)).unwrap().lines().count(), 2);
}

#[test]
fn a_part_that_the_record_does_not_have_is_offered_and_then_named() {
    let bench = bench().write(BOOK, "2026-03-12 split in the left leg\n").args(["enter", "chair"]);
    let record = text(&bench, RECORD);
    let asked = bench.command().write_stdin("y\ny\n").assert().code(0);
    let asked = String::from_utf8(asked.get_output().stdout.clone()).unwrap();
    assert!(asked.contains("the record has no part “left leg”; add it"), "{asked}");
    let entered = text(&bench, RECORD);
    assert!(entered.starts_with(record.trim_end()), "{entered}");
    let part = "[[part]]\nid = \"left-leg\"\nname = \"Left leg\"\nstanding = \"unknown\"\n";
    assert!(entered.contains(part) && entered.contains("part = \"left-leg\"\nseen = \"split\""), "{entered}");
}

#[test]
fn lines_stand_on_the_papers_and_what_is_private_does_not() {
    let book = "2026-03-11 reglued two rungs, 1.5h\n2026-03-12 new rush £14; wove half of it\n\
                2026-03-12 soaked the rush\n\
                2026-03-13 private: the seat is a later one\n2026-03-14 must order glides\n";
    let bench = Bench::sound().write(BOOK, book).args(["writeup"]).status(0);
    let pages = |tree: &str| -> String {
        let files = bench.files(&format!("written/{tree}"));
        files
            .into_iter()
            .filter(|(path, _)| path.ends_with(".html"))
            .map(|(_, bytes)| String::from_utf8(bytes).unwrap())
            .collect()
    };
    for tree in ["showroom", "buyers"] {
        let pages = pages(tree);
        assert!(!pages.contains("later one") && !pages.contains("£14") && !pages.contains("1.5h"), "{tree}");
        assert!(!pages.contains("ove half of it"), "a line that speaks of money stays whole in the archive");
    }
    let buyers = pages("buyers");
    assert!(
        buyers.contains("eglued two rungs") && buyers.contains("oaked the rush"),
        "the build record has them"
    );
    let archive = pages("archive");
    assert!(archive.contains("later one") && archive.contains("£14") && archive.contains("1.5h"));
}
