//! A stage as its users see it: what stands at the target afterwards, whatever happened.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;
use walkdir::WalkDir;

use super::*;

/// A folder with a place for a target in it.
fn home() -> (TempDir, PathBuf) {
    let home = tempfile::tempdir().unwrap();
    let target = home.path().join("written");
    (home, target)
}

/// Writes a tree of these files.
fn write(target: &Path, files: &[(&str, &str)]) -> Result<TreeSize, WriteError> {
    let stage = Stage::open(target)?;
    for (path, text) in files {
        stage.put(path, text.as_bytes())?;
    }
    stage.commit()
}

/// Every file below a folder with its text, the list left out; sorted.
fn content(folder: &Path) -> BTreeMap<String, String> {
    WalkDir::new(folder)
        .into_iter()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_type().is_file() && entry.file_name() != MANIFEST)
        .map(|entry| {
            let path = entry.path().strip_prefix(folder).unwrap().to_str().unwrap().to_owned();
            (path, fs::read_to_string(entry.path()).unwrap())
        })
        .collect()
}

#[track_caller]
fn holds(target: &Path, files: &[(&str, &str)]) {
    let expected: BTreeMap<String, String> =
        files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect();
    assert_eq!(content(target), expected);
}

/// Asserts that nothing but the target is left in its parent folder.
#[track_caller]
fn alone(home: &TempDir) {
    let names: Vec<_> = fs::read_dir(home.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(names, ["written"]);
}

/// Dates a file some minutes after the list, as an edit would.
fn touch_later(path: &Path) {
    let later = std::time::SystemTime::now() + Duration::from_secs(300);
    fs::File::options().write(true).open(path).unwrap().set_modified(later).unwrap();
}

#[test]
fn a_new_tree_takes_the_place_of_the_old_one() {
    let (home, target) = home();
    let first = write(&target, &[("showroom/index.html", "first"), ("gone.html", "")]).unwrap();
    assert_eq!(first, TreeSize { files: 2, bytes: 5 });
    write(&target, &[("showroom/index.html", "second")]).unwrap();
    holds(&target, &[("showroom/index.html", "second")]);
    alone(&home);
}

#[test]
fn folders_above_the_target_are_made_and_an_empty_target_is_taken() {
    let (_home, target) = home();
    let deep = target.join("papers/2026");
    write(&deep, &[("a", "1")]).unwrap();
    fs::create_dir(target.join("empty")).unwrap();
    write(&target.join("empty"), &[("a", "2")]).unwrap();
    holds(&target, &[("papers/2026/a", "1"), ("empty/a", "2")]);
}

#[test]
fn the_same_files_give_the_same_bytes_and_a_list_that_sha256sum_reads() {
    let (home, target) = home();
    let other = home.path().join("other");
    write(&target, &[("b", "2"), ("a/ü", "1")]).unwrap();
    write(&other, &[("a/ü", "1"), ("b", "2")]).unwrap();
    let list = fs::read_to_string(target.join(MANIFEST)).unwrap();
    assert_eq!(list, fs::read_to_string(other.join(MANIFEST)).unwrap());
    let one = "6b86b273ff34fce19d6b804eff5a3f5747ada4eaa22f1d49c01e52ddb7875b4b";
    assert_eq!(list.lines().next(), Some(format!("{one}  a/ü").as_str()));
}

#[test]
fn several_threads_may_put() {
    let (_home, target) = home();
    let stage = Stage::open(&target).unwrap();
    std::thread::scope(|scope| {
        for thread in 0..4 {
            let stage = &stage;
            scope.spawn(move || {
                for file in 0..50 {
                    stage.put(&format!("{}/{thread}-{file}", file % 7), b"x").unwrap();
                }
            });
        }
    });
    assert_eq!(stage.commit().unwrap(), TreeSize { files: 200, bytes: 200 });
    assert_eq!(content(&target).len(), 200);
}

#[test]
fn a_partial_writing_carries_a_folder_over_and_leaves_the_old_bytes_alone() {
    let (_home, target) = home();
    write(&target, &[("a/1", "old"), ("a/2", "old"), ("a-b/1", "old"), ("a.txt", "old")]).unwrap();
    fs::remove_file(target.join("a/2")).unwrap();
    let stage = Stage::open(&target).unwrap();
    stage.put("a-b/1", b"new").unwrap();
    assert_eq!(stage.carry("a").unwrap(), 1, "a/2 is gone, and the others are not in the folder");
    assert_eq!(stage.carry("a-b").unwrap(), 0, "it was put already");
    drop(stage);
    holds(&target, &[("a/1", "old"), ("a-b/1", "old"), ("a.txt", "old")]);

    let stage = Stage::open(&target).unwrap();
    assert_eq!(stage.carry("a").unwrap(), 1);
    assert_eq!(stage.carry("a-b").unwrap(), 1);
    stage.put("a/1", b"new").unwrap();
    holds(&target, &[("a/1", "old"), ("a-b/1", "old"), ("a.txt", "old")]);
    assert_eq!(stage.commit().unwrap(), TreeSize { files: 2, bytes: 6 });
    holds(&target, &[("a/1", "new"), ("a-b/1", "old")]);
    write(&target, &[]).expect("a carried file is not taken for a changed one");
}

#[test]
fn what_is_fresh_can_be_read_before_the_tree_stands() {
    let (home, target) = home();
    write(&target, &[("old.txt", "old"), ("changed.txt", "before")]).unwrap();
    let long = "x".repeat(50_000);
    let stage = Stage::open(&target).unwrap();
    for (path, text) in [("old.txt", "old"), ("changed.txt", "after"), ("a/font", &long), ("b/font", &long)] {
        stage.put(path, text.as_bytes()).unwrap();
    }
    let kept = home.path().join("kept.jpg");
    fs::write(&kept, "picture").unwrap();
    let digest = fingerprint(b"picture");
    stage.hang(&KeptFile { name: "kept.jpg".to_owned(), path: kept, digest, length: 7 }, "new.jpg").unwrap();
    let fresh: BTreeMap<String, String> =
        stage.fresh().into_iter().map(|(path, lies)| (path, fs::read_to_string(lies).unwrap())).collect();
    let expected = [("a/font", &*long), ("b/font", &long), ("changed.txt", "after"), ("new.jpg", "picture")];
    assert_eq!(fresh, expected.map(|(path, text)| (path.to_owned(), text.to_owned())).into());
    holds(&target, &[("old.txt", "old"), ("changed.txt", "before")]);
}

#[test]
fn one_file_is_kept_unless_it_was_put_or_is_not_there() {
    let (_home, target) = home();
    write(&target, &[("a/1", "old"), ("a/2", "old"), ("b", "old")]).unwrap();
    let stage = Stage::open(&target).unwrap();
    stage.put("b", b"new").unwrap();
    for path in ["a/1", "b", "never"] {
        stage.keep(path);
    }
    assert_eq!(stage.commit().unwrap(), TreeSize { files: 2, bytes: 6 });
    holds(&target, &[("a/1", "old"), ("b", "new")]);
}

#[test]
fn a_tree_that_would_be_the_same_is_left_as_it_stands() {
    let (home, target) = home();
    let files = [("a/1", "oak"), ("b", "ash")];
    write(&target, &files).unwrap();
    let list = || fs::metadata(target.join(MANIFEST)).unwrap().modified().unwrap();
    let first = list();
    assert_eq!(write(&target, &files).unwrap(), TreeSize { files: 2, bytes: 6 });
    assert_eq!(list(), first);
    alone(&home);
    // A new date that is no change is looked into once and not each time.
    touch_later(&target.join("b"));
    write(&target, &files).unwrap();
    assert_ne!(list(), first);
    fs::remove_file(target.join("a/1")).unwrap();
    write(&target, &files).unwrap();
    holds(&target, &files);
    alone(&home);
}

#[test]
fn a_file_that_rotted_under_its_old_date_is_written_anew() {
    let (_home, target) = home();
    let files = [("a", "oak"), ("b", "ash")];
    write(&target, &files).unwrap();
    let page = target.join("a");
    let date = fs::metadata(&page).unwrap().modified().unwrap();
    fs::write(&page, "oat").unwrap();
    fs::File::options().write(true).open(&page).unwrap().set_modified(date).unwrap();
    write(&target, &files).unwrap();
    holds(&target, &files);
}

#[test]
fn long_equal_files_are_written_once_and_stand_everywhere() {
    let (_home, target) = home();
    let serif = "Serif".repeat(10_000);
    let files = [("a/font", &*serif), ("b/font", &serif), ("c", "other"), ("d/e/font", &serif)];
    assert_eq!(write(&target, &files).unwrap(), TreeSize { files: 4, bytes: 150_005 });
    holds(&target, &files);
    let files = [("a/font", &*serif), ("b/font", "Sans")];
    write(&target, &files).unwrap();
    holds(&target, &files);
}

#[test]
fn a_file_that_did_not_change_keeps_its_date() {
    let (_home, target) = home();
    write(&target, &[("a", "1"), ("b", "1")]).unwrap();
    let date = |path: &str| fs::metadata(target.join(path)).unwrap().modified().unwrap();
    let before = [date("a"), date("b")];
    std::thread::sleep(Duration::from_millis(20));
    write(&target, &[("a", "1"), ("b", "2")]).unwrap();
    assert!(date("a") == before[0] && date("b") > before[1]);
}

#[test]
fn a_folder_of_somebody_else_is_refused() {
    let (home, target) = home();
    fs::create_dir(&target).unwrap();
    fs::write(target.join("thesis.txt"), "years of work").unwrap();
    let error = write(&target, &[("a", "")]).unwrap_err();
    assert!(matches!(error, WriteError::NotOurs(_)), "{error}");
    holds(&target, &[("thesis.txt", "years of work")]);
    alone(&home);
}

#[test]
fn a_file_or_a_link_to_nowhere_in_place_of_the_target_is_refused() {
    let (home, target) = home();
    fs::write(&target, "a file").unwrap();
    assert!(matches!(write(&target, &[]), Err(WriteError::NotAFolder(_))));
    assert!(matches!(write(&target.join("below"), &[]), Err(WriteError::System { .. })));
    assert_eq!(fs::read_to_string(&target).unwrap(), "a file");
    #[cfg(unix)]
    {
        let link = home.path().join("link");
        std::os::unix::fs::symlink("nowhere", &link).unwrap();
        assert!(matches!(write(&link, &[]), Err(WriteError::NotAFolder(_))));
    }
    assert!(home.path().exists());
}

#[test]
fn files_put_into_the_tree_by_hand_are_named_and_kept() {
    let (home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    fs::create_dir(target.join("mine")).unwrap();
    fs::write(target.join("mine/notes.txt"), "keep me").unwrap();
    match write(&target, &[("a", "2")]) {
        Err(WriteError::Foreign { files, .. }) => assert_eq!(files, ["mine/notes.txt"]),
        other => panic!("{other:?}"),
    }
    holds(&target, &[("a", "1"), ("mine/notes.txt", "keep me")]);
    alone(&home);
}

#[test]
fn a_file_put_into_the_tree_while_it_is_being_written_is_kept() {
    let (home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    let stage = Stage::open(&target).unwrap();
    stage.put("a", b"2").unwrap();
    fs::write(target.join("notes.txt"), "keep me").unwrap();
    assert!(matches!(stage.commit(), Err(WriteError::Foreign { .. })));
    holds(&target, &[("a", "1"), ("notes.txt", "keep me")]);
    alone(&home);
}

#[test]
fn a_file_changed_by_hand_is_named_and_kept_but_a_mere_new_date_is_no_change() {
    let (home, target) = home();
    write(&target, &[("a", "1"), ("b", "1")]).unwrap();
    touch_later(&target.join("b"));
    write(&target, &[("a", "1"), ("b", "1")]).expect("same bytes, later date");
    fs::write(target.join("a"), "mine").unwrap();
    touch_later(&target.join("a"));
    match write(&target, &[("a", "2")]) {
        Err(WriteError::Changed { files, .. }) => assert_eq!(files, ["a"]),
        other => panic!("{other:?}"),
    }
    holds(&target, &[("a", "mine"), ("b", "1")]);
    alone(&home);
}

#[test]
fn what_file_managers_leave_behind_is_nobodys_work() {
    let (_home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    fs::write(target.join(".DS_Store"), "").unwrap();
    write(&target, &[("a", "2")]).unwrap();
    holds(&target, &[("a", "2")]);
}

#[test]
fn a_damaged_list_is_refused() {
    let (_home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    fs::write(target.join(MANIFEST), [b'a', 0xff]).unwrap();
    assert!(matches!(write(&target, &[]), Err(WriteError::Manifest { line: 1, .. })));
    holds(&target, &[("a", "1")]);
}

#[test]
fn unsound_paths_and_two_files_of_one_path_are_refused() {
    let (home, target) = home();
    let stage = Stage::open(&target).unwrap();
    assert!(matches!(stage.put("../a", b""), Err(WriteError::Path(_))));
    assert!(matches!(stage.put(MANIFEST, b""), Err(WriteError::Path(_))));
    stage.put("a", b"").unwrap();
    assert!(matches!(stage.put("a", b""), Err(WriteError::Twice(_))));
    drop(stage);
    assert!(!target.exists() && fs::read_dir(home.path()).unwrap().next().is_none());
}

#[test]
fn a_file_that_the_system_refuses_leaves_the_old_tree_and_no_stage() {
    let (home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    // A name too long for any filesystem stands in for a full disk: the refusal comes from the same place.
    let error = write(&target, &[("a", "2"), (&"x".repeat(300), "")]).unwrap_err();
    assert!(error.to_string().starts_with("cannot write"), "{error}");
    holds(&target, &[("a", "1")]);
    alone(&home);
}

#[test]
fn a_running_stage_is_not_taken_for_a_dead_one() {
    let (home, target) = home();
    let running = Stage::open(&target).unwrap();
    running.put("a", b"1").unwrap();
    let refused = Stage::open_within(&target, Duration::ZERO);
    assert!(matches!(refused, Err(WriteError::TargetInUse(_))), "{refused:?}");
    running.commit().unwrap();
    holds(&target, &[("a", "1")]);
    write(&target, &[("a", "2")]).unwrap();
    alone(&home);
}

#[test]
fn several_that_write_at_once_write_one_after_the_other() {
    let (home, target) = home();
    std::thread::scope(|scope| {
        for version in ["1", "2", "3", "4"] {
            let target = &target;
            scope.spawn(move || write(target, &[("a", version), ("b", version), (version, "")]).unwrap());
        }
    });
    let found = content(&target);
    assert!(found.len() == 3 && found["a"] == found["b"] && found.contains_key(&found["a"]), "{found:?}");
    alone(&home);
}

#[test]
fn a_swap_in_two_steps_that_was_cut_short_is_undone_by_the_next_run() {
    let (home, target) = home();
    write(&target, &[("a", "1")]).unwrap();
    let dead = home.path().join(".written.witnessmark-1-0");
    fs::create_dir(&dead).unwrap();
    fs::write(dead.join("witnessmark-stage"), "").unwrap();
    fs::rename(&target, dead.join("old")).unwrap();
    let stage = Stage::open(&target).unwrap();
    holds(&target, &[("a", "1")]);
    drop(stage);
    alone(&home);
}

#[test]
fn somebodys_folder_that_merely_looks_like_a_stage_is_left_alone() {
    let (home, target) = home();
    let mine = home.path().join(".written.witnessmark-notes");
    fs::create_dir(&mine).unwrap();
    fs::write(mine.join("notes.txt"), "").unwrap();
    write(&target, &[]).unwrap();
    assert!(mine.join("notes.txt").exists());
}

/// As [`write`], file by file.
fn write_piecemeal(target: &Path, files: &[(&str, &str)]) {
    let stage = Stage::open(target).unwrap();
    files.iter().for_each(|(path, text)| stage.put(path, text.as_bytes()).unwrap());
    let size = stage.commit_piecemeal().unwrap();
    assert_eq!(size.files, files.len());
    holds(target, files);
}

#[cfg(unix)]
#[test]
fn file_by_file_only_what_changed_is_touched() {
    use std::os::unix::fs::MetadataExt;
    let (home, target) = home();
    write_piecemeal(&target, &[("a/1", "1"), ("a/2", "2"), ("b/c/3", "3"), ("d", "4")]);
    let folder = |path: &str| fs::metadata(target.join(path)).unwrap().ino();
    let (whole, stays) = (folder(""), folder("a/1"));
    write_piecemeal(&target, &[("a/1", "1"), ("a/2", "two"), ("d", "4"), ("e/f", "5")]);
    assert_eq!((folder(""), folder("a/1")), (whole, stays));
    assert!(!target.join("b").exists());
    // A file where a folder was cannot be brought in so; the tree is exchanged.
    write_piecemeal(&target, &[("a", "1"), ("d", "4")]);
    assert_ne!(folder(""), whole);
    // What somebody deleted comes back.
    fs::remove_file(target.join("d")).unwrap();
    write_piecemeal(&target, &[("a", "1"), ("d", "4"), ("g", "6")]);
    alone(&home);
}

#[test]
fn what_was_decided_is_done_by_the_next_run_and_only_that() {
    let (home, target) = home();
    write(&target, &[("a", "1"), ("b/c", "2"), ("d", "3")]).unwrap();
    let stage = home.path().join(".written.witnessmark-1-0");
    // As a run leaves it that was killed before it decided, and after it brought in one of two files.
    let killed = |decided: bool| {
        fs::create_dir_all(stage.join("tree")).unwrap();
        fs::write(stage.join("witnessmark-stage"), "").unwrap();
        fs::write(stage.join("tree/e"), "5").unwrap();
        let mut list = fs::read_to_string(target.join(MANIFEST)).unwrap();
        list = list.lines().filter(|line| !line.ends_with("b/c")).map(|line| format!("{line}\n")).collect();
        list += &format!("{}  e\n", fingerprint(b"5"));
        fs::write(stage.join("tree").join(MANIFEST), list).unwrap();
        if decided {
            fs::write(stage.join("going"), "b/c\n").unwrap();
        }
        drop(Stage::open(&target).unwrap());
    };
    killed(false);
    holds(&target, &[("a", "1"), ("b/c", "2"), ("d", "3")]);
    killed(true);
    holds(&target, &[("a", "1"), ("d", "3"), ("e", "5")]);
    assert!(!target.join("b").exists());
    alone(&home);
}

/// How many files each tree of the kill test has.
const KILLED_FILES: usize = 40;

/// How often the child of the kill test is killed.
const KILLS: u32 = 80;

/// Where the child of the kill test writes.
const KILLED_TARGET: &str = "WITNESSMARK_TEST_TARGET";

/// Whether the child of the kill test writes file by file.
const PIECEMEAL: &str = "WITNESSMARK_TEST_PIECEMEAL";

/// The child of [`killed`]; by itself it does nothing.
#[test]
fn writes_until_it_is_killed() {
    let Some(target) = std::env::var_os(KILLED_TARGET) else { return };
    let piecemeal = std::env::var_os(PIECEMEAL).is_some();
    for version in 0.. {
        let stage = Stage::open(Path::new(&target)).unwrap();
        for file in 0..KILLED_FILES {
            stage.put(&format!("{}/{file}", file % 5), format!("version {version}").as_bytes()).unwrap();
        }
        if piecemeal { stage.commit_piecemeal() } else { stage.commit() }.unwrap();
    }
}

#[test]
fn killed_at_any_moment_the_tree_is_whole() {
    killed(false);
}

#[test]
fn killed_at_any_moment_file_by_file_the_tree_is_whole_once_the_next_run_began() {
    killed(true);
}

/// Kills a child that writes over and over, at moments spread over what it does, and looks what stands each time.
fn killed(piecemeal: bool) {
    let (home, target) = home();
    let first: Vec<(String, &str)> =
        (0..KILLED_FILES).map(|file| (format!("{}/{file}", file % 5), "first")).collect();
    write(&target, &first.iter().map(|(path, text)| (path.as_str(), *text)).collect::<Vec<_>>()).unwrap();
    let start = || {
        Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "write::tests::writes_until_it_is_killed"])
            .env(KILLED_TARGET, &target)
            .envs(piecemeal.then_some((PIECEMEAL, "yes")))
            .stdout(Stdio::null())
            .spawn()
            .unwrap()
    };
    let is_first = || content(&target).values().all(|version| version == "first");
    let (mut child, started) = (start(), Instant::now());
    while is_first() {
        assert!(started.elapsed() < Duration::from_secs(60), "nothing is ever written");
        std::thread::sleep(Duration::from_millis(1));
    }
    let time = started.elapsed();
    child.kill().unwrap();
    child.wait().unwrap();
    for round in 0..KILLS {
        let mut child = start();
        // Spread over the child's start and its first few rounds, however fast it is.
        std::thread::sleep(time * 2 * round / KILLS);
        child.kill().unwrap();
        child.wait().unwrap();
        if piecemeal {
            drop(Stage::open(&target).unwrap());
        }
        let found = content(&target);
        assert_eq!(found.len(), KILLED_FILES, "round {round}");
        let mut versions: Vec<&String> = found.values().collect();
        versions.dedup();
        assert_eq!(versions.len(), 1, "round {round}: two versions mixed");
    }
    write(&target, &[("a", "last")]).unwrap();
    holds(&target, &[("a", "last")]);
    alone(&home);
}
