//! Packs that are whole, and packs that are not in every way that we could think of.

use std::collections::BTreeSet;
use std::io::{Cursor, Write};

use ::zip::write::SimpleFileOptions;
use ::zip::{CompressionMethod, ZipWriter};
use chrono::NaiveDate;

use super::bag::tests::small;
use super::*;

fn read(files: &[File]) -> Contents {
    let mut reading = Reading::new();
    for file in files {
        reading.file(&file.path, file.bytes.as_slice());
    }
    reading.finish()
}

/// What is wrong with a bag, after `change` had its way with it.
fn told(change: impl FnOnce(&mut Vec<File>)) -> Vec<String> {
    let mut files = small(None);
    change(&mut files);
    problems(&read(&files))
}

fn problems(contents: &Contents) -> Vec<String> {
    verify(contents, None).problems.iter().map(Problem::to_string).collect()
}

fn find<'a>(files: &'a mut [File], path: &str) -> &'a mut File {
    files.iter_mut().find(|file| file.path == path).expect("the bag has it")
}

fn day() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 4, 20).unwrap()
}

/// A zip of raw entries: path, unpacked bytes, whether deflated.
fn raw_zip(entries: &[(&str, &[u8])], method: CompressionMethod) -> Vec<u8> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    for (path, bytes) in entries {
        writer.start_file(*path, SimpleFileOptions::default().compression_method(method)).unwrap();
        writer.write_all(bytes).unwrap();
    }
    writer.finish().unwrap().into_inner()
}

#[test]
fn a_whole_bag_is_whole_as_a_folder_and_as_a_zip() {
    let files = small(None);
    let verdict = verify(&read(&files), None);
    assert_eq!(verdict.problems, []);
    assert!(verdict.sound());
    assert_eq!((verdict.files, verdict.bytes), (3, 55));
    assert_eq!(verdict.about.number, "TL-007");
    assert_eq!(verdict.signature, Signature::None);
    assert!(matches!(verdict.seal, Seal::Kept(_)));
    let bytes = zip("TL-007", &files, day()).unwrap();
    assert_eq!(unzip(Cursor::new(&bytes)), read(&files));
    assert_eq!(bytes, zip("TL-007", &files, day()).unwrap(), "the same bytes each time");
}

#[test]
fn what_differs_is_named() {
    let flipped = told(|files| find(files, "data/care.html").bytes[3] ^= 1);
    assert_eq!(flipped, ["changed: `data/care.html`"]);
    let missing = told(|files| files.retain(|file| file.path != "data/care.html"));
    assert_eq!(missing, ["missing: `data/care.html`"]);
    let added = |path: &str| told(|files| files.push(File { path: path.to_owned(), bytes: b"new".to_vec() }));
    assert_eq!(added("data/extra.txt"), ["added: `data/extra.txt`"]);
    assert_eq!(added("extra.txt"), ["added: `extra.txt`"]);
    assert_eq!(added("fetch.txt"), ["added: `fetch.txt`"]);
    assert_eq!(
        added("data/.DS_Store"),
        ["added: `data/.DS_Store`, which a file manager leaves behind and which may be deleted"]
    );
    let renamed = told(|files| find(files, "data/care.html").path = "data/Care.html".to_owned());
    assert_eq!(renamed, ["renamed: `data/care.html` is now `data/Care.html`"]);
}

#[test]
fn what_is_wrong_with_the_lists_is_named() {
    assert_eq!(
        told(|files| find(files, "bag-info.txt").bytes.extend(b"Contact-Name: x\n")),
        ["changed: `bag-info.txt`"]
    );
    assert_eq!(
        told(|files| files.retain(|file| file.path != "manifest-sha256.txt")),
        ["missing: `manifest-sha256.txt`"]
    );
    assert_eq!(
        told(|files| files.retain(|file| file.path != "tagmanifest-sha256.txt")),
        ["missing: `tagmanifest-sha256.txt`"]
    );
    assert_eq!(
        told(|files| find(files, "tagmanifest-sha256.txt").bytes = b"none".to_vec()),
        ["`tagmanifest-sha256.txt` cannot be used: of line 1, it is no fingerprint with a path"]
    );
    assert_eq!(
        told(|files| files.retain(|file| file.path != "bagit.txt")),
        ["it is no pack: it has no bagit.txt at its top or in its one folder"]
    );
    let other = told(|files| find(files, "bagit.txt").bytes = b"BagIt-Version: 0.97\n".to_vec());
    assert_eq!(
        other,
        [
            "`bagit.txt` cannot be used: it does not declare BagIt 1.0 (or 0.97) in UTF-8",
            "changed: `bagit.txt`"
        ]
    );
    let long = told(|files| find(files, "manifest-sha256.txt").bytes = vec![b'\n'; 65_000_000]);
    assert_eq!(long[0], "`manifest-sha256.txt` cannot be used: it is too long");
    assert!(told(Vec::clear).iter().any(|told| told.starts_with("it is no pack")));
}

/// A record exchanged by somebody who makes all the lists new: only the seal tells, and the signature.
#[test]
fn a_pack_made_again_around_another_record_breaks_its_seal() {
    let mut files = small(None);
    find(&mut files, "data/record.toml").bytes = b"title = \"Elm table\"\n".to_vec();
    for (list, of) in [("manifest-sha256.txt", true), ("tagmanifest-sha256.txt", false)] {
        let lines = manifest::text(
            files
                .iter()
                .filter(|file| file.path.starts_with(PAYLOAD) == of && file.path != TAG_MANIFEST)
                .map(|file| (file.path.as_str(), crate::unit::fingerprint(&file.bytes))),
        );
        find(&mut files, list).bytes = lines.into_bytes();
    }
    let told = problems(&read(&files));
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].starts_with("the seal is broken"), "{told:?}");
}

#[test]
fn a_signature_is_told_for_what_it_is() {
    let (secret, key) = new_keys(None).unwrap();
    let signer = Signer::open(&secret, None).unwrap();
    let named = signed(small(Some(key.clone())), &signer, "TL-007 2026-04-20").unwrap();
    let unnamed = signed(small(None), &signer, "TL-007").unwrap();
    let (_, other) = new_keys(None).unwrap();
    let signature = |files: &[File], trusted: Option<&PublicKey>| verify(&read(files), trusted).signature;

    assert!(
        matches!(signature(&named, Some(&key)), Signature::Trusted { comment, .. } if comment == "TL-007 2026-04-20")
    );
    assert!(matches!(signature(&named, None), Signature::BySaidKey { key: said, .. } if said == key));
    assert_eq!(signature(&unnamed, None), Signature::NoKey { id: key.id() });
    assert_eq!(signature(&named, Some(&other)), Signature::OtherKey { id: key.id(), wanted: other.id() });
    assert_eq!(signature(&small(None), Some(&key)), Signature::Gone);
    assert_eq!(signature(&small(Some(key.clone())), None), Signature::Gone);

    let mut changed = named.clone();
    find(&mut changed, TAG_MANIFEST).bytes.push(b'\n');
    assert_eq!(signature(&changed, Some(&key)), Signature::Bad(KeyFault::Mismatch));
    let mut broken = named.clone();
    find(&mut broken, SIGNATURE).bytes.truncate(60);
    assert_eq!(signature(&broken, Some(&key)), Signature::Bad(KeyFault::NotASignature));

    let sound = |files: &[File], trusted| verify(&read(files), trusted).sound();
    let gone = small(Some(key.clone()));
    assert!(sound(&named, Some(&key)) && sound(&named, None) && sound(&unnamed, None));
    assert!(!sound(&named, Some(&other)) && !sound(&broken, None) && !sound(&gone, None));
}

#[test]
fn names_that_lead_out_of_a_zip_are_named_and_not_followed() {
    for name in ["../evil.txt", "TL-007/../../evil.txt", "/etc/evil", "C:\\evil", "TL-007\\data\\evil"] {
        let told = problems(&unzip(Cursor::new(raw_zip(&[(name, b"x")], CompressionMethod::Stored))));
        assert!(told.iter().any(|told| told.starts_with("dangerous name: ")), "{name}: {told:?}");
    }
}

#[test]
fn two_names_that_are_one_on_some_systems_are_named() {
    let bytes = raw_zip(&[("a/bagit.txt", b"x"), ("a/BagIt.txt", b"y")], CompressionMethod::Stored);
    let told = problems(&unzip(Cursor::new(bytes)));
    assert!(told.iter().any(|told| told.contains("`a/bagit.txt` and `a/BagIt.txt`")), "{told:?}");
}

#[test]
fn a_link_in_a_zip_is_named() {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    writer.add_symlink("a/link", "/etc/passwd", SimpleFileOptions::default()).unwrap();
    let told = problems(&unzip(Cursor::new(writer.finish().unwrap().into_inner())));
    assert!(told.contains(&"a link, not followed: `a/link`".to_owned()), "{told:?}");
}

#[test]
fn a_zip_bomb_is_named_and_not_unpacked() {
    // 300 MB of nothing shrink to 300 kB.
    let bytes = raw_zip(&[("a/data/bomb", &vec![0; 300_000_000])], CompressionMethod::Deflated);
    let before = std::time::Instant::now();
    let told = problems(&unzip(Cursor::new(bytes)));
    assert!(told[0].contains("`a/data/bomb` would unpack to 300 MB"), "{told:?}");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(before.elapsed().as_secs() < 2, "it was not read");
}

/// A table of contents that promises 10 bytes where 10 MB lie.
#[test]
fn a_lying_table_of_contents_is_named() {
    let mut bytes = raw_zip(&[("a/data/liar", &vec![b'x'; 10_000_000])], CompressionMethod::Deflated);
    let (size, lie) = (10_000_000_u32.to_le_bytes(), 10_u32.to_le_bytes());
    for place in 0..bytes.len() - 4 {
        if bytes[place..place + 4] == size {
            bytes[place..place + 4].copy_from_slice(&lie);
        }
    }
    let contents = unzip(Cursor::new(bytes));
    assert!(!contents.problems.is_empty());
    assert!(contents.files.values().all(|held| held.length <= 11), "{:?}", contents.files);
}

#[test]
fn a_truncated_zip_is_named_wherever_it_is_cut() {
    let bytes = zip("TL-007", &small(None), day()).unwrap();
    for cut in 0..bytes.len() {
        let told = problems(&unzip(Cursor::new(&bytes[..cut])));
        assert!(told.iter().any(|told| told.starts_with("the zip is damaged")), "cut at {cut}: {told:?}");
    }
}

/// A generator of numbers that gives the same ones each time (Knuth's constants for a linear congruence, from memory).
fn numbers() -> impl Iterator<Item = usize> {
    let mut state = 7_u64;
    std::iter::from_fn(move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        Some((state >> 33) as usize)
    })
}

#[test]
fn no_flipped_byte_passes_or_panics() {
    let (secret, key) = new_keys(None).unwrap();
    let files = signed(small(Some(key.clone())), &Signer::open(&secret, None).unwrap(), "TL-007").unwrap();
    let whole = read(&files);
    let bytes = zip("TL-007", &files, day()).unwrap();
    let mut numbers = numbers();
    let mut next = |below: usize| numbers.next().unwrap() % below;
    let mut quiet = BTreeSet::new();
    // Every byte three times, then some thousand zips with several bytes changed at once.
    for round in 0..3 * bytes.len() + 4000 {
        let mut changed = bytes.clone();
        let single = round < 3 * bytes.len();
        let flips = if single { 1 } else { 2 + next(6) };
        let places: Vec<usize> =
            (0..flips).map(|_| if single { round % bytes.len() } else { next(bytes.len()) }).collect();
        for place in &places {
            changed[*place] ^= 1 << next(8);
        }
        let contents = unzip(Cursor::new(&changed));
        if verify(&contents, Some(&key)).sound() {
            assert_eq!(contents, whole, "round {round}");
            quiet.extend(places);
        }
    }
    // What may change without a word is no content: in each record of an entry, which version of the format it needs;
    // in the table of contents also which one made it, and what kind of file it was where it was packed.
    let within = |mark: &[u8], kept: &[usize]| -> BTreeSet<usize> {
        let starts = bytes.windows(4).enumerate().filter(|(_, window)| *window == mark);
        starts.flat_map(|(at, _)| kept.iter().map(move |kept| at + kept)).collect()
    };
    let mut harmless = within(b"PK\x03\x04", &[4, 5]);
    harmless.extend(within(b"PK\x01\x02", &[4, 5, 6, 7, 36, 37, 38, 39, 40, 41]));
    assert!(quiet.is_subset(&harmless), "{:?}", quiet.difference(&harmless).collect::<Vec<_>>());
}

/// The same for a bag as a folder, which is nothing but its files.
#[test]
fn no_flipped_byte_of_a_folder_passes() {
    let (secret, key) = new_keys(None).unwrap();
    let files = signed(small(Some(key.clone())), &Signer::open(&secret, None).unwrap(), "TL-007").unwrap();
    let mut numbers = numbers();
    for place in 0..files.len() {
        for at in 0..files[place].bytes.len() {
            let mut changed = files.clone();
            changed[place].bytes[at] ^= 1 << (numbers.next().unwrap() % 8);
            let sound = verify(&read(&changed), Some(&key)).sound();
            // The first line of a signature is a remark, which minisign does not sign either.
            let remark = files[place].path == SIGNATURE
                && at < files[place].bytes.iter().position(|b| *b == b'\n').unwrap();
            let line_ends = files[place].path == SIGNATURE && files[place].bytes[at] == b'\n';
            assert!(!sound || remark || line_ends, "{} byte {at}", files[place].path);
        }
    }
}

/// What is wrong with a zip, after `change` had its way with its bytes.
fn told_of_zip(change: impl FnOnce(&mut Vec<u8>)) -> Vec<String> {
    let mut bytes = zip("TL-007", &small(None), day()).unwrap();
    change(&mut bytes);
    problems(&unzip(Cursor::new(bytes)))
}

/// The place of a mark in a zip, counted from the end.
fn last(bytes: &[u8], mark: &[u8]) -> usize {
    bytes.windows(mark.len()).rposition(|window| window == mark).expect("it is there")
}

/// Adds to a number of four bytes.
fn raise(bytes: &mut [u8], at: usize, by: usize) {
    let number = u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap()) + by as u32;
    bytes[at..at + 4].copy_from_slice(&number.to_le_bytes());
}

#[test]
fn what_stands_outside_the_entries_of_a_zip_is_told() {
    let is_told = |what: &str, told: Vec<String>| {
        assert!(told.iter().any(|told| told.contains("no list covers it")), "{what}: {told:?}");
    };
    assert_eq!(told_of_zip(|_| {}), Vec::<String>::new());
    is_told("after the end", told_of_zip(|bytes| bytes.extend(b"x")));
    is_told(
        "another zip after the end",
        told_of_zip(|bytes| bytes.extend(raw_zip(&[("a", b"b")], CompressionMethod::Stored))),
    );
    is_told("before the beginning", told_of_zip(|bytes| drop(bytes.splice(0..0, *b"#!/bin/sh\n"))));
    is_told(
        "a comment",
        told_of_zip(|bytes| {
            let length = bytes.len();
            bytes[length - 2] = 3;
            bytes.extend(b"abc");
        }),
    );
    is_told(
        "between the last file and the table of contents",
        told_of_zip(|bytes| {
            let table = bytes.windows(4).position(|window| window == b"PK\x01\x02").unwrap();
            bytes.splice(table..table, *b"hidden");
            let end = last(bytes, b"PK\x05\x06");
            raise(bytes, end + 16, 6);
        }),
    );
    is_told(
        "before the first file, with all places set right",
        told_of_zip(|bytes| {
            bytes.splice(0..0, *b"hidden");
            let entries: Vec<usize> =
                (0..bytes.len() - 4).filter(|at| bytes[*at..].starts_with(b"PK\x01\x02")).collect();
            entries.iter().for_each(|at| raise(bytes, at + 42, 6));
            let end = last(bytes, b"PK\x05\x06");
            raise(bytes, end + 16, 6);
        }),
    );
}

#[test]
fn two_records_of_one_entry_that_differ_are_told() {
    // The table of contents calls it otherwise than the file itself.
    let told = told_of_zip(|bytes| {
        let name = last(bytes, b"data/care.html");
        bytes[name + 5] = b'C';
    });
    assert!(
        told.iter().any(|told| told.contains("is damaged") || told.contains("not as packs are")),
        "{told:?}"
    );
    let day = told_of_zip(|bytes| bytes[12] ^= 1);
    assert!(day.iter().any(|told| told.contains("what a file says of itself")), "{day:?}");
    // Two entries under one name, of which some readers take the first and others the last.
    let mut twice = raw_zip(&[("a/bagit.txt", b"x"), ("a/bagit.tyt", b"y")], CompressionMethod::Stored);
    while let Some(at) = twice.windows(11).position(|window| window == b"a/bagit.tyt") {
        twice[at + 9] = b'x';
    }
    let told = problems(&unzip(Cursor::new(twice)));
    assert!(told.iter().any(|told| told.contains("two of its entries have one name")), "{told:?}");
}

#[test]
fn names_that_no_pack_has_are_told() {
    let told = |name: &str| {
        problems(&unzip(Cursor::new(raw_zip(&[(name, b"x")], CompressionMethod::Stored)))).join("\n")
    };
    assert!(told("a/NUL.txt").contains("unusable name: `a/NUL.txt`"), "{}", told("a/NUL.txt"));
    assert!(told(&format!("a/{}", "x".repeat(256))).contains("unusable name"));
    assert!(told("a/gpj.\u{202e}exe").contains("misleading name"));
    assert!(told("a/\u{1b}[2J").contains("dangerous name"));
    let contents = |paths: &[&str]| {
        let files: Vec<File> =
            paths.iter().map(|path| File { path: (*path).to_owned(), bytes: Vec::new() }).collect();
        problems(&read(&files)).join("\n")
    };
    assert!(contents(&["a", "a/b/c"]).contains("both a file and a folder: `a`"));
    assert!(
        contents(&["a/b.txt", "a/b.txt. "]).contains("one file on some systems: `a/b.txt` and `a/b.txt. `")
    );
    assert!(contents(&["a/ä", "a/a\u{308}"]).contains("there twice: `a/ä`"));
}

/// macOS takes letters and accents apart in names of files, and its zips keep that.
#[test]
fn a_name_with_its_accents_apart_is_the_same_name() {
    let file = |path: &str| File { path: path.to_owned(), bytes: b"x".to_vec() };
    let info = BagInfo {
        organisation: "W".to_owned(),
        title: "T".to_owned(),
        number: "N".to_owned(),
        on: day(),
        description: String::new(),
        record_seal: None,
        signing_key: None,
    };
    let mut files = bag(vec![file("Tür.txt"), file("record.toml")], &info).unwrap();
    find(&mut files, "data/Tür.txt").path = "data/Tu\u{308}r.txt".to_owned();
    assert_eq!(problems(&read(&files)), Vec::<String>::new());
}

/// A bag by somebody else, with the lists of another kind of fingerprint.
fn bag_of_kind(kind: &str, digest: impl Fn(&[u8]) -> String, tags: bool) -> Vec<File> {
    let mut files = small(None);
    files.retain(|file| file.path.starts_with("data/") || file.path == "bagit.txt");
    let lines = |files: &[File], payload: bool| -> Vec<u8> {
        let listed = files.iter().filter(|file| file.path.starts_with(PAYLOAD) == payload);
        listed
            .map(|file| format!("{}  {}\n", digest(&file.bytes), file.path))
            .collect::<String>()
            .into_bytes()
    };
    let manifest = lines(&files, true);
    files.push(File { path: format!("manifest-{kind}.txt"), bytes: manifest });
    if tags {
        let list = lines(&files, false);
        files.push(File { path: format!("tagmanifest-{kind}.txt"), bytes: list });
    }
    files
}

#[test]
fn a_bag_of_sha_512_is_checked_and_one_of_less_is_called_what_it_is() {
    use sha2::{Digest, Sha512};
    let sha_512 = |bytes: &[u8]| crate::unit::hexadecimal(&Sha512::digest(bytes));
    for tags in [true, false] {
        let mut files = bag_of_kind("sha512", sha_512, tags);
        assert_eq!(problems(&read(&files)), Vec::<String>::new());
        find(&mut files, "data/care.html").bytes[0] ^= 1;
        assert_eq!(problems(&read(&files)), ["changed: `data/care.html`"]);
        files.retain(|file| file.path != "data/care.html");
        assert_eq!(problems(&read(&files)), ["missing: `data/care.html`"]);
    }
    let weak = problems(&read(&bag_of_kind("md5", |_| "0".repeat(32), true)));
    assert_eq!(
        weak,
        [
            "a bag, but none of ours: its fingerprints are of the kind MD5, and SHA-256 and SHA-512 are checked here"
        ]
    );
    // A second kind beside ours is no way around the first.
    let told = told(|files| files.push(File { path: "manifest-sha512.txt".to_owned(), bytes: Vec::new() }));
    assert!(told.contains(&"added: `manifest-sha512.txt`".to_owned()), "{told:?}");
}

/// Zips as other programs make them: with sizes of eight bytes, with sizes behind the bytes, compressed, with folders.
#[test]
fn a_sound_zip_of_another_program_is_taken() {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let options = SimpleFileOptions::default();
    writer.add_directory("TL-007/data/", options).unwrap();
    for file in small(None) {
        writer.start_file(format!("TL-007/{}", file.path), options.large_file(true)).unwrap();
        writer.write_all(&file.bytes).unwrap();
    }
    assert_eq!(problems(&unzip(Cursor::new(writer.finish().unwrap().into_inner()))), Vec::<String>::new());
    let mut writer = ZipWriter::new_stream(Vec::new());
    for file in small(None) {
        writer.start_file(format!("TL-007/{}", file.path), options).unwrap();
        writer.write_all(&file.bytes).unwrap();
    }
    let streamed = writer.finish().unwrap().into_inner();
    assert!(streamed.windows(4).any(|window| window == b"PK\x07\x08"), "sizes stand behind the bytes");
    assert_eq!(problems(&unzip(Cursor::new(streamed))), Vec::<String>::new());
}

#[test]
fn many_small_bombs_are_one() {
    let zeros = vec![0; 60_000_000];
    let bytes = raw_zip(&[("a/1", &zeros), ("a/2", &zeros)], CompressionMethod::Deflated);
    let told = problems(&unzip(Cursor::new(bytes)));
    assert!(told[0].contains("it would unpack to 120 MB"), "{told:?}");
}

/// A reader stops where the packed bytes say that they end; what stands behind them within the entry is seen by nobody.
#[test]
fn what_stands_behind_the_packed_bytes_of_a_file_is_told() {
    let whole = raw_zip(&[("a/data/x", &[b'x'; 3000])], CompressionMethod::Deflated);
    let is_told = |bytes: Vec<u8>| {
        problems(&unzip(Cursor::new(bytes))).iter().any(|told| told.contains("packed bytes"))
    };
    assert!(!is_told(whole.clone()));
    let mut changed = whole;
    let table = changed.windows(4).position(|window| window == b"PK\x01\x02").unwrap();
    changed.splice(table..table, *b"hidden");
    for at in [18, table + 6 + 20] {
        raise(&mut changed, at, 6);
    }
    let end = last(&changed, b"PK\x05\x06");
    raise(&mut changed, end + 16, 6);
    assert!(is_told(changed));
}
