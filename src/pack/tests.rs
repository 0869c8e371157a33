//! Packs that are whole, and packs that are not in every way that we could think of.

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
        ["`bagit.txt` cannot be used: it does not declare BagIt 1.0 in UTF-8", "changed: `bagit.txt`"]
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
    let (mut told, mut quiet) = (0, 0);
    // Every byte once, then some thousand zips with several bytes changed at once.
    for round in 0..bytes.len() + 4000 {
        let mut changed = bytes.clone();
        let flips = if round < bytes.len() { 1 } else { 1 + next(6) };
        for flip in 0..flips {
            let place = if round < bytes.len() { round } else { next(bytes.len()) };
            changed[place] ^= 1 << next(8) | u8::from(flip > 0 && next(2) == 0);
        }
        let contents = unzip(Cursor::new(&changed));
        let verdict = verify(&contents, Some(&key));
        match verdict.sound() {
            // Dates and rights of entries may change without a word, and nothing else.
            true => {
                assert_eq!(contents, whole, "round {round}");
                quiet += 1;
            }
            false => told += 1,
        }
    }
    assert!(told > 4000 && quiet < bytes.len() / 4, "{told} told, {quiet} quiet");
}
