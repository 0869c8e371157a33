//! The pack that goes with a piece: a bag of files with their fingerprints (RFC 8493), as a folder and as one zip,
//! perhaps signed; and what a pack that somebody holds says about itself.
//!
//! Everything here works on bytes in memory or on a reader that is given, so that a test flips bytes without a disk.
//! Nothing is ever unpacked to a disk: a pack is read once, file after file, and only fingerprints are kept.

mod bag;
mod contents;
mod key;
mod layout;
mod manifest;
mod name;
mod problem;
#[cfg(test)]
mod tests;
mod unzip;
mod verify;
mod zip;

pub use bag::{BagFault, BagInfo, bag, signed};
pub use contents::{Contents, Held, Reading};
pub use key::{KeyFault, PublicKey, Signer, new_keys};
pub use problem::Problem;
pub use unzip::unzip;
pub use verify::{About, Seal, Signature, Verdict, verify};
pub use zip::zip;

/// A file and its place in a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Path from the folder's root, with forward slashes.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// The folder of a bag that holds what it is about.
pub const PAYLOAD: &str = "data/";

/// The record in a pack, whose fingerprint is the seal.
pub const RECORD: &str = "data/record.toml";

const DECLARATION: &str = "bagit.txt";
const INFO: &str = "bag-info.txt";
const MANIFEST: &str = "manifest-sha256.txt";
const TAG_MANIFEST: &str = "tagmanifest-sha256.txt";
// The same of bags that others made: RFC 8493, section 2.4, prefers SHA-512.
const MANIFEST_512: &str = "manifest-sha512.txt";
const TAG_MANIFEST_512: &str = "tagmanifest-sha512.txt";
const SIGNATURE: &str = "tagmanifest-sha256.txt.minisig";

// The labels of `bag-info.txt` that are written and read again. The first three are reserved by RFC 8493, section
// 2.2.2, for what they hold here; the last two are our own.
const ORGANISATION: &str = "Source-Organization";
const NUMBER: &str = "External-Identifier";
const TITLE: &str = "External-Description";
const RECORD_SEAL: &str = "Record-Seal";
const SIGNING_KEY: &str = "Signing-Key";

/// The beginning of a seal, as papers print it: 16 hexadecimal digits in groups of four.
pub fn short_seal(seal: &str) -> String {
    let digits: Vec<char> = seal.chars().take(16).collect();
    digits.chunks(4).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join(" ")
}
