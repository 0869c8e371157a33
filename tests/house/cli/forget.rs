//! `forget`: what leaves, what stays for somebody to look at, and what cannot be reached; and that nothing else is changed.

use std::fs;
use std::path::Path;

use crate::fixture::{Bench, noisy, plain};

const NAME: &str = "Zoë Brönte-Ash";

/// A record that names its buyer once, in a line of its own.
fn record(end: &str) -> String {
    let text = format!(
        "# The stool with the wash on it.\ntitle = \"Ash stool\"\nnumber = \"ST-01\"\nkind = \"seating/stool\"\n\
         summary = \"An ash stool, washed and waxed.\"\n\n[handover]   # gone\non  =  2026-05-20\n\
         to  =  \"{NAME}, 5 Mill Lane\"   # rings late\nprice = 90\n\n\
         [[part]]\nid = \"seat\"\nname = \"Seat\"\nstanding = \"original\"\n\
         [[work]]\non = 2026-05-11\npart = \"seat\"\ndid = \"washed it\"\n"
    );
    text.replace('\n', end)
}

fn stool(end: &str) -> Bench {
    Bench::workshop()
        .write("pieces/stool/record.toml", record(end))
        .write("pieces/stool/story.md", "It came with a split.\n")
        .write("pieces/stool/photos/before-front.jpg", noisy(1, 64))
        .write("pieces/stool/photos/after-front.jpg", plain(140))
        .sound_piece("chair", "CH-001")
}

/// The files below a folder that hold some text as it is written, or in small letters and without accents as the index of
/// words keeps it.
fn holding(bench: &Bench, folder: &str, text: &str) -> Vec<String> {
    let forms = [text.to_owned(), text.to_lowercase(), "bronte".to_owned()];
    let within = |bytes: &[u8]| {
        forms.iter().any(|form| bytes.windows(form.len()).any(|window| window == form.as_bytes()))
    };
    let files = bench.files(folder).into_iter();
    files.filter(|(_, bytes)| within(bytes)).map(|(path, _)| path).collect()
}

/// Every file of the workshop with its bytes, but for what is made.
fn own_files(bench: &Bench) -> Vec<(String, Vec<u8>)> {
    let mut files = bench.files(".");
    files.retain(|(path, _)| {
        let path = Path::new(path);
        !path.starts_with("written") && !path.starts_with(".darkroom") && !path.ends_with("record.toml")
    });
    files
}

#[test]
fn the_name_leaves_record_papers_database_and_darkroom_and_nothing_else_changes() {
    for end in ["\n", "\r\n"] {
        let bench = stool(end).args(["handover", "stool"]).status(0).runs(["writeup"]);
        assert!(holding(&bench, "written", NAME).iter().any(|path| path.ends_with("archive.db")));
        assert!(holding(&bench, "written", NAME).iter().any(|path| path.starts_with("buyers/")));
        // A printed paper does not show its words to a search.
        let printed = bench
            .files("written/buyers")
            .into_iter()
            .find(|(path, _)| path.starts_with("st-01") && path.ends_with("disclosure.pdf"));
        let kept =
            |bench: &Bench, paper: &[u8]| bench.files(".darkroom").iter().any(|(_, bytes)| bytes == paper);
        assert!(printed.iter().all(|(_, paper)| kept(&bench, paper)));
        let before = own_files(&bench);
        let (bench, told) = bench.args(["forget", "ST-01", "--yes"]).output(0);
        assert!(
            told.contains("pieces/stool/record.toml, line 9: handover.to = Zoë Brönte-Ash, 5 Mill Lane"),
            "{told}"
        );
        assert!(told.contains("The seal does not hold the name, and goes on fitting."), "{told}");
        assert!(told.contains("pieces/stool/sealed/st-01-001: a pack, as it was handed over"), "{told}");
        assert!(told.contains("pieces/stool/sealed/st-01-001.zip: a pack, as it was handed over"), "{told}");
        let line = format!("to  =  \"{NAME}, 5 Mill Lane\"   # rings late{end}");
        let text = String::from_utf8(bench.read("pieces/stool/record.toml")).unwrap();
        assert_eq!(text, record(end).replace(&line, ""));
        assert_eq!(own_files(&bench), before, "no other file of the workshop was touched");
        for folder in ["written", ".darkroom"] {
            assert_eq!(holding(&bench, folder, NAME), Vec::<String>::new(), "{folder}");
        }
        assert_eq!(printed.is_some(), cfg!(feature = "papers"));
        assert!(
            !printed.iter().any(|(_, paper)| kept(&bench, paper)),
            "the darkroom keeps a paper that names the buyer"
        );
        // The seal and the pack are whole, and the record is told as unchanged.
        let bench = bench.args(["verify", "pieces/stool/sealed/st-01-001.zip"]).status(0);
        let bench = bench.args(["verify", "pieces/stool/sealed/st-01-001"]).status(0);
        let page = bench.files("written/archive/pieces/st-01");
        let (_, page) = page.iter().find(|(path, _)| path == "index.html").expect("it has a page");
        assert!(String::from_utf8_lossy(page).contains("The record has not been changed since."));
        // Once forgotten, there is nobody to forget.
        bench.args(["forget", "stool", "--yes"]).stdout_has("The record of stool names no buyer.").status(0);
    }
}

#[test]
fn it_shows_before_it_does_and_does_nothing_unasked() {
    let bench = stool("\n").runs(["writeup"]);
    let whole = bench.files(".");
    let bench = bench.args(["forget", "stool", "--show"]).stdout_has("Leaves the record").status(0);
    assert!(bench.files(".") == whole);
    // Nobody answers.
    let bench = bench.args(["forget", "stool"]).stdout_has("Nothing was changed.").status(0);
    assert!(bench.files(".") == whole);
    let bench = bench.args(["forget", "stol", "--yes"]).stderr_has("perhaps `stool`").status(2);
    let bench =
        bench.args(["forget", "chair", "--yes"]).stdout_has("The record of chair names no buyer.").status(0);
    assert!(bench.files(".") == whole);
}

#[test]
fn a_yes_on_the_input_is_a_yes() {
    let bench = stool("\n").args(["forget", "stool"]);
    let output = bench.command().write_stdin("y\n").output().unwrap();
    assert!(output.status.success(), "{output:?}");
    assert!(holding(&bench, "pieces/stool", NAME).is_empty());
    assert!(!bench.path("written").exists(), "nothing was written, so nothing is");
    assert!(!bench.path("buyers-secret.txt").exists());
}

#[test]
fn other_mentions_are_told_with_file_and_line_and_stay() {
    let bench = stool("\n")
        .write(
            "pieces/stool/story.md",
            "For ZOE BRONTE-ASH.\n\nAn ash top, washed; Ash rang, and so did Ada Mill.\n",
        )
        .write("pieces/stool/daybook.txt", "2026-05-20 Zoë\n  Brönte-Ash fetched it\n")
        .write("notes/calls.md", "nobody\nring Zoë Brönte-Ash\n")
        .write("notes/scan.pdf", [0xff, 0xfe, 0])
        .runs(["writeup"]);
    let before = own_files(&bench);
    let (bench, told) = bench.args(["forget", "stool", "--yes"]).output(1);
    for line in [
        "pieces/stool/story.md, line 1: For ZOE BRONTE-ASH.",
        "pieces/stool/daybook.txt, line 1: 2026-05-20 Zoë",
        "notes/calls.md, line 2: ring Zoë Brönte-Ash",
    ] {
        let sure = told.split("may mean the same person").next().unwrap();
        assert!(sure.contains(line), "{line}\n{told}");
    }
    let perhaps = told.split("may mean the same person").nth(1).unwrap();
    assert!(perhaps.contains("pieces/stool/story.md, line 3: An ash top, washed; Ash rang"), "{told}");
    assert!(perhaps.contains("Could not be looked into:\n  notes/scan.pdf"), "{told}");
    // The timber may be a name, the wash is none.
    assert!(perhaps.contains("record.toml, line 2: title = \"Ash stool\""), "{told}");
    assert!(!told.contains("record.toml, line 1:") && !told.contains("record.toml, line 5:"), "{told}");
    assert!(told.contains("The name still stands in what was written"), "{told}");
    assert!(told.contains("written/showroom/pieces/st-01/index.html"), "{told}");
    assert_eq!(own_files(&bench), before);
}

#[test]
fn a_name_that_stands_twice_in_the_record_leaves_both_fields_and_is_told_where_it_stays() {
    let text = record("\n")
        .replace("[handover]", "notes = \"Zoë Brönte-Ash wants it waxed\"\nreserved = { to = \"Zoë Brönte-Ash\", on = 2026-05-02 }\n[handover]");
    let bench = stool("\n").write("pieces/stool/record.toml", &text);
    let (bench, told) = bench.args(["forget", "stool", "--yes"]).output(0);
    assert!(told.contains("line 8: reserved.to") && told.contains("line 11: handover.to"), "{told}");
    assert!(told.contains("pieces/stool/record.toml, line 7: notes = "), "{told}");
    let left = String::from_utf8(bench.read("pieces/stool/record.toml")).unwrap();
    assert!(left.contains("reserved = { on = 2026-05-02 }") && left.contains("notes = \"Zoë"), "{left}");
    assert_eq!(left.matches("Brönte").count(), 1, "{left}");
}

#[test]
fn what_cannot_be_changed_safely_is_left_alone() {
    let list = record("\n").replace("[handover]   # gone", "[[handover]]");
    let bench = stool("\n")
        .write("pieces/stool/record.toml", &list)
        .args(["forget", "stool", "--yes"])
        .stderr_has("nothing was changed")
        .stderr_has("line 9 of the record stays as it is")
        .status(2);
    assert_eq!(bench.read("pieces/stool/record.toml"), list.as_bytes());
    let broken = record("\n").replace("standing = \"original\"", "standing = \"orignal\"");
    let bench = bench
        .write("pieces/stool/record.toml", &broken)
        .args(["forget", "stool", "--yes"])
        .stderr_has("the record has mistakes")
        .status(2);
    assert_eq!(bench.read("pieces/stool/record.toml"), broken.as_bytes());
}

#[test]
fn another_piece_that_cannot_be_read_keeps_its_papers() {
    let bench = stool("\n").runs(["writeup"]).write("pieces/chair/record.toml", "title = = 3");
    let (bench, _) = bench.args(["forget", "stool", "--yes"]).output(0);
    assert_eq!(holding(&bench, "written", NAME), Vec::<String>::new());
    assert!(bench.path("written/archive/pieces/ch-001/index.html").exists());
}

#[test]
fn a_written_folder_that_holds_something_else_keeps_the_record_from_being_changed() {
    let bench = stool("\n").runs(["writeup"]).write("written/mine.txt", "mine");
    let text = bench.read("pieces/stool/record.toml");
    let bench = bench.args(["forget", "stool", "--yes"]).stderr_has("mine.txt").status(2);
    assert_eq!(bench.read("pieces/stool/record.toml"), text);
    fs::remove_file(bench.path("written/mine.txt")).unwrap();
    bench.args(["forget", "stool", "--yes"]).status(0);
}
