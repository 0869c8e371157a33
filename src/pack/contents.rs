//! What a pack holds, read once.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read};

use sha2::{Digest, Sha256, Sha512};

use super::{
    DECLARATION, INFO, MANIFEST, MANIFEST_512, Problem, SIGNATURE, TAG_MANIFEST, TAG_MANIFEST_512, name,
};
use crate::unit::hexadecimal;

/// The most files of a pack that are looked at.
const MOST_FILES: usize = 100_000;
/// The most bytes of a pack that are read: thirty times what a long record with all its photographs takes.
const MOST_BYTES: u64 = 8_000_000_000;
/// The most bytes of lists and signatures that are held in memory, all together.
const MOST_TEXT: u64 = 64_000_000;
/// The most problems that are kept, so that a hostile pack cannot fill the memory with them.
const MOST_PROBLEMS: usize = 10_000;

/// One file of a pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// How many bytes it has.
    pub length: u64,
    /// Their SHA-256, in hexadecimal.
    pub digest: String,
    /// Their SHA-512, in hexadecimal, by which bags of others are checked.
    pub digest_512: String,
    /// The bytes themselves, of a list or a signature that is not too long to hold.
    pub text: Option<Vec<u8>>,
}

/// What a pack holds: a fingerprint of each file, by its path from the pack's own folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Contents {
    /// The files, by path with forward slashes.
    pub files: BTreeMap<String, Held>,
    /// What was noticed on the way; each is a reason not to trust the pack.
    pub problems: Vec<Problem>,
}

/// Contents while they are read, file after file, from a folder or a zip alike.
#[derive(Debug, Default)]
pub struct Reading {
    contents: Contents,
    folded: BTreeMap<String, String>,
    bytes: u64,
    text: u64,
    full: bool,
}

impl Reading {
    /// Nothing read yet.
    pub fn new() -> Reading {
        Reading::default()
    }

    /// Notes a problem.
    pub fn note(&mut self, problem: Problem) {
        if self.contents.problems.len() < MOST_PROBLEMS {
            self.contents.problems.push(problem);
        }
    }

    /// Whether a limit was passed, after which nothing more is read.
    pub fn is_full(&self) -> bool {
        self.full
    }

    /// Whether so many files of so many bytes may be read; notes the problem where not.
    pub fn may_hold(&mut self, files: usize, bytes: u128) -> bool {
        if files > MOST_FILES {
            return self.stop(format!("it holds {files} files, and at most {MOST_FILES} are looked at"));
        }
        if bytes > u128::from(MOST_BYTES) {
            let gigabytes = bytes / 1_000_000_000;
            let most = MOST_BYTES / 1_000_000_000;
            return self.stop(format!("it would unpack to {gigabytes} GB, and at most {most} GB are read"));
        }
        true
    }

    /// Notes that a limit was passed.
    pub(super) fn stop(&mut self, why: String) -> bool {
        self.note(Problem::TooMuch(why));
        self.full = true;
        false
    }

    /// Reads one file to its end, and keeps its fingerprint; says `false` where nothing more is to be read.
    pub fn file(&mut self, path: &str, reader: impl Read) -> bool {
        if self.full || !self.may_hold(self.contents.files.len() + 1, 0) {
            return false;
        }
        // How a name spells its accents depends on the system that it went through.
        let path = &name::composed(path);
        let unsound: Option<fn(String) -> Problem> = match () {
            () if !name::stays_inside(path) => Some(Problem::Outside),
            () if !name::can_be_held(path) => Some(Problem::Device),
            () if !name::is_legible(path) => Some(Problem::Misleading),
            () => None,
        };
        if let Some(unsound) = unsound {
            self.note(unsound(path.to_owned()));
            return true;
        }
        if let Some(other) = self.folded.insert(name::folded(path), path.to_owned()) {
            self.note(match other == *path {
                true => Problem::Twice(other),
                false => Problem::Alike { one: other, other: path.to_owned() },
            });
        }
        let left = MOST_BYTES - self.bytes;
        let keep = if may_be_list(path) { MOST_TEXT - self.text } else { 0 };
        match held(reader.take(left + 1), keep) {
            Ok(held) if held.length > left => self.may_hold(0, u128::from(MOST_BYTES) + 1_000_000_000),
            Ok(held) => {
                self.bytes += held.length;
                self.text += held.text.as_ref().map_or(0, |text| text.len() as u64);
                self.contents.files.insert(path.to_owned(), held);
                true
            }
            Err(error) => {
                self.note(Problem::Unreadable { path: path.to_owned(), why: error.to_string() });
                true
            }
        }
    }

    /// Notes every name that is a file's and a folder's.
    fn note_folders(&mut self) {
        let files = &self.contents.files;
        let above =
            |path: &str| path.match_indices('/').map(|(end, _)| path[..end].to_owned()).collect::<Vec<_>>();
        let both: BTreeSet<String> =
            files.keys().flat_map(|path| above(path)).filter(|folder| files.contains_key(folder)).collect();
        both.into_iter().for_each(|path| self.note(Problem::FileAndFolder(path)));
    }

    /// What was read, with paths from the pack's own folder: where all lies in one folder within, that is it.
    pub fn finish(mut self) -> Contents {
        self.note_folders();
        let Contents { files, problems } = self.contents;
        let folders: Vec<&str> = files
            .keys()
            .filter_map(|path| path.strip_suffix(DECLARATION)?.strip_suffix('/'))
            .filter(|folder| !folder.contains('/'))
            .collect();
        let top = match folders.as_slice() {
            [top] if !files.contains_key(DECLARATION) => format!("{top}/"),
            _ => return Contents { files, problems },
        };
        // What lies beside the pack's folder keeps its path, and is found to be added.
        let files = files
            .into_iter()
            .map(|(path, held)| (path.strip_prefix(&top).map_or(path.clone(), str::to_owned), held))
            .collect();
        Contents { files, problems }
    }
}

/// Whether a file is one by which a pack is checked, at the top or in a folder of the top.
fn may_be_list(path: &str) -> bool {
    let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
    let lists = [DECLARATION, INFO, MANIFEST, TAG_MANIFEST, MANIFEST_512, TAG_MANIFEST_512, SIGNATURE];
    !folder.contains('/') && lists.contains(&name)
}

/// Reads to the end in constant memory, but for a text of at most `keep` bytes, which is kept.
fn held(mut reader: impl Read, keep: u64) -> io::Result<Held> {
    let (mut digest, mut digest_512) = (Sha256::new(), Sha512::new());
    let mut length = 0_u64;
    let mut text = (keep > 0).then(Vec::new);
    let mut buffer = [0_u8; 64 * 1024];
    loop {
        let read = match reader.read(&mut buffer) {
            Ok(0) => break,
            Ok(read) => read,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        digest.update(&buffer[..read]);
        digest_512.update(&buffer[..read]);
        length += read as u64;
        if length > keep {
            text = None;
        }
        if let Some(kept) = &mut text {
            kept.extend_from_slice(&buffer[..read]);
        }
    }
    let (digest, digest_512) = (hexadecimal(&digest.finalize()), hexadecimal(&digest_512.finalize()));
    Ok(Held { length, digest, digest_512, text })
}
