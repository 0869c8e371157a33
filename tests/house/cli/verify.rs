//! `witnessmark verify`

use std::fs;

use chrono::NaiveDate;
use witnessmark::pack::{self, BagInfo, File, PublicKey, Signer};

use crate::fixture::Bench;

fn bag(signing_key: Option<PublicKey>) -> Vec<File> {
    let record = b"title = \"Oak table\"\n".to_vec();
    let info = BagInfo {
        organisation: "Bench".to_owned(),
        title: "Oak table".to_owned(),
        number: "TL-007".to_owned(),
        on: NaiveDate::from_ymd_opt(2026, 4, 20).unwrap(),
        description: "Papers of one piece.".to_owned(),
        record_seal: Some(witnessmark::write::fingerprint(&record)),
        signing_key,
    };
    let file = |path: &str, bytes: &[u8]| File { path: path.to_owned(), bytes: bytes.to_vec() };
    pack::bag(vec![file("record.toml", &record), file("care.html", b"<p>Dust it.</p>")], &info).unwrap()
}

/// A bench with a pack as a folder and as a zip.
fn with(files: &[File]) -> Bench {
    let day = NaiveDate::from_ymd_opt(2026, 4, 20).unwrap();
    let zip = pack::zip("TL-007", files, day).unwrap();
    let place = |bench: Bench, file: &File| bench.write(&format!("TL-007/{}", file.path), &file.bytes);
    files.iter().fold(Bench::new().write("TL-007.zip", zip), place)
}

#[test]
fn a_whole_pack_is_told_in_one_screen() {
    let seal = "Seal       4191 93cf fd6c 413e";
    for pack in ["TL-007", "TL-007.zip"] {
        let (_, told) = with(&bag(None))
            .args(["verify", pack])
            .stdout_has("Whole. Every file is there, and none was changed or added.\n  TL-007  Oak table\n")
            .stdout_has("  Bench, 2026-04-20\n  2 files, 35 bytes\n")
            .stdout_has(seal)
            .stdout_has("Signature  none.")
            .stderr("")
            .output(0);
        assert!(told.lines().count() <= 24 && told.lines().all(|line| line.chars().count() <= 80), "{told}");
    }
}

#[test]
fn what_differs_in_a_folder_is_named() {
    let bench = with(&bag(None));
    fs::remove_file(bench.path("TL-007/data/care.html")).unwrap();
    let bench = bench
        .write("TL-007/data/record.toml", "title = \"Elm table\"\n")
        .write("TL-007/data/extra.txt", "x")
        .args(["verify", "TL-007"])
        .stdout_has("Not whole.")
        .stdout_has("  changed: `data/record.toml`\n")
        .stdout_has("  missing: `data/care.html`\n")
        .stdout_has("  added: `data/extra.txt`\n")
        .stdout_has("Seal       broken: the pack says 4191 93cf fd6c 413e")
        .stderr("")
        .status(1);
    bench.args(["verify", "TL-007.zip"]).stdout_has("Whole.").status(0);
}

#[cfg(unix)]
#[test]
fn links_in_a_folder_are_named_and_not_followed() {
    let bench = with(&bag(None)).write("secret.txt", "x");
    std::os::unix::fs::symlink(bench.path("secret.txt"), bench.path("TL-007/data/link")).unwrap();
    std::os::unix::fs::symlink("/", bench.path("TL-007/data/root")).unwrap();
    bench
        .args(["verify", "TL-007"])
        .stdout_has("a link, not followed: `data/link`\n")
        .stdout_has("a link, not followed: `data/root`\n")
        .status(1);
}

#[test]
fn a_hundred_differences_still_fit_a_screen() {
    let bench = (0..100).fold(with(&bag(None)), |bench, n| {
        bench.write(&format!("TL-007/data/{}/{n}.txt", "a-long-folder-name".repeat(9)), "x")
    });
    let (_, told) = bench.args(["verify", "TL-007"]).stdout_has("and 94 more").output(1);
    assert!(told.lines().count() <= 24 && told.lines().all(|line| line.chars().count() <= 80), "{told}");
}

#[test]
fn a_file_that_is_no_pack_is_not_whole_and_one_that_is_not_there_could_not_run() {
    let bench = Bench::new().write("notes.zip", "these are notes").write("folder/notes.txt", "x");
    let bench = bench.args(["verify", "notes.zip"]).stdout_has("the zip is damaged or cut short").status(1);
    let bench = bench.args(["verify", "folder"]).stdout_has("it is no pack: it has no bagit.txt").status(1);
    bench.args(["verify", "nothing.zip"]).stdout("").stderr_has("`nothing.zip` cannot be read").status(2);
}

#[test]
fn the_signature_is_held_against_the_key_that_is_given() {
    let (secret, key) = pack::new_keys(None).unwrap();
    let (_, other) = pack::new_keys(None).unwrap();
    let signer = Signer::open(&secret, None).unwrap();
    let files = pack::signed(bag(Some(key.clone())), &signer, "TL-007, sealed 2026-04-20").unwrap();
    let bench = with(&files).write("other.pub", other.file()).write("ours.pub", key.file());
    let good = format!("Signature  good, by key {}, the one that you gave", key.id());
    let bench = bench.args(["verify", "TL-007.zip", "--key", "ours.pub"]).stdout_has(&good).status(0);
    let bench = bench.args(["verify", "TL-007", "--key", &key.to_string()]).stdout_has(&good).status(0);
    let bench = bench
        .args(["verify", "TL-007"])
        .stdout_has("which the pack itself names:")
        .stdout_has(&key.to_string())
        .stdout_has("\"TL-007, sealed 2026-04-20\"")
        .status(0);
    let bench = bench
        .args(["verify", "TL-007", "--key", "other.pub"])
        .stdout_has("Whole, but not signed as it should be.")
        .stdout_has(&format!("by another key: {} made it", key.id()))
        .status(1);
    let bench = bench
        .args(["verify", "TL-007", "--key", "lost.pub"])
        .stdout("")
        .stderr_has("`lost.pub` cannot be read")
        .status(2);
    let bench = bench
        .args(["verify", "TL-007", "--key", "TL-007/bagit.txt"])
        .stdout("")
        .stderr_has("`TL-007/bagit.txt` cannot be used: this is no public key of minisign")
        .status(2);
    fs::remove_file(bench.path("TL-007/tagmanifest-sha256.txt.minisig")).unwrap();
    bench
        .args(["verify", "TL-007"])
        .stdout_has("Whole, but its signature is gone. Every file is there")
        .stdout_has("none, though there should be one")
        .status(1);
}
