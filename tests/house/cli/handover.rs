//! `handover`: what is sealed and written, what stands in the way, and what is left of a run that was killed.

use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

use crate::fixture::{Bench, noisy};

const RECORD: &str = "title = \"Ash stool\"\nnumber = \"ST-01\"\nkind = \"seating/stool\"\nhours = 3\n\
     notes = \"a private note\"\nasking = 20.00\n\
     [[part]]\nid = \"seat\"\nname = \"Seat\"\nstanding = \"original\"\n\
     [[finding]]\nid = \"f1\"\npart = \"seat\"\nseen = \"split\"\n\
     [[cost]]\nwhat = \"a private cost\"\namount = 3\n";

const OPEN: &str = "[[open]]\nwhat = \"fit felt under the feet\"\n";

fn stool(more: &str) -> Bench {
    Bench::workshop()
        .write("pieces/stool/record.toml", format!("{RECORD}{more}"))
        .write("pieces/stool/story.md", "It came with a split.\n")
        .write("pieces/stool/photos/before-front.jpg", noisy(1, 64))
        .write("pieces/stool/photos/after-front.jpg", noisy(2, 64))
}

fn has(bench: &Bench, path: &str) -> bool {
    bench.path(path).exists()
}

#[test]
fn it_seals_the_record_and_writes_a_pack_that_verifies() {
    let bench = stool("")
        .args(["handover", "stool", "--on", "2026-11-20"])
        .stdout_has("Sealed: Ash stool (ST-01)")
        .stdout_has("seal 1")
        .stdout_has("left     2026-11-20")
        .status(0);
    let pack = "pieces/stool/sealed/st-01-001";
    for file in [
        "bagit.txt",
        "bag-info.txt",
        "manifest-sha256.txt",
        "data/index.html",
        "data/disclosure.html",
        "data/care.html",
        "data/build-record.html",
        "data/assets/style.css",
        "data/pictures/before-01-64.jpg",
        "data/record.toml",
        "data/record.json",
        "data/read-me-first.txt",
    ] {
        assert!(has(&bench, &format!("{pack}/{file}")), "{file} is missing: {:#?}", bench.names(pack));
    }
    let record = bench.read(&format!("{pack}/data/record.toml"));
    let digest = witnessmark::unit::fingerprint(&record);
    let seal = String::from_utf8(bench.read("pieces/stool/sealed/001.toml")).unwrap();
    assert!(seal.contains(&format!("sha256 = \"{digest}\"")), "{seal}");
    let short: Vec<&str> = (0..4).map(|group| &digest[group * 4..group * 4 + 4]).collect();
    for page in ["index", "disclosure", "care", "build-record"] {
        let page = String::from_utf8(bench.read(&format!("{pack}/data/{page}.html"))).unwrap();
        assert!(page.contains(&short.join(" ")), "{page}");
    }
    let text = String::from_utf8(record).unwrap();
    assert!(text.contains("on = 2026-11-20") && text.contains("story = \"It came with a split.\""), "{text}");
    for private in ["a private", "asking", "hours"] {
        assert!(!text.contains(private), "{private}");
    }
    let json: serde_json::Value =
        serde_json::from_slice(&bench.read(&format!("{pack}/data/record.json"))).unwrap();
    assert_eq!(json["part"][0]["standing"], "original");
    assert_eq!(
        bench.read("pieces/stool/record.toml"),
        RECORD.as_bytes(),
        "the record stays as it was written"
    );
    let bench = bench.args(["verify", pack]).status(0);
    bench.args(["verify", "pieces/stool/sealed/st-01-001.zip"]).status(0);
}

#[test]
fn the_packs_label_leads_to_the_papers_on_the_web_where_they_have_an_address() {
    let handed = |bench: Bench| bench.args(["handover", "stool"]).status(0);
    let label = |bench: &Bench| bench.read("pieces/stool/sealed/st-01-001/data/label.svg");
    let without = handed(stool(""));
    assert!(!has(&without, "buyers-secret.txt"), "a secret that nothing needs");
    let workshop = "name = \"Bench\"\ncurrency = \"GBP\"\npapers-address = \"https://papers.example\"\n";
    let bench = handed(stool("").write("workshop.toml", workshop)).args(["writeup"]).status(1);
    assert!(label(&bench) != label(&without));
    let names = bench.names("written/buyers");
    let written = names.iter().find(|name| name.ends_with("/label.svg")).expect("a label is written");
    assert_eq!(label(&bench), bench.read(&format!("written/buyers/{written}")));
    let folder = written.trim_end_matches("/label.svg");
    let text = String::from_utf8(bench.read("pieces/stool/sealed/st-01-001/data/read-me-first.txt")).unwrap();
    assert!(text.contains(&format!("\n  https://papers.example/{folder}/\n")), "{text}");
}

#[test]
fn the_same_piece_gives_the_same_pack() {
    let zip =
        |bench: Bench| bench.args(["handover", "ST-01"]).status(0).read("pieces/stool/sealed/st-01-001.zip");
    assert!(zip(stool("")) == zip(stool("")));
}

#[test]
fn errors_and_open_questions_stand_in_the_way() {
    let bench = stool("[[work]]\ndid = \"x\"\nmends = \"f9\"\n")
        .args(["handover", "stool"])
        .stderr_has("(why unknown-finding)")
        .stderr_has("pieces/stool/record.toml, line ")
        .stderr_has("Refused: stool was not handed over: its mistakes would be sealed with it.")
        .status(1);
    assert!(!has(&bench, "pieces/stool/sealed"));
    let bench = stool(OPEN)
        .args(["handover", "stool", "--on", "2027-01-01"])
        .stderr_has("\"fit felt under the feet\" is still open")
        .stderr_has("pieces/stool/record.toml, line ")
        .stderr_has("--with-open-questions")
        .status(1);
    assert!(!has(&bench, "pieces/stool/sealed"));
    let bench = bench.args(["handover", "stool", "--with-open-questions"]).status(0);
    let page = bench.read("pieces/stool/sealed/st-01-001/data/disclosure.html");
    assert!(String::from_utf8(page).unwrap().contains("Fit felt under the feet."));
}

#[test]
fn errors_of_other_pieces_do_not_and_broken_ones_have_no_say() {
    let bench =
        stool("").write("pieces/other/record.toml", "title = \"").args(["handover", "stool"]).status(0);
    assert!(has(&bench, "pieces/stool/sealed/001.toml"));
    let bench = bench.args(["handover", "other"]).stderr_has("broken-toml").status(1);
    bench.args(["handover", "stol"]).stderr_has("perhaps `stool`").status(2);
}

#[test]
fn two_days_contradict_each_other() {
    let bench = stool("[handover]\non = 2026-11-19\n")
        .args(["handover", "stool", "--on", "2026-11-20"])
        .stderr_has("the record says")
        .status(1);
    assert!(!has(&bench, "pieces/stool/sealed"));
    let bench =
        bench.args(["handover", "stool", "--on", "20.11.2026"]).stderr_has("write the day as").status(2);
    bench.args(["handover", "stool"]).stdout_has("left     2026-11-19").status(0);
}

#[test]
fn a_change_since_is_told_by_inspect_and_on_every_paper_and_a_second_seal_never_replaces_the_first() {
    let bench = stool("").args(["handover", "stool"]).status(0);
    let first = bench.files("pieces/stool/sealed");
    let bench = bench
        .write(
            "pieces/stool/record.toml",
            RECORD.replace("\"original\"", "\"old-repair\"").replace("hours = 3", "hours = 4"),
        )
        .write("pieces/stool/sealed/receipt.txt", "mine")
        .args(["inspect"])
        .stderr_has("  Hint: Part “Seat”, standing: “original” before,")
        .stderr_has("(why amendment-unexplained)")
        .status(1);
    let bench = bench.args(["writeup"]).status(1);
    let papers = bench.files("written");
    // The archive's pages across all pieces tell what was learnt from them.
    let across = |path: &str| path.starts_with("archive/") && !path.starts_with("archive/pieces/");
    let pages = papers.iter().filter(|(path, _)| path.ends_with(".html") && !across(path));
    let told = "standing: “original” before, “old repair” now";
    let mut silent: Vec<&str> = pages
        .filter(|(_, bytes)| !String::from_utf8_lossy(bytes).contains(told))
        .map(|(path, _)| path.as_str())
        .collect();
    // Front pages, the page for lost addresses, and what a post is made from are no papers of the piece.
    silent.retain(|path| !path.ends_with("post.html"));
    assert_eq!(silent, ["showroom/404.html", "showroom/index.html"], "the other pages tell it");
    let bench = bench
        .args(["handover", "stool"])
        .stdout_has("1 change since seal 1, which stays:")
        .stdout_has("seal 2")
        .status(0);
    let after = bench.files("pieces/stool/sealed");
    for (path, bytes) in first {
        assert!(after.contains(&(path.clone(), bytes)), "{path} is gone or another");
    }
    assert_eq!(bench.read("pieces/stool/sealed/receipt.txt"), b"mine");
    let bench = bench.args(["handover", "stool"]).stdout_has("Nothing was changed since seal 2").status(0);
    assert!(has(&bench, "pieces/stool/sealed/003.toml") && has(&bench, "pieces/stool/sealed/st-01-003.zip"));
    bench.args(["inspect"]).status(1);
}

/// The numbers by which calendars know that a pack's is newer.
fn editions(bench: &Bench, pack: &str) -> Vec<u32> {
    let calendar = String::from_utf8(bench.read(&format!("{pack}/data/calendar.ics"))).unwrap();
    let lines = calendar.lines().filter_map(|line| line.strip_prefix("SEQUENCE:"));
    lines.map(|number| number.trim().parse().unwrap()).collect()
}

/// RFC 5545, section 3.8.7.4: the sequence of an event rises with each significant revision.
#[test]
fn the_calendar_of_a_second_seal_is_newer_even_on_the_same_day() {
    let bench = stool("[handover]\non = 2026-11-19\n").args(["handover", "stool"]).status(0);
    let bench = bench.args(["handover", "stool"]).status(0);
    let [first, second] =
        ["001", "002"].map(|seal| editions(&bench, &format!("pieces/stool/sealed/st-01-{seal}")));
    assert!(!first.is_empty() && first.len() == second.len(), "{first:?} {second:?}");
    assert!(first.iter().zip(&second).all(|(first, second)| first < second), "{first:?} {second:?}");
}

#[test]
fn a_seal_that_was_changed_is_an_error() {
    let bench = stool("").args(["handover", "stool"]).status(0);
    let seal = String::from_utf8(bench.read("pieces/stool/sealed/001.toml")).unwrap();
    bench
        .write("pieces/stool/sealed/001.toml", seal.replace("\"original\"", "\"new\""))
        .args(["inspect"])
        .stderr_has("(why seal-broken)")
        .stderr_has("it was changed after sealing")
        .status(1);
}

#[test]
fn names_that_are_hard_to_write_are_written() {
    let record =
        "title = \"../..\\\\ <b>“Stool”</b>\\nof 100%\"\nnumber = \"Nº 7/b: §\"\nkind = \"seating/stool\"\n";
    let bench = Bench::workshop()
        .write("pieces/a b ü/record.toml", record)
        .write("pieces/a b ü/photos/before é: front%.jpg", noisy(1, 32))
        .args(["handover", "pieces/a b ü/"])
        .status(0);
    let names = bench.names("pieces/a b ü/sealed");
    let pack = names.iter().find(|name| name.ends_with(".zip")).unwrap().trim_end_matches(".zip").to_owned();
    assert!(names.iter().all(|name| name.starts_with(&pack) || name == "001.toml"), "{names:?}");
    let pack = format!("pieces/a b ü/sealed/{pack}.zip");
    bench.args(["verify", &pack]).status(0);
}

#[test]
fn a_file_in_place_of_the_folder_and_a_name_that_is_taken_are_told_and_kept() {
    let bench = stool("")
        .write("pieces/stool/sealed", "mine")
        .args(["handover", "stool"])
        .stderr_has("is not a folder, and seals belong there")
        .status(2);
    assert_eq!(bench.read("pieces/stool/sealed"), b"mine");
    let bench = stool("")
        .write("pieces/stool/sealed/st-01-001.zip", "mine")
        .args(["handover", "stool"])
        .stderr_has("is there already; move it away")
        .status(2);
    assert_eq!(bench.names("pieces/stool/sealed"), ["st-01-001.zip"]);
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written_is_told_and_left() {
    use std::os::unix::fs::PermissionsExt;
    let bench = stool("");
    let folder = bench.path("pieces/stool");
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o555)).unwrap();
    // Whoever may do everything is not held by permissions.
    let held = fs::write(folder.join("probe"), "").is_err();
    let bench = match held {
        true => bench.args(["handover", "stool"]).stderr_has("cannot make a folder in").status(2),
        false => bench,
    };
    fs::set_permissions(&folder, fs::Permissions::from_mode(0o755)).unwrap();
    assert!(!has(&bench, "pieces/stool/sealed"));
}

/// What a handover leaves: nothing, or the seal with its whole pack. Says how many seals there are.
#[track_caller]
fn whole(bench: &Bench, round: u64) -> usize {
    let sealed = bench.path("pieces/stool/sealed");
    if !sealed.exists() {
        return 0;
    }
    let mut names: Vec<String> = fs::read_dir(&sealed)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name != "mine.txt")
        .collect();
    names.sort();
    let seals = names.iter().filter(|name| name.ends_with(".toml")).count();
    let expected: Vec<String> = (1..=seals)
        .map(|seal| format!("{seal:03}.toml"))
        .chain((1..=seals).flat_map(|seal| [format!("st-01-{seal:03}"), format!("st-01-{seal:03}.zip")]))
        .collect();
    assert_eq!(names, expected, "round {round}");
    for seal in 1..=seals {
        let pack = sealed.join(format!("st-01-{seal:03}"));
        check_bag(&pack, round);
        let zip = fs::read(sealed.join(format!("st-01-{seal:03}.zip"))).unwrap();
        let archive = zip::ZipArchive::new(std::io::Cursor::new(zip)).unwrap();
        let files = walkdir::WalkDir::new(&pack)
            .into_iter()
            .filter(|entry| entry.as_ref().unwrap().file_type().is_file());
        assert_eq!(archive.len(), files.count(), "round {round}");
    }
    seals
}

/// Reads a bag's list with nothing of the program's own.
#[track_caller]
fn check_bag(pack: &Path, round: u64) {
    let list = fs::read_to_string(pack.join("manifest-sha256.txt")).unwrap();
    assert!(list.lines().count() > 10, "round {round}");
    for line in list.lines() {
        let (digest, path) = line.split_once("  ").unwrap();
        let bytes =
            fs::read(pack.join(path)).unwrap_or_else(|error| panic!("round {round}: {path}: {error}"));
        assert_eq!(witnessmark::unit::fingerprint(&bytes), digest, "round {round}: {path}");
    }
}

#[test]
fn killed_at_any_moment_there_is_no_trace_or_all_of_it() {
    let bench = stool("")
        .write("pieces/stool/photos/during-glue.jpg", noisy(3, 700))
        .write("pieces/stool/sealed/mine.txt", "mine")
        .args(["handover", "stool"]);
    let handover = || {
        let mut process = bench.process();
        process.stdout(Stdio::null()).stderr(Stdio::null());
        process
    };
    // How long one takes here, so that the kills are spread over all of it.
    let begun = std::time::Instant::now();
    assert!(handover().status().unwrap().success());
    let takes = begun.elapsed().as_micros() as u64;
    let (mut seals, mut state, mut completed) = (whole(&bench, 0), 0x2545_f491_u64, 0);
    assert_eq!(seals, 1);
    for round in 1..=50_u64 {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let mut child = handover().spawn().unwrap();
        std::thread::sleep(Duration::from_micros((state >> 33) % (takes * 11 / 10)));
        let _ = child.kill();
        child.wait().unwrap();
        let now = whole(&bench, round);
        assert!(now == seals || now == seals + 1, "round {round}: {seals} seals became {now}");
        completed += now - seals;
        seals = now;
        assert_eq!(bench.read("pieces/stool/sealed/mine.txt"), b"mine");
        assert_eq!(bench.read("pieces/stool/record.toml"), RECORD.as_bytes());
        if round == 25 {
            assert!(handover().status().unwrap().success(), "the next one works");
            seals = whole(&bench, round);
            let hidden =
                fs::read_dir(bench.path("pieces/stool")).unwrap().map(|entry| entry.unwrap().file_name());
            let left: Vec<_> = hidden.filter(|name| name.to_string_lossy().starts_with('.')).collect();
            assert!(left.is_empty(), "{left:?}");
        }
    }
    assert!(completed < 50, "every one was done before it was killed, which proves nothing");
    assert!(handover().status().unwrap().success(), "the last one works");
    assert_eq!(whole(&bench, 51), seals + 1);
    bench.args(["inspect"]).status(1);
}

#[test]
fn a_wrong_password_ends_it_before_anything_is_written() {
    let bench = stool("").args(["keys", "--to", "kept", "--inside-workshop"]);
    assert!(bench.command().write_stdin("pear wood\n").output().unwrap().status.success());
    let bench = bench.args(["handover", "stool", "--sign", "--key", "kept"]);
    for (typed, told) in [
        ("plum wood\n", "`kept/witnessmark.key` cannot be used: this is not the password of this secret key"),
        ("", "a password is needed"),
    ] {
        let output = bench.command().write_stdin(typed).output().unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{stderr}");
        assert!(stderr.contains(told), "{stderr}");
        assert!(!stderr.contains("plum"), "a password is never repeated: {stderr}");
        assert!(!has(&bench, "pieces/stool/sealed") && !has(&bench, ".darkroom"), "{typed}");
    }
    let output = bench.command().write_stdin("pear wood\n").output().unwrap();
    assert!(output.status.success() && has(&bench, "pieces/stool/sealed/st-01-001.zip"));
}
