//! One entry on the disk: a folder with the files and, in `entry`, what is known of them.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::{Kept, KeptFile, Key, sealed, unsealed};
use crate::source::{FileFault, Identity, PlainFile, limit};
use crate::write::fingerprint;

/// The file that says what the entry holds.
const LIST: &str = "entry";

#[derive(Serialize, Deserialize)]
struct Entry<N> {
    key: String,
    note: N,
    files: Vec<Listed>,
}

#[derive(Serialize, Deserialize)]
struct Listed {
    name: String,
    #[serde(rename = "print")]
    digest: String,
    length: u64,
    /// In nanoseconds since 1970.
    modified: u64,
}

/// Where the entry of a key stands; spread over 256 folders, since some systems are slow with very long ones.
pub(super) fn place(folder: &Path, key: &Key) -> PathBuf {
    let (first, rest) = key.0.split_at(2);
    folder.join("kept").join(first).join(rest)
}

/// The entry at a place; `None` where there is none, or any of it is not as it was made.
pub(super) fn read<N: DeserializeOwned>(place: &Path, key: &Key) -> Option<Kept<N>> {
    let bytes = PlainFile::open(&place.join(LIST)).ok()?.all(limit::LIST).ok()?;
    let entry: Entry<N> = serde_json::from_str(unsealed(&bytes)?).ok()?;
    let file = |listed: Listed| {
        let path = place.join(&listed.name);
        is_sound(&path, &listed).then_some(KeptFile {
            name: listed.name,
            path,
            digest: listed.digest,
            length: listed.length,
        })
    };
    let files = entry.files.into_iter().map(file).collect::<Option<_>>()?;
    (entry.key == key.0).then_some(Kept { note: entry.note, files, made: false })
}

/// Whether a file is what was kept. A copied darkroom has other dates, and is read.
fn is_sound(path: &Path, listed: &Listed) -> bool {
    let Ok(found) = fs::symlink_metadata(path) else { return false };
    let identity = Identity::of(&found);
    found.is_file()
        && identity.length == listed.length
        && (identity.modified == listed.modified
            || read_whole(path, listed.length).is_ok_and(|bytes| fingerprint(&bytes) == listed.digest))
}

/// The bytes of a file of an entry, of which the length is known.
pub(super) fn read_whole(path: &Path, length: u64) -> Result<Vec<u8>, FileFault> {
    PlainFile::open(path)?.all(length)
}

/// Fills an entry in the folder `work`, and moves it to its place in one step.
pub(super) fn write<N: Serialize>(
    work: &Path,
    place: &Path,
    key: &Key,
    note: &N,
    files: &[(String, Vec<u8>)],
) -> io::Result<Vec<KeptFile>> {
    fs::create_dir_all(work)?;
    let filled = fill(work, key, note, files).and_then(|kept| {
        settle(work, place, key, &kept)?;
        Ok(kept)
    });
    if fs::symlink_metadata(work).is_ok() {
        // It failed, or another thread or process was faster.
        let _ = fs::remove_dir_all(work);
    }
    let kept = filled?.into_iter();
    Ok(kept.map(|file| KeptFile { path: place.join(&file.name), ..file }).collect())
}

fn fill<N: Serialize>(
    work: &Path,
    key: &Key,
    note: &N,
    files: &[(String, Vec<u8>)],
) -> io::Result<Vec<KeptFile>> {
    let (mut listed, mut kept) = (Vec::new(), Vec::new());
    for (name, bytes) in files {
        let path = work.join(name);
        fs::write(&path, bytes)?;
        let Identity { length, modified, .. } = Identity::of(&fs::metadata(&path)?);
        let digest = fingerprint(bytes);
        listed.push(Listed { name: name.clone(), digest: digest.clone(), length, modified });
        kept.push(KeptFile { name: name.clone(), path, digest, length });
    }
    let entry = Entry { key: key.0.clone(), note, files: listed };
    fs::write(work.join(LIST), sealed(&serde_json::to_string(&entry)?))?;
    Ok(kept)
}

/// Moves a filled entry to its place, unless a sound one with the same files stands there.
fn settle(work: &Path, place: &Path, key: &Key, kept: &[KeptFile]) -> io::Result<()> {
    let parent = place.parent().expect("a place is below the folder of its first letters");
    fs::create_dir_all(parent)?;
    let Err(error) = fs::rename(work, place) else { return Ok(()) };
    if fs::symlink_metadata(place).is_err() {
        return Err(error);
    }
    let same = |there: &Kept<serde::de::IgnoredAny>| {
        there.files.iter().map(|file| &file.digest).eq(kept.iter().map(|file| &file.digest))
    };
    if read(place, key).is_some_and(|there| same(&there)) {
        return Ok(());
    }
    let aside = work.with_extension("void");
    fs::rename(place, &aside)?;
    let moved = fs::rename(work, place);
    let _ = fs::remove_dir_all(&aside);
    moved
}
