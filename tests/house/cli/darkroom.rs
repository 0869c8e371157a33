//! The darkroom behind `writeup` and `inspect`: what is developed once is not developed again.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::fixture::{Bench, PROGRAM, plain};

fn written(bench: Bench) -> Bench {
    bench.args(["writeup"]).stdout_has(", 2 photographs developed\n").status(0)
}

#[test]
fn a_second_writing_develops_none_and_writes_the_same() {
    let bench = written(Bench::sound());
    let before = bench.files("written");
    let bench = bench.args(["writeup"]).stdout_has(", 2 photographs taken from the darkroom\n").status(0);
    assert!(bench.files("written") == before);
}

#[test]
fn the_papers_are_the_same_with_and_without_a_darkroom() {
    let bench = written(Bench::sound()).args(["writeup"]).status(0);
    let with = bench.files("written");
    fs::remove_dir_all(bench.path(".darkroom")).unwrap();
    let bench = bench.args(["writeup", "--to", "again"]).stdout_has(", 2 photographs developed\n").status(0);
    assert!(bench.files("again") == with);
}

#[test]
fn a_photograph_moved_with_its_piece_or_renamed_is_not_developed_again() {
    let bench = written(Bench::sound());
    fs::rename(bench.path("pieces/chair"), bench.path("pieces/ladder-back")).unwrap();
    let bench = bench.args(["writeup"]).stdout_has(", 2 photographs taken from the darkroom\n").status(0);
    let photographs = bench.path("pieces/ladder-back/photos");
    fs::rename(photographs.join("after-front.jpg"), photographs.join("after-side.jpg")).unwrap();
    bench.args(["writeup"]).stdout_has(", 2 photographs taken from the darkroom\n").status(1);
}

#[test]
fn a_changed_photograph_is_developed_again_and_so_is_a_new_one() {
    let bench = written(Bench::sound())
        .write("pieces/chair/photos/after-front.jpg", plain(200))
        .args(["writeup"])
        .stdout_has(", 1 photograph developed, 1 taken from the darkroom\n")
        .status(0);
    bench
        .write("pieces/chair/photos/hidden-1.jpg", plain(30))
        .args(["writeup"])
        .stdout_has(", 1 photograph developed, 2 taken from the darkroom\n")
        .status(1);
}

#[test]
fn other_settings_develop_again() {
    let workshop = "name = \"Bench\"\nphoto-widths = [4]\n";
    let bench = written(Bench::sound());
    let before = bench.names("written");
    let bench = bench.write("workshop.toml", workshop).args(["writeup"]);
    let bench = bench.stdout_has(", 2 photographs developed\n").status(0);
    assert_ne!(bench.names("written"), before, "the pictures have another width in their names");
    let bench = bench.write("workshop.toml", "name = \"Bench\"\n").args(["writeup"]);
    let bench = bench.stdout_has(", 2 photographs taken from the darkroom\n").status(0);
    assert_eq!(bench.names("written"), before);
}

#[test]
fn a_damaged_darkroom_is_mended_and_nothing_of_it_is_printed() {
    let bench = written(Bench::sound());
    let before = bench.files("written");
    for (number, (name, _)) in bench.files(".darkroom/kept").into_iter().enumerate() {
        // A second name of the file: removed first, so that the written tree stays as it is.
        let file = bench.path(".darkroom/kept").join(name);
        fs::remove_file(&file).unwrap();
        fs::write(&file, vec![b'x'; 700 + number]).unwrap();
    }
    fs::write(bench.path(".darkroom/index"), "nonsense\n").unwrap();
    let bench = bench.args(["writeup"]).stdout_has(", 2 photographs developed\n").status(0);
    assert!(bench.files("written") == before);
    bench.args(["writeup"]).stdout_has(", 2 photographs taken from the darkroom\n").status(0);
}

#[test]
fn pictures_edited_in_the_papers_are_refused_and_then_developed_again() {
    let bench = written(Bench::sound());
    let before = bench.files("written");
    let picture = bench.path("written/showroom/pieces/ch-001/pictures/after-02-8.jpg");
    fs::write(&picture, "mine").unwrap();
    let later = std::time::SystemTime::now() + std::time::Duration::from_secs(60);
    fs::File::options().write(true).open(&picture).unwrap().set_modified(later).unwrap();
    let bench = bench.args(["writeup"]).stderr_has("files were changed after they were written").status(2);
    fs::remove_dir_all(bench.path("written")).unwrap();
    let bench =
        bench.args(["writeup"]).stdout_has(", 1 photograph developed, 1 taken from the darkroom\n").status(0);
    assert!(bench.files("written") == before);
}

#[test]
fn what_is_wrong_with_a_photograph_is_said_each_time() {
    let whole = plain(90);
    let mut bench = written(Bench::sound())
        .write("pieces/chair/photos/during-1.jpg", &whole[..whole.len() - 3])
        .write("pieces/chair/photos/during-2.jpg", &whole[..40])
        .write("pieces/chair/photos/during-3.avif", b"\0\0\0\x18ftypavif");
    let mut told = Vec::new();
    for _ in 0..2 {
        bench = bench.args(["writeup"]);
        let output = bench.command().output().unwrap();
        let wrong = String::from_utf8(output.stderr).unwrap();
        // The second time there is nothing to do, so that nobody waits for photographs.
        told.push(wrong.replace("Developing 5 photographs\n", ""));
        bench = bench.args(["inspect"]).status(1);
    }
    assert!(["cut short", "breaks off", "AVIF"].iter().all(|words| told[0].contains(words)), "{}", told[0]);
    assert_eq!(told[0], told[1]);
}

#[test]
fn inspect_says_the_same_with_a_darkroom_and_writes_nothing() {
    let (bench, without) = Bench::sound().args(["inspect"]).output(0);
    assert!(!bench.path(".darkroom").exists());
    let bench = written(bench);
    let before = bench.files(".darkroom");
    let (bench, with) = bench.args(["inspect"]).output(0);
    assert_eq!(with, without);
    assert!(bench.files(".darkroom") == before);
}

#[test]
fn pruning_removes_what_the_papers_do_not_use_and_only_when_asked() {
    let entries =
        |bench: &Bench| bench.names(".darkroom/kept").iter().filter(|it| it.ends_with("entry")).count();
    let bench = written(Bench::sound());
    let used = entries(&bench);
    // Its pictures, and the papers that show them, fall out of use.
    let bench = bench.write("pieces/chair/photos/after-front.jpg", plain(200)).args(["writeup"]).status(0);
    let fallen = entries(&bench) - used;
    assert!(fallen >= 1, "the picture that is not used any more is kept");
    let bench = bench
        .args(["writeup", "--clear-darkroom"])
        .stdout_has(", 2 photographs taken from the darkroom\n")
        .stdout_has(&format!("\nCleared from the darkroom: {fallen} entr"))
        .status(0);
    assert_eq!(entries(&bench), used);
    let bench = bench
        .args(["writeup", "--clear-darkroom", "--only", "chair"])
        .stderr_has("'--clear-darkroom' cannot be used with '--only <PIECE>'")
        .status(2);
    bench.args(["writeup"]).stdout_has(", 2 photographs taken from the darkroom\n").status(0);
}

#[test]
fn one_piece_alone_develops_no_photograph_of_pieces_that_are_left_out() {
    let bench = written(Bench::sound())
        .sound_piece("stool", "ST-001")
        .sound_piece("bench", "ST-002")
        .write("pieces/stool/photos/after-front.jpg", plain(30))
        .write("pieces/bench/photos/after-front.jpg", plain(31));
    bench
        .args(["writeup", "--only", "stool"])
        .stdout_has(", 1 photograph developed, 3 taken from the darkroom\n")
        .status(0);
}

#[cfg(unix)]
#[test]
fn a_workshop_that_cannot_be_written_is_written_up_elsewhere() {
    use std::os::unix::fs::PermissionsExt;
    let bench = Bench::sound().write("buyers-secret.txt", "0123456789abcdef0123456789abcdef\n");
    let bench = bench.args(["writeup", "--to", "papers"]).stdout_has(", 2 photographs developed\n").status(0);
    let papers = bench.files("papers");
    for darkroom in [true, false] {
        if !darkroom {
            fs::remove_dir_all(bench.path(".darkroom")).unwrap();
        }
        let modes = [
            bench.path(".darkroom/making"),
            bench.path(".darkroom/kept"),
            bench.path(".darkroom"),
            bench.path(""),
        ];
        let set = |mode| {
            for folder in modes.iter().filter(|folder| folder.exists()) {
                fs::set_permissions(folder, fs::Permissions::from_mode(mode)).unwrap();
            }
        };
        set(0o555);
        let administrator = fs::write(bench.path("probe"), "").is_ok();
        let elsewhere = tempfile::tempdir().unwrap();
        let target = elsewhere.path().join("papers");
        let mut held = held_to_modes(administrator);
        bench.surround(&mut held);
        let output = held.args(["writeup", "--to"]).arg(&target).output().unwrap();
        set(0o755);
        let _ = fs::remove_file(bench.path("probe"));
        let told = String::from_utf8_lossy(&output.stdout);
        assert!(output.status.success(), "{told}{}", String::from_utf8_lossy(&output.stderr));
        let expected =
            if darkroom { "2 photographs taken from the darkroom" } else { "2 photographs developed" };
        assert!(told.contains(expected), "{told}");
        let list = Path::new(witnessmark::write::MANIFEST);
        assert_eq!(fs::read(target.join(list)).unwrap(), bench.read("papers/.witnessmark"));
        assert!(darkroom || !bench.path(".darkroom").exists());
    }
    assert!(bench.files("papers") == papers);
}

/// The program, without the rights by which an administrator writes in spite of a folder's mode.
#[cfg(unix)]
fn held_to_modes(administrator: bool) -> Command {
    if !administrator {
        return Command::new(PROGRAM);
    }
    let mut command = Command::new("setpriv");
    command.args(["--bounding-set=-all", "--inh-caps=-all", PROGRAM]);
    command
}

#[test]
fn two_writings_at_once_share_a_darkroom() {
    let mut bench = Bench::workshop();
    for piece in 0..12_u8 {
        let folder = format!("chair-{piece}");
        bench = bench
            .piece(&folder, "Chair", &format!("CH-{piece}"))
            .write(&format!("pieces/{folder}/photos/after-front.jpg"), plain(20 * piece));
    }
    bench = bench.args(["writeup", "--to"]);
    let start = |target: &str| {
        let mut process = bench.process();
        process.arg(target).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
    };
    let both = [start("one"), start("two")];
    for mut child in both {
        assert_eq!(child.wait().unwrap().code(), Some(1));
    }
    let same = |one: &str, two: &str| {
        assert_eq!(bench.read(&format!("{one}/.witnessmark")), bench.read(&format!("{two}/.witnessmark")));
    };
    same("one", "two");
    let bench2 = start("three").wait().unwrap();
    assert_eq!(bench2.code(), Some(1));
    same("one", "three");
    bench.args(["writeup"]).stdout_has(", 12 photographs taken from the darkroom\n").status(1);
}
