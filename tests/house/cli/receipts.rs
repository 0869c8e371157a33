//! Receipts: a writing that has nothing to do does nothing, and any change to what goes in, or to what stands, is seen.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Stdio;
use std::sync::Arc;
use std::time::Instant;

use witnessmark::journey::{self, Asked, Ground, Printing, Quiet, Wanted, Written};
use witnessmark::source::Tree;
use witnessmark::write::{Secret, Stage, fingerprint};

use crate::fixture::{self, Bench, Workshop, below, plain, today, today_in_seconds};

/// What a receipt is made to say, so that it shows whether it was believed.
const FORGED: &str = "as the receipt has it";

const CHAIR: &str = "Ladder-back chair (CH-001)";

/// Three pieces, of which two share a board of the stock, and a day book of the whole workshop.
fn workshop() -> Bench {
    let part = "[[part]]\nid = \"rung\"\nname = \"Rung\"\nstanding = \"new\"\nfrom-stock = \"rungs\"\n";
    let bench = Bench::sound().sound_piece("stool", "ST-002").sound_piece("settle", "SE-003");
    let record = |folder: &str| text(&bench, &format!("pieces/{folder}/record.toml")) + part;
    let (chair, stool) = (record("chair"), record("stool"));
    bench
        .write("pieces/chair/record.toml", chair)
        .write("pieces/stool/record.toml", stool)
        .write("workshop.toml", "name = \"Bench\"\ncurrency = \"GBP\"\n")
        .write("stock.toml", "[[stock]]\nid = \"rungs\"\nwhat = \"Ash rungs\"\npaid = 12.00\n")
        .write("daybook.txt", "2026-11-20 ST-002: seat glued\n")
}

fn text(bench: &Bench, path: &str) -> String {
    String::from_utf8(bench.read(path)).unwrap()
}

/// What one writing said: its exit code, what it put in place, and what it complained of.
#[derive(Debug, PartialEq)]
struct Said {
    code: Option<i32>,
    told: String,
    wrong: String,
}

/// Writes up a folder on a day, so many seconds after 1970.
fn write_up(bench: &Bench, folder: &Path, seconds: &str) -> Said {
    let mut command = bench.command();
    command.current_dir(folder).env("SOURCE_DATE_EPOCH", seconds).arg("writeup");
    let output = command.output().unwrap();
    let said = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    // How long it took and what came out of the darkroom differ from run to run.
    let lines = said(output.stdout);
    let lines = lines.lines().filter(|line| !line.starts_with("Written to "));
    let told = lines.map(|line| line.split(" MB, ").next().unwrap().split(" kB, ").next().unwrap());
    let told = told.collect::<Vec<_>>().join("\n");
    let wrong = said(output.stderr);
    let wrong = wrong.lines().filter(|line| !line.starts_with("Developing ")).collect::<Vec<_>>().join("\n");
    Said { code: output.status.code(), told, wrong }
}

/// A workshop once more, without what was written of it. Its pictures and papers may be known, but no receipts.
fn copy(workshop: &Path) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let mut files = below(workshop);
    files.retain(|path, _| !path.starts_with("written/") && !path.starts_with(".darkroom/receipts/"));
    for (path, bytes) in files {
        let to = home.path().join(path);
        fs::create_dir_all(to.parent().unwrap()).unwrap();
        fs::write(to, bytes).unwrap();
    }
    home
}

/// A workshop on a day.
struct Day {
    bench: Bench,
    seconds: String,
}

impl Day {
    fn of(bench: Bench) -> Day {
        Day { bench, seconds: today_in_seconds() }
    }

    fn write_up(&self) -> Said {
        write_up(&self.bench, &self.bench.path(""), &self.seconds)
    }

    /// What is written of the same files where nothing was written before; pictures and papers may be known.
    fn afresh(&self) -> (Said, BTreeMap<String, Vec<u8>>) {
        let home = copy(&self.bench.path(""));
        let said = write_up(&self.bench, home.path(), &self.seconds);
        assert!(matches!(said.code, Some(0 | 1)), "{said:?}");
        (said, below(&home.path().join("written")))
    }

    fn receipt(&self) -> PathBuf {
        let folder = self.bench.path(".darkroom/receipts");
        let mut receipts = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        let receipt = receipts.next().expect("a receipt was left");
        assert_eq!(receipts.next(), None, "one for each folder that is written");
        receipt
    }

    /// Makes the receipt say something that no writing says.
    fn forge(&self) {
        let receipt = fs::read_to_string(self.receipt()).unwrap();
        let (_, words) = receipt.split_once('\n').unwrap();
        assert!(words.contains(CHAIR) || words.contains(FORGED), "{words}");
        let words = words.replace(CHAIR, FORGED);
        fs::write(self.receipt(), format!("{}\n{words}", fingerprint(words.as_bytes()))).unwrap();
    }

    /// Nothing changed: what is told comes from the receipt, and nothing is touched.
    #[track_caller]
    fn nothing_is_done(&self) {
        self.forge();
        let stands =
            |day: &Day| fs::metadata(day.bench.path("written/.witnessmark")).unwrap().modified().unwrap();
        let before = stands(self);
        assert!(self.write_up().told.contains(FORGED));
        assert_eq!(stands(self), before);
    }

    /// Something changed: the receipt is not believed, and all is as if it had been written from nothing.
    #[track_caller]
    fn is_written_anew(&self, what: &str) {
        let said = self.write_up();
        assert!(!said.told.contains(FORGED), "{what}: {}", said.told);
        let (fresh, files) = self.afresh();
        assert_eq!(said, fresh, "{what}");
        let stands = below(&self.bench.path("written"));
        for path in stands.keys().chain(files.keys()) {
            assert!(stands.get(path) == files.get(path), "{what}: {path}");
        }
    }

    /// A file of the workshop gets these bytes.
    #[track_caller]
    fn changed(self, path: &str, bytes: impl AsRef<[u8]>) -> Day {
        let Day { bench, seconds } = self;
        let day = Day { bench: bench.write(path, bytes), seconds };
        day.is_written_anew(path);
        day.nothing_is_done();
        day
    }
}

/// Two photographs of the same length.
fn two_alike() -> [Vec<u8>; 2] {
    let mut by_length: BTreeMap<usize, Vec<Vec<u8>>> = BTreeMap::new();
    (0..=255)
        .map(plain)
        .for_each(|photograph| by_length.entry(photograph.len()).or_default().push(photograph));
    let alike = by_length.into_values().max_by_key(Vec::len).unwrap();
    [alike.first().unwrap().clone(), alike.last().unwrap().clone()]
}

#[test]
fn every_kind_of_change_is_seen_and_what_follows_is_as_written_from_nothing() {
    let day = Day::of(workshop());
    day.write_up();
    day.is_written_anew("the first writing is that of nothing");
    day.nothing_is_done();
    let settle = text(&day.bench, "pieces/settle/record.toml");
    let day = day
        .changed("pieces/settle/record.toml", format!("summary = \"It seats three.\"\n{settle}"))
        .changed("pieces/settle/story.md", "It stood in a hall.\n")
        .changed("pieces/settle/daybook.txt", "2026-11-21 rungs turned\n")
        .changed("daybook.txt", "2026-11-20 ST-002: seat glued\n2026-11-22 CH-001: waxed\n")
        .changed("workshop.toml", "name = \"Another bench\"\ncurrency = \"GBP\"\n")
        .changed("stock.toml", "[[stock]]\nid = \"rungs\"\nwhat = \"Ash rungs\"\npaid = 18.00\n")
        .changed("theme/assets/own.css", "p { color: green }\n")
        .changed("words/en-GB.ftl", "nav-recipes = What we mix\n")
        .changed("trade/term.toml", "# none of our own yet\n")
        .changed("pieces/chair/photos/during-01.jpg", plain(70))
        .changed("pieces/chair/photos/during-01.jpg", plain(200));
    // A third piece takes from the board, so that the others pay less of it.
    let settle = text(&day.bench, "pieces/settle/record.toml");
    let part = "[[part]]\nid = \"rung\"\nname = \"Rung\"\nstanding = \"new\"\nfrom-stock = \"rungs\"\n";
    let day = day.changed("pieces/settle/record.toml", format!("{settle}{part}"));
    // The settle comes to stand elsewhere in the showroom, so that the others have other neighbours.
    let settle = text(&day.bench, "pieces/settle/record.toml");
    let day = day.changed("pieces/settle/record.toml", settle.replace("SE-003", "AA-003"));
    let day = day.changed("pieces/settle/record.toml", format!("publish = false\n{settle}"));

    let photograph = day.bench.path("pieces/chair/photos/during-01.jpg");
    let [one, other] = two_alike();
    let day = day.changed("pieces/chair/photos/during-01.jpg", one);
    let date = fs::metadata(&photograph).unwrap().modified().unwrap();
    fs::write(&photograph, other).unwrap();
    fs::File::options().write(true).open(&photograph).unwrap().set_modified(date).unwrap();
    day.is_written_anew("a photograph of the same length and date");
    day.nothing_is_done();

    fs::remove_file(&photograph).unwrap();
    day.is_written_anew("a photograph that is gone");
    day.nothing_is_done();

    // Before anything is sealed, whose papers keep the address that they were handed over with.
    let day = day.changed("buyers-secret.txt", "fedcba9876543210fedcba9876543210\n");

    let day = Day { bench: day.bench.runs(["handover", "stool", "--with-open-questions"]).args([]), ..day };
    day.is_written_anew("a seal");
    day.nothing_is_done();

    let seconds: i64 = day.seconds.parse().unwrap();
    let day = Day { seconds: (seconds + 86_400).to_string(), ..day };
    day.is_written_anew("another day");
    day.nothing_is_done();

    fs::remove_dir_all(day.bench.path("pieces/settle")).unwrap();
    day.is_written_anew("a piece that is gone");
    day.nothing_is_done();
}

#[test]
fn a_change_of_either_record_of_a_piece_of_a_set_is_seen() {
    let day = Day::of(Bench::new().lay(&super::set::set()));
    day.write_up();
    day.is_written_anew("the first writing");
    day.nothing_is_done();
    let set = text(&day.bench, "pieces/chairs/record.toml");
    let first = text(&day.bench, "pieces/chair-1/record.toml");
    let day = day
        .changed("pieces/chairs/record.toml", set.replace("washed", "scoured"))
        .changed("pieces/chairs/story.md", "They came from two kitchens.\n")
        .changed("pieces/chairs/daybook.txt", "2026-03-09 waxed them all\n2026-03-09 CH-003: foot capped\n")
        .changed("pieces/chairs/photos/before-all.jpg", plain(200))
        .changed("pieces/chair-1/record.toml", format!("summary = \"The first.\"\n{first}"))
        // Which rows of the set are whose follows from the numbers of its pieces.
        .changed("pieces/chair-2/record.toml", "set = \"chairs\"\nnumber = \"CH-009\"\n");
    fs::remove_dir_all(day.bench.path("pieces/chair-2")).unwrap();
    day.is_written_anew("a piece of the set that is gone");
    day.nothing_is_done();
}

#[test]
fn whatever_is_done_to_what_stands_is_seen_as_without_a_receipt() {
    let day = Day::of(Bench::sound());
    day.write_up();
    day.nothing_is_done();
    let page = day.bench.path("written/archive/pieces/ch-001/index.html");
    let (bytes, date) = (fs::read(&page).unwrap(), fs::metadata(&page).unwrap().modified().unwrap());
    let edited = String::from_utf8(bytes.clone()).unwrap().replacen("chair", "CHAIR", 1);

    fs::write(&page, &edited).unwrap();
    let said = day.write_up();
    assert!(said.code == Some(2) && said.wrong.contains("archive/pieces/ch-001/index.html"), "{said:?}");
    assert_eq!(fs::read_to_string(&page).unwrap(), edited, "it is kept");
    fs::write(&page, &bytes).unwrap();
    day.is_written_anew("a page that was mended by hand");
    day.nothing_is_done();

    fs::write(&page, &edited).unwrap();
    fs::File::options().write(true).open(&page).unwrap().set_modified(date).unwrap();
    day.is_written_anew("a page of another text and the old date");
    day.nothing_is_done();

    fs::remove_file(&page).unwrap();
    day.is_written_anew("a page that is gone");
    day.nothing_is_done();

    let notes = day.bench.path("written/buyers/notes.txt");
    fs::write(&notes, "keep me").unwrap();
    let said = day.write_up();
    assert!(said.code == Some(2) && said.wrong.contains("buyers/notes.txt"), "{said:?}");
    assert_eq!(fs::read(&notes).unwrap(), b"keep me");
    fs::remove_file(&notes).unwrap();
    day.nothing_is_done();

    fs::remove_dir_all(day.bench.path("written")).unwrap();
    day.is_written_anew("everything that is gone");
}

#[test]
fn a_receipt_that_is_damaged_or_gone_costs_time_and_nothing_else() {
    let day = Day::of(Bench::sound());
    day.write_up();
    let receipt = day.receipt();
    let whole = fs::read(&receipt).unwrap();
    let worse: [&[u8]; 4] = [&whole[..whole.len() / 2], b"", b"nonsense\n{}", &[0xff; 100]];
    for bytes in worse {
        day.forge();
        fs::write(&receipt, bytes).unwrap();
        day.is_written_anew("a damaged receipt");
        day.nothing_is_done();
    }
    fs::remove_dir_all(day.bench.path(".darkroom")).unwrap();
    day.is_written_anew("no darkroom");
    day.nothing_is_done();
}

#[test]
fn what_is_wrong_is_said_each_time_and_what_could_not_be_read_is_tried_again() {
    let record = "title = \"Stool\"\nnumber = \"ST-2\"\nkind = \"chair\"\nsumary = \"x\"\n";
    let day = Day::of(Bench::sound().write("pieces/stool/record.toml", record));
    let first = day.write_up();
    assert!(first.code == Some(1) && first.wrong.contains("sumary = \"x\""), "{first:?}");
    assert_eq!(day.write_up(), first);
    day.nothing_is_done();
    // Only what is asked for is told.
    let only = |piece: &str| {
        let mut command = day.bench.command();
        command.args(["writeup", "--only", piece]);
        let output = command.output().unwrap();
        let wrong = String::from_utf8(output.stderr).unwrap();
        (output.status.code(), wrong.replace("Developing 2 photographs\n", ""))
    };
    for piece in ["chair", "chair", "CH-001"] {
        assert_eq!(only(piece), (Some(0), String::new()));
    }
    assert_eq!(only("nothing").0, Some(2));
    assert_eq!(day.write_up(), first);
}

#[test]
fn clearing_the_darkroom_takes_the_receipts_along() {
    let day = Day::of(Bench::sound());
    day.write_up();
    day.forge();
    let Day { bench, .. } = day;
    let (bench, told) = bench.args(["writeup", "--clear-darkroom"]).output(0);
    assert!(!told.contains(FORGED) && !bench.path(".darkroom/receipts").exists());
}

/// Writes up a workshop as the program does where something has to be done.
fn turn(workshop: &Path) -> Written {
    let target = workshop.join("written");
    let stage = Stage::open(&target).unwrap();
    let secret = Secret::of(workshop).unwrap();
    let asked = Asked { workshop, target: &target, only: None, today: today() };
    let ground = Ground::of(&asked, &secret).unwrap().after(None);
    let tree = Tree::open(workshop).unwrap();
    let wanted = Wanted { ground: Some(&ground), ..Wanted::everything(today(), &secret) };
    let (survey, written) = journey::writeup(&tree, stage, wanted, &Quiet).unwrap();
    let written = written.unwrap();
    ground.leave(&survey, &written);
    written
}

#[test]
fn only_the_pieces_that_changed_are_made_anew_and_those_beside_them() {
    let home = tempfile::tempdir().unwrap();
    let workshop = home.path();
    Workshop::example_in_small().lay(workshop);
    let pieces = turn(workshop).pieces.len();
    assert!(pieces >= 4, "{pieces}");
    let stood = |what: &str| {
        let written = turn(workshop);
        assert_eq!(written.pieces.len(), pieces, "{what}");
        let (copy, secret) = (copy(workshop), Secret::of(workshop).unwrap());
        let fresh = fixture::writeup(&Tree::open(copy.path()).unwrap(), &secret);
        let stands = below(&workshop.join("written"));
        for path in stands.keys().chain(fresh.files.keys()) {
            assert!(stands.get(path) == fresh.files.get(path), "{what}: {path}");
        }
        written.stood
    };
    let edit = |file: &str, edited: &dyn Fn(String) -> String| {
        let file = workshop.join(file);
        let text = fs::read_to_string(&file).unwrap_or_default();
        fs::write(file, edited(text)).unwrap();
    };
    assert_eq!(stood("nothing"), pieces);
    edit("pieces/rush-chair/story.md", &|story| format!("{story}\nIt was sat on again.\n"));
    assert_eq!(stood("a story"), pieces - 1);
    // Cards show a title, and so do the pages of the pieces before and after.
    edit("pieces/open-shelves/record.toml", &|record| record.replacen("title = \"", "title = \"A ", 1));
    let beside = stood("a title");
    assert!((pieces - 3..pieces - 1).contains(&beside), "{beside} of {pieces}");
    edit("stock.toml", &|stock| stock.replace("paid = 6.00", "paid = 7.00"));
    assert_eq!(stood("the stock"), 0);
    edit("pieces/rush-chair/record.toml", &|record| record.replace("rush-2025", "hinges-2025-10"));
    assert_eq!(stood("who else takes from the stock"), 0);
    fs::remove_file(workshop.join("written/archive/index.html")).unwrap();
    assert_eq!(stood("a page across all pieces"), pieces);
    let page = workshop.join("written/archive/pieces/wt-011/index.html");
    fs::remove_file(&page).unwrap();
    assert_eq!(stood("a page of one piece"), pieces - 1);
}

/// Papers that wait are no reason to make their pages again; once there is time they are printed all the same.
#[test]
fn pages_stand_while_their_papers_wait_and_the_papers_are_printed_when_there_is_time() {
    let bench = workshop();
    let (workshop, target) = (&bench.path(""), bench.path("written"));
    let secret = Secret::of(workshop).unwrap();
    let asked = Asked { workshop, target: &target, only: None, today: today() };
    let mut left = None;
    let mut turn = |printing: Printing<'_>| {
        let stage = Stage::open(&target).unwrap();
        let ground = Ground::of(&asked, &secret).unwrap().after(left.take());
        let tree = Tree::open(workshop).unwrap();
        let wanted = Wanted { printing, ground: Some(&ground), ..Wanted::everything(today(), &secret) };
        let (survey, proof) = journey::proof(&tree, stage, wanted, &Quiet).unwrap();
        let written = proof.unwrap().place().unwrap();
        left = ground.leave(&survey, &written).map(Arc::new);
        (written.stood, written.waiting)
    };
    let (stood, waiting) = turn(Printing::LATER);
    assert_eq!(stood, 0);
    assert!(waiting > 3, "{waiting}");
    assert_eq!(turn(Printing::LATER), (3, waiting));
    fs::write(workshop.join("pieces/settle/story.md"), "It stood in a hall.\n").unwrap();
    // The archive's database waits with them now.
    assert_eq!(turn(Printing::LATER), (2, waiting + 1));
    assert_eq!(turn(Printing::While(&|| true)), (0, 0));
    assert_eq!(turn(Printing::LATER), (3, 0));
    let fresh = fixture::writeup(&Tree::open(copy(workshop).path()).unwrap(), &secret);
    assert_eq!(below(&target), fresh.files);
}

/// How often a writing is killed, at moments spread over it.
const KILLS: u32 = 10;

#[test]
fn after_a_writing_that_was_killed_the_next_one_is_as_from_nothing() {
    let day = Day::of(workshop());
    day.write_up();
    let story = day.bench.path("pieces/settle/story.md");
    let retell = |turn: u32| fs::write(&story, format!("It stood in {turn} halls.\n")).unwrap();
    retell(KILLS);
    let started = Instant::now();
    day.write_up();
    let whole = started.elapsed();
    for kill in 0..KILLS {
        retell(kill);
        let mut process = day.bench.process();
        let mut child = process.arg("writeup").stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap();
        std::thread::sleep(whole * (kill + 1) / KILLS);
        child.kill().unwrap();
        child.wait().unwrap();
        day.is_written_anew(&format!("kill {kill}"));
    }
}
