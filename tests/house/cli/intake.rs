//! `witnessmark intake`

use std::fs;
use std::time::Instant;

use crate::fixture::{Bench, noisy, plain, taken};

#[test]
fn the_first_piece_makes_the_workshop_too() {
    let bench = Bench::new()
        .args(["intake", "Oak gateleg table", "--kind", "table/gateleg"])
        .stdout(
            "\
Opened Oak gateleg table as TB-001

  made     workshop.toml
  made     schema/record.schema.json
  made     schema/workshop.schema.json
  made     pieces/oak-gateleg-table/record.toml
  made     pieces/oak-gateleg-table/story.md
  made     pieces/oak-gateleg-table/photos/

Next
  Put the workshop's name into workshop.toml.
  Write what you know into pieces/oak-gateleg-table/record.toml.
  `witnessmark inspect` says what would help most.
",
        )
        .stderr("")
        .status(0);
    assert!(bench.path("pieces/oak-gateleg-table/photos").is_dir());
    let record = String::from_utf8(bench.read("pieces/oak-gateleg-table/record.toml")).unwrap();
    assert!(record.starts_with("#:schema ../../schema/record.schema.json\n"));
    let said: toml::Table = record.parse().unwrap();
    assert_eq!(said["title"].as_str(), Some("Oak gateleg table"));
    assert_eq!(said["number"].as_str(), Some("TB-001"));
    assert_eq!(said["kind"].as_str(), Some("table/gateleg"));
    assert_eq!(said["publish"].as_bool(), Some(false));
    assert_eq!(said.len(), 4, "everything else is an example");
}

#[test]
fn a_missing_workshop_is_made_and_named_in_the_next_step() {
    let bench = Bench::new()
        .args(["intake", "Stool", "--in", "my work/new"])
        .stdout_has("`witnessmark inspect 'my work/new'`")
        .status(0);
    let workshop: toml::Table =
        String::from_utf8(bench.read("my work/new/workshop.toml")).unwrap().parse().unwrap();
    assert_eq!(workshop["name"].as_str(), Some("new"));
}

#[test]
fn a_folder_of_something_else_does_not_become_a_workshop() {
    let bench = Bench::new()
        .write("thesis.txt", "")
        .args(["intake", "Stool"])
        .stdout("")
        .stderr(
            "cannot go on: `.` has no workshop.toml and holds other files; name an empty or new folder with \
             --in, and the workshop is made there\n",
        )
        .status(2);
    assert_eq!(bench.names(""), ["thesis.txt"]);
    Bench::new().write(".git/config", "").args(["intake", "Stool"]).status(0);
}

#[test]
fn names_of_any_kind_are_titles_as_they_are() {
    let bench = Bench::workshop();
    let names = [
        ("Grandma's \"best\" chair", "grandma-s-best-chair"),
        ("two\nlines and a \u{1b}[31m colour", "two-lines-and-a-31m-colour"),
        ("🪑", "piece-1"),
        ("כיסא", "piece-2"),
        ("../../outside", "outside"),
    ];
    let mut bench = bench;
    for (name, folder) in names {
        bench = bench.args(["intake", name]).status(0);
        let record = String::from_utf8(bench.read(&format!("pieces/{folder}/record.toml"))).unwrap();
        assert_eq!(record.parse::<toml::Table>().unwrap()["title"].as_str(), Some(name));
    }
    assert!(!bench.path("../outside").exists());
    bench = bench.args(["intake", "🪑"]).stdout_has("Already there: pieces/piece-1").status(0);
    bench.args(["intake", " "]).stderr_has("the piece needs a name").status(2);
}

#[test]
fn numbers_go_on_where_the_workshop_left_off() {
    let bench = Bench::workshop()
        .piece("a", "Chair", "LB-041")
        .args(["intake", "Another", "--kind", "chair"])
        .stdout_has("Opened Another as LB-042")
        .status(0);
    bench.args(["intake", "Thing"]).stdout_has("Opened Thing as PC-001").status(0);
}

#[test]
fn photographs_come_in_as_they_were_taken_and_each_once() {
    let bench = Bench::workshop()
        .write("shots/a.JPG", taken(10, "2026:03:11 14:05:00"))
        .write("shots/b.jpg", taken(20, "2026:03:09 09:00:00"))
        .write("shots/c", plain(30))
        .write("shots/d again.jpg", plain(30))
        .write("shots/after-front.jpg", plain(40))
        .write("shots/notes.txt", "oak?")
        .write("shots/.hidden", "")
        .args(["intake", "Chair", "--photos", "shots"])
        .stdout_has("  copied   before-01.jpg  from b.jpg, taken 2026-03-09 09:00\n")
        .stdout_has("  copied   before-02.JPG  from a.JPG, taken 2026-03-11 14:05\n")
        .stdout_has("  copied   after-front.jpg")
        .stdout_has("  copied   before-03.jpg  from c\n")
        .stdout_has("  skipped  d again.jpg: the same photograph as before-03.jpg\n")
        .stdout_has("  left     notes.txt: not a photograph")
        .stdout_has("4 photographs copied; the originals stay where they are.")
        .status(0);
    assert_eq!(
        bench.names("pieces/chair/photos"),
        ["after-front.jpg", "before-01.jpg", "before-02.JPG", "before-03.jpg"]
    );
    assert_eq!(bench.read("pieces/chair/photos/before-01.jpg"), bench.read("shots/b.jpg"));
    assert_eq!(bench.names("shots").len(), 7, "nothing is moved");
}

#[test]
fn a_second_intake_adds_photographs_and_touches_nothing_else() {
    let bench = Bench::workshop()
        .write("pieces/chair/record.toml", "title = \"My own words\" # mine\n")
        .write("pieces/chair/photos/before-01.jpg", plain(10))
        .write("pieces/chair/photos/after-front.jpg", plain(11))
        .write("shots/x.jpg", plain(10))
        .write("shots/y.jpg", plain(20))
        .write("shots/after-front.jpg", plain(30));
    let bench = bench
        .args(["intake", "Chair", "--photos", "shots"])
        .stdout_has("Already there: pieces/chair; its record and story stay as they are.")
        .stdout_has("  skipped  x.jpg: the same photograph as before-01.jpg\n")
        .stdout_has("  copied   before-02.jpg  from y.jpg\n")
        .stdout_has("  copied   after-front-2.jpg  from after-front.jpg\n")
        .status(0);
    assert_eq!(bench.read("pieces/chair/record.toml"), b"title = \"My own words\" # mine\n");
    assert!(!bench.path("pieces/chair/story.md").exists(), "deleted on purpose, perhaps");
    assert_eq!(bench.read("pieces/chair/photos/after-front.jpg"), plain(11));

    let before = bench.files("pieces");
    let bench = bench.args(["intake", "Chair", "--photos", "shots"]).status(0);
    assert!(bench.files("pieces") == before, "all are there already");
}

#[test]
fn later_additions_are_no_longer_called_before() {
    let bench = Bench::workshop()
        .write("first/a.jpg", taken(10, "2026:03:09 09:00:00"))
        .args(["intake", "Chair", "--photos", "first"])
        .stdout_has("  copied   before-01.jpg")
        .status(0)
        .write("later/b.jpg", taken(20, "2026:03:09 17:00:00"))
        .write("later/c.jpg", taken(30, "2026:03:10 08:00:00"))
        .write("later/d.jpg", plain(40))
        .args(["intake", "Chair", "--photos", "later"])
        .stdout_has("  copied   before-02.jpg  from b.jpg")
        .stdout_has("  copied   during-01.jpg  from c.jpg")
        .stdout_has("  copied   during-02.jpg  from d.jpg")
        .stdout_has("No day of work is told yet")
        .status(0);
    bench
        .write("last/e.jpg", taken(50, "2026:03:10 08:00:00"))
        .args(["intake", "Chair", "--photos", "last", "--stage", "hidden"])
        .stdout_has("  copied   hidden-01.jpg  from e.jpg")
        .status(0);
}

#[test]
fn a_folder_without_a_record_gets_one() {
    let bench = Bench::workshop()
        .write("pieces/chair/photos/before-front.jpg", plain(10))
        .args(["intake", "chair"])
        .stdout_has("Opened chair as PC-001")
        .status(0);
    assert!(bench.path("pieces/chair/record.toml").exists());
}

#[test]
fn a_folder_of_photographs_that_is_missing_leaves_nothing_behind() {
    let bench = Bench::new()
        .args(["intake", "Chair", "--photos", "nowhere"])
        .stdout("")
        .stderr_has("cannot go on: `nowhere` cannot be read\n  because: ")
        .status(2);
    assert!(fs::read_dir(bench.path("")).unwrap().next().is_none());
}

#[test]
fn a_workshop_that_cannot_be_written_says_so() {
    // A file in place of the folder of pieces, since a superuser may write anywhere.
    Bench::workshop()
        .write("pieces", "")
        .args(["intake", "Chair"])
        .stderr_has("cannot go on: cannot make the folder `")
        .status(2);
}

#[test]
fn what_was_left_of_the_photographs_is_told_by_the_exit_code() {
    let bench = Bench::workshop()
        .write("shots/a.jpg", "no photograph")
        .write("shots/b.heic", b"\0\0\0\x18ftypavif\0\0\0\0")
        .write("shots/notes.txt", "oak?")
        .args(["intake", "Chair", "--photos", "shots"])
        .stdout_has("  left     a.jpg: not a photograph")
        .stdout_has("  left     b.heic: AVIF is not read here")
        .stdout_has("No photograph was brought in.\n")
        .status(1);
    let bench = bench
        .write("shots/c.jpg", plain(10))
        .args(["intake", "Chair", "--photos", "shots"])
        .stdout_has("  copied   before-01.jpg  from c.jpg")
        .stdout_has("  left     a.jpg: not a photograph")
        .status(1);
    fs::remove_file(bench.path("shots/a.jpg")).unwrap();
    fs::remove_file(bench.path("shots/b.heic")).unwrap();
    // A note that lies there is nothing that was to be brought in, and a photograph that is there already is there.
    bench.args(["intake", "Chair", "--photos", "shots"]).stdout_has("  skipped  c.jpg").status(0);
}

#[test]
fn hard_links_and_copies_are_one_photograph() {
    let bench = Bench::workshop().write("shots/a.jpg", plain(10)).write("shots/b.jpg", plain(10));
    fs::hard_link(bench.path("shots/a.jpg"), bench.path("shots/c.jpg")).unwrap();
    let bench = bench
        .args(["intake", "Chair", "--photos", "shots"])
        .stdout_has("1 photograph copied")
        .stdout_has("  skipped  b.jpg: the same photograph as before-01.jpg\n")
        .stdout_has("  skipped  c.jpg: the same photograph as before-01.jpg\n")
        .status(0);
    assert_eq!(bench.names("pieces/chair/photos"), ["before-01.jpg"]);
}

#[cfg(unix)]
#[test]
fn nothing_is_brought_into_a_folder_that_is_a_link() {
    let bench = Bench::workshop()
        .piece("chair", "Chair", "CH-001")
        .write("elsewhere/mine.txt", "")
        .write("shots/a.jpg", plain(10));
    std::os::unix::fs::symlink(bench.path("elsewhere"), bench.path("pieces/chair/photos")).unwrap();
    std::os::unix::fs::symlink(bench.path("elsewhere"), bench.path("pieces/stool")).unwrap();
    let bench = bench
        .args(["intake", "chair", "--photos", "shots"])
        .stderr_has(
            "nothing can be brought into `pieces/chair/photos`: this is a link, and links are not followed",
        )
        .status(2)
        .args(["intake", "Stool", "--photos", "shots"])
        .stderr_has("nothing can be brought into `pieces/stool`: this is a link")
        .status(2);
    assert_eq!(bench.names("elsewhere"), ["mine.txt"]);
}

/// At so many moments, spread over a run, a run is killed.
const KILLS: u32 = 60;

#[test]
fn killed_at_any_moment_the_next_run_finishes_and_leaves_nothing_half() {
    let whole = |bench: &Bench| {
        let mut names = bench.names("");
        names.retain(|name| !name.starts_with("shots/"));
        names
    };
    let bench = || {
        let shots = (0..4_u8).fold(Bench::new(), |bench, number| {
            bench.write(&format!("shots/{number}.jpg"), noisy(number.into(), 200))
        });
        shots.args(["intake", "Chair", "--in", "work", "--photos", "shots"])
    };
    let again = |bench: Bench| bench.args(["intake", "Chair", "--in", "work", "--photos", "shots"]).status(0);
    let expected = whole(&again(bench()));
    let bench_of_time = bench();
    let started = Instant::now();
    again(bench_of_time);
    let time = started.elapsed();
    assert_eq!(expected.len(), 3 + 2 + 4, "{expected:?}");
    let (mut unfinished, mut half) = (0, 0);
    for round in 0..KILLS {
        let bench = bench();
        let mut child = bench.process().stdout(std::process::Stdio::null()).spawn().unwrap();
        std::thread::sleep(time * round / KILLS);
        child.kill().unwrap();
        child.wait().unwrap();
        let left = whole(&bench);
        unfinished += usize::from(left != expected);
        half += usize::from(left.iter().any(|name| name.ends_with(".part")));
        if bench.path("work/pieces/chair/record.toml").exists() {
            assert!(bench.path("work/pieces/chair/story.md").exists(), "round {round}: {left:?}");
        }
        let bench = again(bench);
        assert_eq!(whole(&bench), expected, "round {round}, after {left:?}");
        for (number, name) in
            ["before-01.jpg", "before-02.jpg", "before-03.jpg", "before-04.jpg"].iter().enumerate()
        {
            let copied = bench.read(&format!("work/pieces/chair/photos/{name}"));
            assert!(copied == bench.read(&format!("shots/{number}.jpg")), "round {round}: {name}");
        }
    }
    assert!(
        unfinished > 0 && half > 0,
        "too few runs were killed in time to prove anything: {unfinished}, {half}"
    );
}
