//! What is no plain file, or is far too long, in place of every file that the program reads: nothing waits, nothing fills
//! the memory, and the file is named.

use std::fs::{self, File};
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use crate::fixture::{Bench, PROGRAM, plain};

/// Far longer than anything here takes.
const PATIENCE: Duration = Duration::from_secs(60);

/// The most memory that a call may ask for, in kB: what the program maps by itself, and room for one photograph.
const MEMORY: u64 = 1_500_000;

/// What is put in place of a file.
const STRANGE: [fn(&Path); 4] = [
    |path| rustix::fs::mkfifoat(rustix::fs::CWD, path, 0o600.into()).unwrap(),
    |path| symlink("/dev/zero", path).unwrap(),
    |path| fs::create_dir(path).unwrap(),
    |path| sparse(path, b"", 3_000_000_000),
];

/// A file that begins with these bytes, is so many bytes long, and takes no room.
fn sparse(path: &Path, first: &[u8], length: u64) {
    fs::write(path, first).unwrap();
    File::options().write(true).open(path).unwrap().set_len(length).unwrap();
}

/// Calls the program with bounded time and memory; its exit code, and all that it printed.
#[track_caller]
fn call(bench: &Bench, args: &[&str]) -> (i32, String) {
    let mut process = Command::new("sh");
    process.args(["-c", &format!("ulimit -v {MEMORY}; exec \"$0\" \"$@\""), PROGRAM]).args(args);
    bench.surround(&mut process);
    process.env("HOME", bench.path("home")).env_remove("XDG_CONFIG_HOME");
    let child = process.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    let id = child.id();
    let (send, receive) = std::sync::mpsc::channel();
    std::thread::spawn(move || send.send(child.wait_with_output()));
    let Ok(output) = receive.recv_timeout(PATIENCE) else {
        let _ = Command::new("kill").arg(id.to_string()).status();
        panic!("{args:?} hangs");
    };
    let Output { status, stdout, stderr } = output.unwrap();
    let told = format!("{}{}", String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr));
    (status.code().unwrap_or_else(|| panic!("{args:?} died\n{told}")), told)
}

/// A workshop that was written once, with a seal, a theme and a table of its own.
fn written() -> Bench {
    let bench = Bench::sound().sound_piece("stool", "ST-001").write("theme/assets/extra.css", "/* mine */");
    let bench = bench.args(["keys", "--to", "keys", "--without-password", "--inside-workshop"]).status(0);
    bench.args(["writeup"]).status(0)
}

/// Puts every strange thing in place of a file, and calls the program each time; the file is there again afterwards.
#[track_caller]
fn case(bench: &Bench, path: &str, args: &[&str], codes: &[i32], named: &str) {
    let file = bench.path(path);
    let was = fs::read(&file).ok();
    fs::create_dir_all(file.parent().unwrap()).unwrap();
    for put in STRANGE {
        let _ = fs::remove_file(&file);
        put(&file);
        let what = fs::symlink_metadata(&file).unwrap().file_type();
        let (code, told) = call(bench, args);
        assert!(codes.contains(&code), "{path} as {what:?}, {args:?}: {code}\n{told}");
        // The names of folders are not said to be files.
        assert!(told.contains(named) || what.is_dir(), "{path} as {what:?}, {args:?}: not named\n{told}");
        assert!(!told.contains("panicked"), "{told}");
        let _ = fs::remove_dir(&file).or_else(|_| fs::remove_file(&file));
    }
    if let Some(was) = was {
        fs::write(file, was).unwrap();
    }
}

#[test]
fn in_place_of_the_files_of_a_workshop() {
    let bench = written();
    for command in ["inspect", "writeup"] {
        let args: &[&str] = &[command];
        case(&bench, "pieces/chair/record.toml", args, &[1], "pieces/chair/record.toml");
        case(&bench, "pieces/chair/story.md", args, &[0, 1], "pieces/chair/story.md");
        case(&bench, "pieces/chair/photos/after-front.jpg", args, &[0, 1], "after-front.jpg");
        case(&bench, "pieces/chair/photos/before-again.jpg", args, &[0, 1], "before-again.jpg");
        case(&bench, "pieces/chair/sealed/001.toml", args, &[0, 1], "001.toml");
        case(&bench, "workshop.toml", args, &[1, 2], "workshop.toml");
        case(&bench, "stock.toml", args, &[0, 1], "stock.toml");
        case(&bench, "trade/finishes.toml", args, &[0, 1], "finishes.toml");
        case(&bench, "theme/theme.toml", args, &[0, 1, 2], "theme.toml");
    }
    case(&bench, "theme/assets/extra.css", &["writeup"], &[0, 2], "extra.css");
    case(&bench, "buyers-secret.txt", &["writeup"], &[2], "buyers-secret.txt");
    let (code, told) = call(&bench, &["writeup"]);
    assert_eq!(code, 0, "all is as it was: {told}");
}

#[test]
fn in_place_of_what_was_written_or_kept() {
    let bench = written();
    case(&bench, "written/.witnessmark", &["writeup"], &[2], "written");
    case(&bench, "written/archive/index.html", &["writeup"], &[0, 2], "");
    for file in [".darkroom/CACHEDIR.TAG", ".darkroom/index"] {
        case(&bench, file, &["writeup"], &[0], "");
    }
    let entry = bench
        .names(".darkroom")
        .into_iter()
        .find(|name| name.ends_with("/entry"))
        .expect("something is kept");
    case(&bench, &format!(".darkroom/{entry}"), &["writeup"], &[0], "");
}

#[test]
fn in_place_of_what_is_named_on_the_command_line() {
    let bench = written();
    case(&bench, "keys/witnessmark.key", &["keys", "--show", "--to", "keys"], &[2], "witnessmark.key");
    case(
        &bench,
        "keys/witnessmark.pub",
        &["verify", "pack.zip", "--key", "keys/witnessmark.pub"],
        &[2],
        "witnessmark.pub",
    );
    case(&bench, "pack.zip", &["verify", "pack.zip"], &[1, 2], "");
    case(&bench, "shots", &["intake", "Chest", "--photos", "shots"], &[1, 2], "shots");
    case(&bench, "shots/a.jpg", &["intake", "Chest", "--photos", "shots"], &[1], "a.jpg");
    case(&bench, "shots/film", &["intake", "Chest", "--photos", "shots"], &[1], "film");
}

#[test]
fn a_film_in_the_cameras_folder_costs_neither_time_nor_memory() {
    let bench = Bench::workshop().write("shots/a.jpg", plain(10));
    sparse(&bench.path("shots/film.mov"), b"\0\0\0\x18ftypqt  ", 5_000_000_000);
    let started = Instant::now();
    let (code, told) = call(&bench, &["intake", "Chair", "--photos", "shots"]);
    assert_eq!(code, 0, "{told}");
    assert!(
        told.contains("copied   before-01.jpg") && told.contains("left     film.mov: not a photograph"),
        "{told}"
    );
    sparse(&bench.path("shots/long.jpg"), &plain(20), 3_000_000_000);
    let (code, told) = call(&bench, &["intake", "Chair", "--photos", "shots"]);
    assert_eq!(code, 1, "{told}");
    assert!(told.contains("long.jpg: it is 3 GB long, and at most 200 MB are read"), "{told}");
    assert!(started.elapsed() < Duration::from_secs(10), "nothing so long is read");
}

#[test]
fn a_folder_that_is_a_link_is_said_to_be_one_once() {
    for folder in ["theme", "pieces", "pieces/chair", "pieces/chair/photos", "trade"] {
        let bench = Bench::sound().write("theme/assets/x.css", "").write("trade/notes.txt", "");
        fs::rename(bench.path(folder), bench.path("elsewhere")).unwrap();
        symlink(bench.path("elsewhere"), bench.path(folder)).unwrap();
        let (code, told) = call(&bench, &["inspect"]);
        assert_eq!(code, 1, "{folder}: {told}");
        assert_eq!(told.matches("this is a link, and links are not followed").count(), 1, "{folder}: {told}");
        assert!(told.contains(folder), "{folder}: {told}");
    }
}

#[test]
fn very_many_files_and_very_deep_folders_are_listed_in_bounded_time() {
    let bench = Bench::sound().sound_piece("stool", "ST-001");
    for number in 0..12_000 {
        File::create(bench.path(&format!("pieces/chair/photos/{number}.jpg"))).unwrap();
    }
    fs::create_dir_all(bench.path(&format!("pieces/stool/{}", "deep/".repeat(500)))).unwrap();
    let started = Instant::now();
    let (code, told) = call(&bench, &["writeup"]);
    assert_eq!(code, 1, "{told}");
    assert!(told.contains("this folder holds more than 5000 files"), "{told}");
    assert!(told.contains("this folder lies more than 12 folders deep"), "{told}");
    assert!(told.lines().count() < 60, "{told}");
    assert!(started.elapsed() < Duration::from_secs(20));
    // As many as are looked at, with something wrong about each.
    for number in 5_000..12_000 {
        fs::remove_file(bench.path(&format!("pieces/chair/photos/{number}.jpg"))).unwrap();
    }
    fs::remove_file(bench.path("pieces/chair/photos/0.jpg")).unwrap();
    fs::remove_file(bench.path("pieces/chair/photos/1.jpg")).unwrap();
    let (code, told) = call(&bench, &["inspect"]);
    assert_eq!(code, 1, "{told}");
    assert!(told.contains("more of this kind, from this one on"), "{told}");
    assert!(told.lines().count() < 3_000, "{} lines", told.lines().count());
    fs::remove_dir_all(bench.path("pieces/chair/photos")).unwrap();
}

#[test]
fn two_writings_at_once_are_one_after_the_other() {
    let bench = Bench::sound().args(["writeup"]);
    let children: Vec<_> = (0..3).map(|_| bench.process().stdout(Stdio::null()).spawn().unwrap()).collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    let list = String::from_utf8(bench.read("written/.witnessmark")).unwrap();
    for line in list.lines() {
        let (digest, path) = line.split_once("  ").unwrap();
        assert_eq!(
            witnessmark::write::fingerprint(&bench.read(&format!("written/{path}"))),
            digest,
            "{path}"
        );
    }
    assert_eq!(bench.names("").iter().filter(|name| name.starts_with(".written")).count(), 0);
}

#[test]
fn a_tree_of_another_version_is_left_alone() {
    let bench = written().write("written/.witnessmark", "witnessmark-list 9\n{}\n");
    let before = bench.files("written");
    let bench = bench
        .args(["writeup"])
        .stderr_has("written/.witnessmark` is damaged in line 1, or of another version")
        .status(2);
    assert!(bench.files("written") == before);
}

#[test]
fn an_accent_that_the_disk_stores_apart_is_the_one_of_the_record() {
    let record = "title = \"Chair\"\nnumber = \"CH-1\"\nkind = \"chair\"\n\
                  [[photo]]\nfile = \"after-fr\u{f6}nt.jpg\"\nalt = \"The chair from the front.\"\n";
    let bench = Bench::workshop()
        .write("pieces/chair/record.toml", record)
        .write("pieces/chair/photos/after-fro\u{308}nt.jpg", plain(10));
    let (_, told) = call(&bench, &["inspect"]);
    assert!(!told.contains("photograph-missing") && !told.contains("photograph-unused"), "{told}");
    let (code, told) = call(&bench, &["writeup"]);
    assert!(code < 2 && told.contains("1 photograph developed"), "{told}");
}
