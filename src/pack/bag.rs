//! Making a bag: the payload below `data/`, and the files that say what it is and hold its fingerprints.

use std::collections::BTreeSet;

use chrono::NaiveDate;

use super::{
    DECLARATION, File, INFO, KeyFault, MANIFEST, NUMBER, ORGANISATION, PAYLOAD, PublicKey, RECORD_SEAL,
    SIGNATURE, SIGNING_KEY, Signer, TAG_MANIFEST, TITLE, manifest, name,
};
use crate::unit::fingerprint;
use crate::unit::legible::{one_line, without_unseen};

/// What a bag says about itself.
#[derive(Debug, Clone)]
pub struct BagInfo {
    /// Who made it: the workshop's name.
    pub organisation: String,
    /// What it is about: the piece's title.
    pub title: String,
    /// The piece's number.
    pub number: String,
    /// The day it is made: the day of handover or of the latest amendment, never that of a clock.
    pub on: NaiveDate,
    /// What is in it, in a sentence.
    pub description: String,
    /// The seal of the record in full: the SHA-256 of `data/record.toml` in hexadecimal.
    pub record_seal: Option<String>,
    /// The key that the bag is going to be signed with.
    pub signing_key: Option<PublicKey>,
}

/// Why a bag was not made.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BagFault {
    /// A path that not every system, or not every reader of bags, can hold.
    #[error("`{0}` cannot be the name of a file in a pack; choose one without % : ? * < > | \" and \\")]
    Name(String),
    /// Two paths that some systems take for one.
    #[error("`{0}` would stand twice in the pack, since capitals and small letters do not count everywhere")]
    Twice(String),
}

/// A bag of a payload, whose paths are given without `data/`. The files are sorted by path.
///
/// # Errors
/// [`BagFault`] for the first path that cannot be in a bag.
///
/// # Source
/// RFC 8493, "The BagIt File Packaging Format (V1.0)", section 2.
pub fn bag(payload: Vec<File>, info: &BagInfo) -> Result<Vec<File>, BagFault> {
    let mut seen = BTreeSet::new();
    for file in &payload {
        if !name::may_be_written(&file.path) {
            return Err(BagFault::Name(file.path.clone()));
        }
        if !seen.insert(name::folded(&file.path)) {
            return Err(BagFault::Twice(file.path.clone()));
        }
    }
    let mut files: Vec<File> = payload
        .into_iter()
        .map(|file| File { path: format!("{PAYLOAD}{}", file.path), bytes: file.bytes })
        .collect();
    let about = labels(&files, info);
    let payload_manifest = manifest_of(&files);
    let tags = [
        (DECLARATION, "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n".to_owned()),
        (INFO, about),
        (MANIFEST, payload_manifest),
    ]
    .map(|(path, text)| File { path: path.to_owned(), bytes: text.into_bytes() });
    let tag_manifest = manifest_of(&tags);
    files.extend(tags);
    files.push(File { path: TAG_MANIFEST.to_owned(), bytes: tag_manifest.into_bytes() });
    files.sort_by(|one, other| one.path.cmp(&other.path));
    Ok(files)
}

/// A bag with a signature of the list that covers all its other files.
///
/// The comment, one line, is signed too. RFC 8493 lets a bag hold files that no list names, and a list cannot name
/// the signature of itself.
///
/// # Errors
/// [`KeyFault`] where the system has no randomness to sign with.
pub fn signed(mut bag: Vec<File>, signer: &Signer, comment: &str) -> Result<Vec<File>, KeyFault> {
    let list = bag.iter().find(|file| file.path == TAG_MANIFEST).map_or(&[][..], |file| &file.bytes);
    let signature = signer.sign(list, comment)?;
    bag.retain(|file| file.path != SIGNATURE);
    bag.push(File { path: SIGNATURE.to_owned(), bytes: signature.into_bytes() });
    bag.sort_by(|one, other| one.path.cmp(&other.path));
    Ok(bag)
}

fn manifest_of(files: &[File]) -> String {
    manifest::text(files.iter().map(|file| (file.path.as_str(), fingerprint(&file.bytes))))
}

/// The text of `bag-info.txt`, in the order in which people read it.
fn labels(payload: &[File], info: &BagInfo) -> String {
    let octets: u64 = payload.iter().map(|file| file.bytes.len() as u64).sum();
    let mut labels = vec![
        (ORGANISATION, info.organisation.clone()),
        (NUMBER, info.number.clone()),
        (TITLE, info.title.clone()),
        ("Internal-Sender-Description", info.description.clone()),
        ("Bagging-Date", info.on.format("%Y-%m-%d").to_string()),
        ("Payload-Oxum", format!("{octets}.{}", payload.len())),
        ("Bag-Software-Agent", format!("witnessmark {}", env!("CARGO_PKG_VERSION"))),
    ];
    labels.extend(info.record_seal.iter().map(|seal| (RECORD_SEAL, seal.clone())));
    labels.extend(info.signing_key.iter().map(|key| (SIGNING_KEY, key.to_string())));
    let line = |(label, value): (&str, String)| {
        let value = one_line(&without_unseen(&value));
        (!value.is_empty()).then(|| format!("{label}: {value}\n"))
    };
    labels.into_iter().filter_map(line).collect()
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// A small bag, for tests.
    pub(crate) fn small(signing_key: Option<PublicKey>) -> Vec<File> {
        let file = |path: &str, text: &str| File { path: path.to_owned(), bytes: text.as_bytes().to_vec() };
        let record = "title = \"Oak table\"\n";
        let payload = vec![
            file("record.toml", record),
            file("pictures/front.jpg", "not really a picture"),
            file("care.html", "<p>Dust it.</p>"),
        ];
        let info = BagInfo {
            organisation: "Bench & Shavings".to_owned(),
            title: "Oak table\nwith two leaves".to_owned(),
            number: "TL-007".to_owned(),
            on: NaiveDate::from_ymd_opt(2026, 4, 20).unwrap(),
            description: "Papers of one piece.".to_owned(),
            record_seal: Some(fingerprint(record.as_bytes())),
            signing_key,
        };
        bag(payload, &info).unwrap()
    }

    fn text(files: &[File], path: &str) -> String {
        String::from_utf8(files.iter().find(|file| file.path == path).unwrap().bytes.clone()).unwrap()
    }

    #[test]
    fn a_bag_is_laid_out_as_the_rfc_says() {
        let files = small(None);
        let paths: Vec<&str> = files.iter().map(|file| file.path.as_str()).collect();
        assert_eq!(
            paths,
            [
                "bag-info.txt",
                "bagit.txt",
                "data/care.html",
                "data/pictures/front.jpg",
                "data/record.toml",
                "manifest-sha256.txt",
                "tagmanifest-sha256.txt"
            ]
        );
        assert_eq!(text(&files, "bagit.txt"), "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");
        let info = text(&files, "bag-info.txt");
        assert!(info.contains("\nExternal-Description: Oak table with two leaves\n"), "{info}");
        assert!(info.contains("\nPayload-Oxum: 55.3\n"), "{info}");
        assert!(info.contains("\nBagging-Date: 2026-04-20\n"), "{info}");
        assert_eq!(text(&files, "manifest-sha256.txt").lines().count(), 3);
        let tags = text(&files, "tagmanifest-sha256.txt");
        let listed: Vec<&str> = tags.lines().map(|line| &line[66..]).collect();
        assert_eq!(listed, ["bag-info.txt", "bagit.txt", "manifest-sha256.txt"]);
    }

    #[test]
    fn names_that_not_every_system_holds_are_refused() {
        let refused = |paths: &[&str]| {
            let payload =
                paths.iter().map(|path| File { path: (*path).to_owned(), bytes: Vec::new() }).collect();
            let info = BagInfo {
                organisation: String::new(),
                title: String::new(),
                number: String::new(),
                on: NaiveDate::MIN,
                description: String::new(),
                record_seal: None,
                signing_key: None,
            };
            bag(payload, &info).err()
        };
        assert_eq!(refused(&["a", "../b"]), Some(BagFault::Name("../b".to_owned())));
        assert_eq!(refused(&["a", "A"]), Some(BagFault::Twice("A".to_owned())));
        assert_eq!(refused(&["a", "b"]), None);
        assert_eq!(refused(&[]), None);
    }
}
