//! A store as its users see it: what is found again, what is not, and what stands on the disk.

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

    fn store(&self, stage: &Stage) -> Store {
        Store::open(Some(self.workshop()), stage)
    }
}

fn key(word: &str) -> Key {
    Key::of("test", &[word.as_bytes()])
}

fn keep(store: &Store, word: &str) -> Kept<String> {
    let files = [("a.jpg".to_owned(), word.as_bytes().to_vec()), ("b.jpg".to_owned(), b"b".to_vec())];
    store.keep(&key(word), format!("note of {word}"), &files).unwrap()
}

fn get(store: &Store, word: &str) -> Option<Kept<String>> {
    store.get(&key(word))
}

#[test]
fn what_was_kept_is_found_by_the_next_run() {
    let bench = Bench::new();
    let stage = bench.stage();
    let made = keep(&bench.store(&stage), "oak");
    let store = bench.store(&stage);
    let found = get(&store, "oak").unwrap();
    assert_eq!((found.note.as_str(), &found.files), ("note of oak", &made.files));
    assert!(made.made && !found.made);
    assert_eq!(fs::read(&found.files[0].path).unwrap(), b"oak");
    assert_eq!(found.files[0].digest, fingerprint(b"oak"));
    assert!(get(&store, "ash").is_none());
    assert_eq!(get(&Store::reading(Some(bench.workshop())), "oak").unwrap().files, made.files);
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
    keep(&bench.store(&stage), "oak");
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
    let store = bench.store(&stage);
    let folder = keep(&store, "oak").files[0].path.parent().unwrap().to_owned();
    damage(&folder);
    assert!(get(&store, "oak").is_none());
    let made = keep(&store, "oak");
    assert_eq!(fs::read(&made.files[0].path).unwrap(), b"oak");
    assert_eq!(get(&bench.store(&stage), "oak").unwrap().files, made.files);
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
    let store = bench.store(&stage);
    keep(&store, "oak");
    let ash = entry::place(&bench.folder(), &key("ash"));
    fs::create_dir_all(ash.parent().unwrap()).unwrap();
    fs::rename(entry::place(&bench.folder(), &key("oak")), ash).unwrap();
    assert!(get(&store, "ash").is_none());
}

#[test]
fn another_date_alone_is_no_damage() {
    let bench = Bench::new();
    let stage = bench.stage();
    let store = bench.store(&stage);
    later(&keep(&store, "oak").files[0].path);
    assert!(get(&store, "oak").is_some());
}

/// Dates a file some minutes later, as an edit would.
fn later(path: &Path) {
    let later = SystemTime::now() + Duration::from_secs(300);
    fs::File::options().write(true).open(path).unwrap().set_modified(later).unwrap();
}

#[test]
fn a_picture_edited_in_a_written_tree_is_not_taken_from_the_store_again() {
    let bench = Bench::new();
    let stage = bench.stage();
    let store = bench.store(&stage);
    stage.hang(&keep(&store, "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    let written = bench.workshop().join("written/a.jpg");
    fs::write(&written, "ash").unwrap();
    later(&written);
    assert!(get(&store, "oak").is_none());
    fs::remove_dir_all(bench.workshop().join("written")).unwrap();
    let stage = bench.stage();
    stage.hang(&keep(&store, "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    assert_eq!(fs::read(&written).unwrap(), b"oak");
}

#[test]
fn without_a_store_what_was_kept_lasts_as_long_as_the_stage() {
    let bench = Bench::new();
    let stage = bench.stage();
    for workshop in [None, Some(bench.home.path().join("nowhere"))] {
        let store = Store::open(workshop.as_deref(), &stage);
        let kept = keep(&store, "oak");
        assert_eq!(get(&store, "oak").unwrap().files, kept.files);
        assert_eq!(store.prune().unwrap(), Pruned::default());
    }
    let path = keep(&Store::open(None, &stage), "oak").files[0].path.clone();
    stage.hang(&keep(&Store::open(None, &stage), "oak").files[0], "a.jpg").unwrap();
    stage.commit().unwrap();
    assert!(!path.exists() && bench.workshop().join("written/a.jpg").exists());
}

#[test]
fn looking_things_up_writes_nothing() {
    let bench = Bench::new();
    let identity = Identity { length: 1, modified: 1, changed: 1, number: 1 };
    let store = Store::reading(Some(bench.workshop()));
    store.remember("a", &identity, "ab");
    store.settle();
    assert!(store.keep(&key("oak"), (), &[]).is_err());
    assert!(!bench.folder().exists());
}

#[test]
fn somebodys_own_folder_of_that_name_is_left_alone() {
    let bench = Bench::new();
    fs::create_dir(bench.folder()).unwrap();
    fs::write(bench.folder().join("shopping.txt"), "glue").unwrap();
    let stage = bench.stage();
    let store = bench.store(&stage);
    let kept = keep(&store, "oak");
    assert!(!kept.files[0].path.starts_with(bench.folder()));
    store.settle();
    assert_eq!(store.prune().unwrap(), Pruned::default());
    let names: Vec<_> = fs::read_dir(bench.folder()).unwrap().map(|each| each.unwrap().file_name()).collect();
    assert_eq!(names, ["shopping.txt"]);
}

#[test]
fn a_file_is_known_by_its_identity_until_anything_of_it_changes() {
    let bench = Bench::new();
    let stage = bench.stage();
    let old = Identity { length: 1, modified: 1, changed: 1, number: 1 };
    let young = Identity { modified: u64::MAX, ..old };
    let store = bench.store(&stage);
    store.remember("old", &old, "ab");
    store.remember("young", &young, "cd");
    store.settle();
    let store = bench.store(&stage);
    assert_eq!(store.recall("old", &old).as_deref(), Some("ab"));
    assert_eq!(store.recall("old", &Identity { changed: 2, ..old }), None);
    assert_eq!(store.recall("young", &young), None);
    // A file that the last run did not look at is forgotten.
    bench.store(&stage).settle();
    assert_eq!(bench.store(&stage).recall("old", &old), None);
}

#[test]
fn pruning_leaves_what_this_run_used_and_tells_what_it_freed() {
    let bench = Bench::new();
    let stage = bench.stage();
    let store = bench.store(&stage);
    for word in ["oak", "walnut", "elm"] {
        keep(&store, word);
    }
    drop(store);
    let store = bench.store(&stage);
    assert!(get(&store, "oak").is_some());
    keep(&store, "ash");
    let entry = |word| entry::place(&bench.folder(), &key(word));
    let walnut = fs::read_dir(entry("walnut")).unwrap().map(|file| file.unwrap().metadata().unwrap().len());
    let elm = fs::read_dir(entry("elm")).unwrap().map(|file| file.unwrap().metadata().unwrap().len());
    let bytes = walnut.sum::<u64>() + elm.sum::<u64>();
    assert_eq!(store.prune().unwrap(), Pruned { entries: 2, bytes });
    assert_eq!(["oak", "ash", "walnut", "elm"].map(|word| entry(word).exists()), [true, true, false, false]);
    assert_eq!(store.prune().unwrap(), Pruned::default());
}

#[test]
fn a_store_in_use_is_not_pruned() {
    let bench = Bench::new();
    let stage = bench.stage();
    let (store, other) = (bench.store(&stage), bench.store(&stage));
    keep(&other, "oak");
    assert!(matches!(store.prune(), Err(WriteError::StoreInUse(_))));
    assert!(get(&other, "oak").is_some());
    drop(other);
    assert_eq!(store.prune().unwrap().entries, 1);
}

#[test]
fn several_threads_keep_the_same_entries_at_once() {
    let bench = Bench::new();
    let stage = bench.stage();
    let stores = [bench.store(&stage), bench.store(&stage)];
    std::thread::scope(|scope| {
        for store in stores.iter().chain(&stores) {
            scope.spawn(move || (0..100).for_each(|word| _ = keep(store, &word.to_string())));
        }
    });
    for word in 0..100 {
        assert!(get(&stores[0], &word.to_string()).is_some());
    }
    drop(stores);
    assert_eq!(fs::read_dir(bench.folder().join("making")).unwrap().count(), 0, "nothing half made is left");
}

/// Where the child of the kill test keeps.
const KILLED_WORKSHOP: &str = "WITNESSMARK_TEST_WORKSHOP";

/// The child of [`killed_at_any_moment_the_store_is_sound`]; by itself it does nothing.
#[test]
fn keeps_until_it_is_killed() {
    let Some(workshop) = std::env::var_os(KILLED_WORKSHOP) else { return };
    let workshop = PathBuf::from(workshop);
    let stage = Stage::open(&workshop.join(format!("written-{}", std::process::id()))).unwrap();
    let store = Store::open(Some(&workshop), &stage);
    for word in 0.. {
        keep(&store, &format!("{word}"));
    }
}

fn named(place: &fs::DirEntry, process: u32) -> bool {
    place.file_name().to_string_lossy().starts_with(&format!("{process}-"))
}

#[test]
fn killed_at_any_moment_the_store_is_sound() {
    let bench = Bench::new();
    let mut found = 0;
    for round in 0..12_u64 {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "write::store::tests::keeps_until_it_is_killed"])
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
        let store = Store::reading(Some(bench.workshop()));
        for word in (0..).map(|word: u32| word.to_string()) {
            match get(&store, &word) {
                Some(kept) => assert_eq!(fs::read(&kept.files[0].path).unwrap(), word.as_bytes()),
                None => break,
            }
            found += 1;
        }
    }
    assert!(found > 0, "no round lasted long enough to prove anything");
    let stage = bench.stage();
    let store = bench.store(&stage);
    let half = fs::read_dir(bench.folder().join("making")).unwrap().count();
    assert_eq!(half, 1, "only this run's own place is left");
    drop(store);
}
