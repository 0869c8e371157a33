//! A darkroom as its users see it: what is found again, what is not, and what stands on the disk.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, SystemTime};

use tempfile::TempDir;

use super::*;

/// A workshop, and a stage beside it.
struct Bench {
    home: TempDir,
}

impl Bench {
    fn new() -> Bench {
        Bench { home: tempfile::tempdir().unwrap() }
    }

    fn workshop(&self) -> &Path {
        self.home.path()
    }

    fn folder(&self) -> PathBuf {
        self.home.path().join(FOLDER)
    }

    fn stage(&self) -> Stage {
        Stage::open(&self.home.path().join("written")).unwrap()
    }

    fn darkroom(&self, stage: &Stage) -> Darkroom {
        Darkroom::open(Some(self.workshop()), stage)
    }
}

fn key(word: &str) -> Key {
    Key::of("test", &[word.as_bytes()])
}

fn keep(darkroom: &Darkroom, word: &str) -> Kept<String> {
    let files = [("a.jpg".to_owned(), word.as_bytes().to_vec()), ("b.jpg".to_owned(), b"b".to_vec())];
    darkroom.keep(&key(word), format!("note of {word}"), &files).unwrap()
}

fn get(darkroom: &Darkroom, word: &str) -> Option<Kept<String>> {
    darkroom.get(&key(word))
}

#[test]
fn what_was_kept_is_found_by_the_next_run() {
    let bench = Bench::new();
    let stage = bench.stage();
    let made = keep(&bench.darkroom(&stage), "oak");
    let darkroom = bench.darkroom(&stage);
    let found = get(&darkroom, "oak").unwrap();
    assert_eq!((found.note.as_str(), &found.files), ("note of oak", &made.files));
    assert!(made.made && !found.made);
    assert_eq!(fs::read(&found.files[0].path).unwrap(), b"oak");
    assert_eq!(found.files[0].digest, fingerprint(b"oak"));
    assert!(get(&darkroom, "ash").is_none());
    assert_eq!(get(&Darkroom::reading(Some(bench.workshop())), "oak").unwrap().files, made.files);
}

#[test]
fn keys_differ_in_kind_parts_and_their_order() {
    let one = Key::of("kind", &[b"ab", b"c"]);
    assert_eq!(one, Key::of("kind", &[b"ab", b"c"]));
    for other in
        [Key::of("kinda", &[b"b", b"c"]), Key::of("kind", &[b"a", b"bc"]), Key::of("kind", &[b"c", b"ab"])]
    {
        assert_ne!(one, other);
    }
}

#[test]
fn the_folder_is_marked_for_backup_programs_and_kept_out_of_repositories() {
    let bench = Bench::new();
    let stage = bench.stage();
    keep(&bench.darkroom(&stage), "oak");
    let tag = fs::read_to_string(bench.folder().join("CACHEDIR.TAG")).unwrap();
    assert!(tag.starts_with("Signature: 8a477f597d28d172789f06886806bc55\n"), "{tag}");
    assert!(tag.contains("may be deleted at any time"), "{tag}");
    assert_eq!(fs::read_to_string(bench.folder().join(".gitignore")).unwrap(), "*\n");
}

/// Damages the entry of `oak` in some way and asserts that it is void, and is made again.
#[track_caller]
fn damaged(damage: impl Fn(&Path)) {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    let folder = keep(&darkroom, "oak").files[0].path.parent().unwrap().to_owned();
    damage(&folder);
    assert!(get(&darkroom, "oak").is_none());
    let made = keep(&darkroom, "oak");
    assert_eq!(fs::read(&made.files[0].path).unwrap(), b"oak");
    assert_eq!(get(&bench.darkroom(&stage), "oak").unwrap().files, made.files);
}

#[test]
fn a_damaged_entry_is_void_and_made_again() {
    damaged(|entry| fs::write(entry.join("a.jpg"), "").unwrap());
    damaged(|entry| fs::remove_file(entry.join("a.jpg")).unwrap());
    damaged(|entry| fs::write(entry.join("entry"), "").unwrap());
    damaged(|entry| fs::remove_file(entry.join("entry")).unwrap());
    damaged(|entry| {
        let text = fs::read_to_string(entry.join("entry")).unwrap();
        fs::write(entry.join("entry"), text.replace("note of oak", "note of ash")).unwrap();
    });
    // Edited to the same length.
    damaged(|entry| {
        fs::write(entry.join("a.jpg"), "ash").unwrap();
        later(&entry.join("a.jpg"));
    });
}

#[test]
fn an_entry_in_the_place_of_another_is_void() {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    keep(&darkroom, "oak");
    let ash = entry::place(&bench.folder(), &key("ash"));
    fs::create_dir_all(ash.parent().unwrap()).unwrap();
    fs::rename(entry::place(&bench.folder(), &key("oak")), ash).unwrap();
    assert!(get(&darkroom, "ash").is_none());
}

#[test]
fn another_date_alone_is_no_damage() {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    later(&keep(&darkroom, "oak").files[0].path);
    assert!(get(&darkroom, "oak").is_some());
}

/// Dates a file some minutes later, as an edit would.
fn later(path: &Path) {
    let later = SystemTime::now() + Duration::from_secs(300);
    fs::File::options().write(true).open(path).unwrap().set_modified(later).unwrap();
}

#[test]
fn a_picture_edited_in_a_written_tree_is_not_taken_from_the_darkroom_again() {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    stage.hang(&keep(&darkroom, "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    let written = bench.workshop().join("written/a.jpg");
    fs::write(&written, "ash").unwrap();
    later(&written);
    assert!(get(&darkroom, "oak").is_none());
    fs::remove_dir_all(bench.workshop().join("written")).unwrap();
    let stage = bench.stage();
    stage.hang(&keep(&darkroom, "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    assert_eq!(fs::read(&written).unwrap(), b"oak");
}

#[test]
fn without_a_darkroom_what_was_kept_lasts_as_long_as_the_stage() {
    let bench = Bench::new();
    let stage = bench.stage();
    for workshop in [None, Some(bench.home.path().join("nowhere"))] {
        let darkroom = Darkroom::open(workshop.as_deref(), &stage);
        let kept = keep(&darkroom, "oak");
        assert_eq!(get(&darkroom, "oak").unwrap().files, kept.files);
        assert_eq!(darkroom.clear().unwrap(), Cleared::default());
    }
    let path = keep(&Darkroom::open(None, &stage), "oak").files[0].path.clone();
    stage.hang(&keep(&Darkroom::open(None, &stage), "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    assert!(!path.exists() && bench.workshop().join("written/a.jpg").exists());
}

#[test]
fn looking_things_up_writes_nothing() {
    let bench = Bench::new();
    let identity = Identity { length: 1, modified: 1, changed: 1, number: 1 };
    let darkroom = Darkroom::reading(Some(bench.workshop()));
    darkroom.remember("a", &identity, "ab");
    darkroom.settle();
    assert!(darkroom.keep(&key("oak"), (), &[]).is_err());
    assert!(!bench.folder().exists());
}

#[test]
fn somebodys_own_folder_of_that_name_is_left_alone() {
    let bench = Bench::new();
    fs::create_dir(bench.folder()).unwrap();
    fs::write(bench.folder().join("shopping.txt"), "glue").unwrap();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    let kept = keep(&darkroom, "oak");
    assert!(!kept.files[0].path.starts_with(bench.folder()));
    darkroom.settle();
    assert_eq!(darkroom.clear().unwrap(), Cleared::default());
    let names: Vec<_> = fs::read_dir(bench.folder()).unwrap().map(|each| each.unwrap().file_name()).collect();
    assert_eq!(names, ["shopping.txt"]);
}

#[test]
fn a_file_is_known_by_its_identity_until_anything_of_it_changes() {
    let bench = Bench::new();
    let stage = bench.stage();
    let old = Identity { length: 1, modified: 1, changed: 1, number: 1 };
    let young = Identity { modified: u64::MAX, ..old };
    let darkroom = bench.darkroom(&stage);
    darkroom.remember("old", &old, "ab");
    darkroom.remember("young", &young, "cd");
    darkroom.settle();
    let darkroom = bench.darkroom(&stage);
    assert_eq!(darkroom.recall("old", &old).as_deref(), Some("ab"));
    assert_eq!(darkroom.recall("old", &Identity { changed: 2, ..old }), None);
    assert_eq!(darkroom.recall("young", &young), None);
    // A file that the last run did not look at is forgotten.
    bench.darkroom(&stage).settle();
    assert_eq!(bench.darkroom(&stage).recall("old", &old), None);
}

#[test]
fn pruning_leaves_what_this_run_used_and_tells_what_it_freed() {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    for word in ["oak", "walnut", "elm"] {
        keep(&darkroom, word);
    }
    drop(darkroom);
    let darkroom = bench.darkroom(&stage);
    assert!(get(&darkroom, "oak").is_some());
    keep(&darkroom, "ash");
    let entry = |word| entry::place(&bench.folder(), &key(word));
    let walnut = fs::read_dir(entry("walnut")).unwrap().map(|file| file.unwrap().metadata().unwrap().len());
    let elm = fs::read_dir(entry("elm")).unwrap().map(|file| file.unwrap().metadata().unwrap().len());
    let bytes = walnut.sum::<u64>() + elm.sum::<u64>();
    assert_eq!(darkroom.clear().unwrap(), Cleared { entries: 2, bytes });
    assert_eq!(["oak", "ash", "walnut", "elm"].map(|word| entry(word).exists()), [true, true, false, false]);
    assert_eq!(darkroom.clear().unwrap(), Cleared::default());
}

#[test]
fn a_darkroom_in_use_is_not_cleared() {
    let bench = Bench::new();
    let stage = bench.stage();
    let (darkroom, other) = (bench.darkroom(&stage), bench.darkroom(&stage));
    keep(&other, "oak");
    assert!(matches!(darkroom.clear(), Err(WriteError::DarkroomInUse(_))));
    assert!(get(&other, "oak").is_some());
    drop(other);
    assert_eq!(darkroom.clear().unwrap().entries, 1);
}

#[test]
fn several_threads_keep_the_same_entries_at_once() {
    let bench = Bench::new();
    let stage = bench.stage();
    let darkrooms = [bench.darkroom(&stage), bench.darkroom(&stage)];
    std::thread::scope(|scope| {
        for darkroom in darkrooms.iter().chain(&darkrooms) {
            scope.spawn(move || (0..100).for_each(|word| _ = keep(darkroom, &word.to_string())));
        }
    });
    for word in 0..100 {
        assert!(get(&darkrooms[0], &word.to_string()).is_some());
    }
    drop(darkrooms);
    assert_eq!(fs::read_dir(bench.folder().join("making")).unwrap().count(), 0, "nothing half made is left");
}

/// Where the child of the kill test keeps.
const KILLED_WORKSHOP: &str = "WITNESSMARK_TEST_WORKSHOP";

/// The child of [`killed_at_any_moment_the_darkroom_is_sound`]; by itself it does nothing.
#[test]
fn keeps_until_it_is_killed() {
    let Some(workshop) = std::env::var_os(KILLED_WORKSHOP) else { return };
    let workshop = PathBuf::from(workshop);
    let stage = Stage::open(&workshop.join(format!("written-{}", std::process::id()))).unwrap();
    let darkroom = Darkroom::open(Some(&workshop), &stage);
    for word in 0.. {
        keep(&darkroom, &format!("{word}"));
    }
}

fn named(place: &fs::DirEntry, process: u32) -> bool {
    place.file_name().to_string_lossy().starts_with(&format!("{process}-"))
}

#[test]
fn killed_at_any_moment_the_darkroom_is_sound() {
    let bench = Bench::new();
    let mut found = 0;
    for round in 0..12_u64 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "write::darkroom::tests::keeps_until_it_is_killed"])
            .env(KILLED_WORKSHOP, bench.workshop())
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        let making = bench.folder().join("making");
        let begun = || fs::read_dir(&making).is_ok_and(|all| all.flatten().any(|of| named(&of, child.id())));
        (0..3_000).take_while(|_| !begun()).for_each(|_| std::thread::sleep(Duration::from_millis(10)));
        // Spread over several of its entries.
        std::thread::sleep(Duration::from_micros(round * 7_919 % 61_000));
        child.kill().unwrap();
        child.wait().unwrap();
        let darkroom = Darkroom::reading(Some(bench.workshop()));
        for word in (0..).map(|word: u32| word.to_string()) {
            match get(&darkroom, &word) {
                Some(kept) => assert_eq!(fs::read(&kept.files[0].path).unwrap(), word.as_bytes()),
                None => break,
            }
            found += 1;
        }
    }
    assert!(found > 0, "no round lasted long enough to prove anything");
    let stage = bench.stage();
    let darkroom = bench.darkroom(&stage);
    let half = fs::read_dir(bench.folder().join("making")).unwrap().count();
    assert_eq!(half, 1, "only this run's own place is left");
    drop(darkroom);
}
