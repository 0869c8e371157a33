//! `witnessmark writeup`

use std::process::{Command, Stdio};
use std::time::Duration;

use witnessmark::write::{MANIFEST, fingerprint};

use crate::fixture::{Bench, PROGRAM, plain};

/// Asserts that a written tree holds exactly what its list says.
#[track_caller]
fn whole(bench: &Bench, target: &str) {
    let files = bench.files(target);
    let listed: String = files
        .iter()
        .filter(|(path, _)| path != MANIFEST)
        .map(|(path, bytes)| format!("{}  {path}\n", fingerprint(bytes)))
        .collect();
    // The list is sorted by path as text, the folder by its names.
    let sorted = |text: &str| {
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        lines.sort();
        lines
    };
    let list = String::from_utf8(bench.read(&format!("{target}/{MANIFEST}"))).unwrap();
    assert_eq!(sorted(&listed), sorted(&list));
    assert!(files.iter().any(|(path, _)| path == "showroom/index.html"));
}

/// Asserts that nothing of a stage is left beside the target.
#[track_caller]
fn no_stage(bench: &Bench) {
    for entry in std::fs::read_dir(bench.path("")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(!name.contains(".witnessmark-"), "{name}");
    }
}

#[test]
fn a_sound_workshop_is_written_and_what_was_written_is_said() {
    let bench = Bench::sound();
    let before = bench.files("pieces");
    let bench = bench
        .args(["writeup"])
        .stdout_has("Written to written in ")
        .stdout_has("\n  Ladder-back chair")
        .stdout_has("1 piece, ")
        .stdout_has(", 2 photographs developed\n")
        .status(0);
    whole(&bench, "written");
    no_stage(&bench);
    assert!(bench.files("pieces") == before, "nothing that somebody wrote is changed");
}

#[test]
fn the_same_workshop_gives_the_same_bytes() {
    let bench = Bench::sound().args(["writeup", "--to", "one"]).status(0);
    let bench = bench.args(["writeup", "--to", "two"]).status(0);
    assert!(bench.files("one") == bench.files("two"));
    let bench = bench.args(["writeup", "--to", "one"]).status(0);
    assert!(bench.files("one") == bench.files("two"), "written over itself");
}

#[test]
fn one_bad_piece_is_left_out_and_the_others_are_written() {
    let bench = Bench::sound()
        .write("pieces/stool/record.toml", "title = \n")
        .write("pieces/loose/notes.txt", "")
        .args(["writeup"])
        .stderr_has("(why broken-toml)")
        .stderr_has("(why no-record)")
        .stdout_has("Left out: 2 pieces\n  loose: ")
        .stdout_has("\n  stool: ")
        .stdout_has("\n  Ladder-back chair")
        .status(1);
    whole(&bench, "written");
}

#[test]
fn advice_is_counted_and_not_shown() {
    let (_, told) =
        Bench::sound().args(["writeup"]).stdout_has("`witnessmark inspect` shows them\n").output(0);
    assert!(!told.contains("Hint:"), "{told}");
}

#[test]
fn a_workshop_without_pieces_gets_an_empty_showroom() {
    let bench = Bench::workshop()
        .args(["writeup"])
        .stdout_has("There are no pieces yet: `witnessmark intake NAME` opens the first.\n")
        .status(0);
    whole(&bench, "written");
}

#[test]
fn a_target_anywhere_else_is_made_with_the_folders_above_it() {
    let bench = Bench::sound().args(["writeup", ".", "--to", "papers of \"2026\"/neu 🪑"]).status(0);
    whole(&bench, "papers of \"2026\"/neu 🪑");
}

#[test]
fn somebody_elses_folder_is_refused_and_kept() {
    let bench = Bench::sound()
        .write("documents/thesis.txt", "years of work")
        .args(["writeup", "--to", "documents"])
        .stdout("")
        .stderr_has("is not empty and was not written by witnessmark; choose another folder with --to")
        .status(2);
    assert_eq!(bench.names("documents"), ["thesis.txt"]);
}

#[test]
fn a_file_put_into_the_papers_or_changed_there_is_named_and_kept() {
    let bench = Bench::sound().args(["writeup"]).status(0).write("written/showroom/mine.html", "mine");
    let bench = bench
        .args(["writeup"])
        .stderr_has("holds files that witnessmark did not write: `showroom/mine.html`")
        .status(2);
    std::fs::remove_file(bench.path("written/showroom/mine.html")).unwrap();

    let bench = bench.write("written/showroom/index.html", "mine");
    let later = std::time::SystemTime::now() + Duration::from_secs(60);
    let file = std::fs::File::options().write(true).open(bench.path("written/showroom/index.html")).unwrap();
    file.set_modified(later).unwrap();
    let bench = bench
        .args(["writeup"])
        .stderr_has("files were changed after they were written: `showroom/index.html`")
        .status(2);
    assert_eq!(bench.read("written/showroom/index.html"), b"mine");
}

#[test]
fn the_workshops_own_folders_are_no_target() {
    let mut bench = Bench::sound();
    for target in [".", "..", "pieces", "pieces/chair", "theme"] {
        let refusal = "is where the workshop's own files lie; choose another folder with --to";
        bench = bench.args(["writeup", "--to", target]).stderr_has(refusal).status(2);
    }
    assert!(bench.path("pieces/chair/record.toml").exists());
}

#[test]
fn one_piece_alone_leaves_the_papers_of_the_others_as_they_are() {
    let bench = Bench::sound().sound_piece("stool", "ST-001").args(["writeup"]).status(0);
    let of_chair = |bench: &Bench| -> Vec<(String, Vec<u8>)> {
        let mut files = bench.files("written");
        files.retain(|(path, _)| path.contains("/ch-001"));
        files
    };
    let before = of_chair(&bench);
    assert!(!before.is_empty());
    let bench = bench
        .write("pieces/chair/photos/after-front.jpg", plain(200))
        .args(["writeup", "--only", "st-001"])
        .stdout_has("Ladder-back chair")
        .status(0);
    assert!(of_chair(&bench) == before);
    whole(&bench, "written");
    let bench = bench.args(["writeup", "--only", "pieces/chair/"]).status(0);
    assert!(of_chair(&bench) != before, "the new photograph is in");
    bench
        .args(["writeup", "--only", "chiar"])
        .stderr("cannot go on: there is no piece `chiar` (perhaps `chair`) in pieces/\n")
        .status(2);
}

#[cfg(feature = "papers")]
#[test]
fn pages_alone_leave_papers_to_print_as_they_stand_and_lead_to_no_other() {
    let care = |bench: &Bench| {
        let mut files = bench.files("written");
        files.retain(|(path, _)| path.ends_with("/care.pdf"));
        files
    };
    let leads = |bench: &Bench| {
        let pages = bench.files("written").into_iter().filter(|(path, _)| path.ends_with("/index.html"));
        pages.map(|(_, page)| String::from_utf8(page).unwrap()).any(|page| page.contains("care.pdf"))
    };
    let bench = Bench::sound().args(["writeup", "--pages-only"]).stdout_has("not there yet: ").status(0);
    assert!(care(&bench).is_empty() && !leads(&bench));
    let bench = bench.args(["writeup"]).status(0);
    let printed = care(&bench);
    assert!(printed.len() == 1 && leads(&bench));
    let record = String::from_utf8(bench.read("pieces/chair/record.toml"))
        .unwrap()
        .replace("Ladder-back chair", "Ladder-back seat");
    let bench = bench
        .write("pieces/chair/record.toml", record)
        .args(["writeup", "--pages-only"])
        .stdout_has("Not printed: ")
        .stdout_has("from before: ")
        .status(0);
    assert!(care(&bench) == printed && leads(&bench));
    whole(&bench, "written");
    let bench = bench.args(["writeup"]).status(0);
    assert!(care(&bench) != printed, "what was left is printed now");
}

#[test]
fn a_workshop_file_that_cannot_be_read_leaves_the_old_papers() {
    let bench = Bench::sound().args(["writeup"]).status(0);
    let before = bench.files("written");
    let bench = bench
        .write("workshop.toml", "name = \n")
        .args(["writeup"])
        .stdout("")
        .stderr_has("(why broken-toml)")
        .stderr_has("cannot go on: nothing was written: workshop.toml has to be mended first\n")
        .status(2);
    assert!(bench.files("written") == before);
    no_stage(&bench);
}

#[cfg(unix)]
#[test]
fn a_disk_that_takes_no_more_leaves_the_old_papers() {
    let bench = Bench::sound().args(["writeup"]).status(0);
    let before = bench.files("written");
    let bench = bench.write("workshop.toml", "name = \"Another bench\"\n");
    // A limit on the length of files, whose signal is ignored, refuses writing much as a full disk does.
    let mut held = Command::new("sh");
    bench.surround(&mut held);
    let output =
        held.args(["-c", "trap '' XFSZ; ulimit -f 2; exec \"$0\" writeup", PROGRAM]).output().unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("cannot go on: cannot write `") && told.contains("\n  because: "), "{told}");
    assert!(bench.files("written") == before);
    no_stage(&bench);
}

#[test]
fn killed_at_any_moment_the_papers_are_whole() {
    let mut bench = Bench::sound();
    for piece in 2..6 {
        bench = bench.sound_piece(&format!("chair-{piece}"), &format!("CH-00{piece}"));
    }
    // Each round is to bring the other of two states.
    let names = ["name = \"Bench\"\n", "name = \"Another bench\"\n"];
    let mut states = Vec::new();
    for name in names {
        bench = bench.write("workshop.toml", name).args(["writeup"]).status(0);
        states.push(bench.files("written"));
    }
    let mut brought = 0;
    for round in 0..20_u64 {
        let next = usize::from(bench.files("written") == states[0]);
        bench = bench.write("workshop.toml", names[next]);
        bench = bench.args(["writeup"]);
        let mut child = bench.process().stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(Duration::from_micros(1_000 + round * 7_919 % 150_000));
        child.kill().unwrap();
        child.wait().unwrap();
        let found = bench.files("written");
        assert!(states.contains(&found), "round {round}");
        brought += usize::from(found == states[next]);
    }
    assert!(brought < 20, "no round was killed before its end");
    let bench = bench.write("workshop.toml", names[0]).args(["writeup"]).status(0);
    assert!(bench.files("written") == states[0]);
    no_stage(&bench);
}
