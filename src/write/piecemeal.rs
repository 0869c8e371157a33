//! Bringing what changed into a tree that stands, file by file, instead of exchanging the tree as a whole.
//!
//! What is to be done lies on the disk before any of it is done: the files that come are in the stage, beside a list of those
//! that go. From then on it is done to the end, by this run or, where that was killed, by the next one before it does anything
//! else. Every step may be done twice.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::manifest::{MANIFEST, is_sound};
use super::swap;
use crate::source::{PlainFile, hold_folder, limit};

/// The list in the stage of the files that go: while it is there, what the stage holds is to be brought in.
const GOING: &str = "going";

/// Whether files can be brought in one after the other: none of them is where a folder stands, or below a file that goes.
pub(super) fn is_possible(coming: &BTreeSet<String>, going: &BTreeSet<String>) -> bool {
    let clear = |path: &String, others: &BTreeSet<String>| {
        path.match_indices('/').all(|(end, _)| !others.contains(&path[..end]))
    };
    coming.iter().all(|path| clear(path, going)) && going.iter().all(|path| clear(path, coming))
}

/// Decides that what a stage holds is brought in and that these files go, by their paths in the tree.
///
/// # Errors
/// The system's; then nothing is decided.
pub(super) fn decide(stage: &Path, going: &BTreeSet<String>) -> io::Result<()> {
    let (half, list) = (stage.join("half"), stage.join(GOING));
    let mut file = File::create(&half)?;
    for path in going {
        writeln!(file, "{path}")?;
    }
    file.sync_all()?;
    fs::rename(&half, &list)?;
    // Best effort: some systems cannot do this for folders.
    if let Ok(folder) = hold_folder(stage) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Does what was decided, as far as that is not done yet; where nothing was, it does nothing.
///
/// # Errors
/// The system's; the stage then still holds what is missing and must stay.
pub(super) fn carry_out(stage: &Path, target: &Path) -> io::Result<()> {
    let list = stage.join(GOING);
    if fs::symlink_metadata(&list).is_err() {
        return Ok(());
    }
    let bytes = PlainFile::open(&list).and_then(|file| file.all(limit::LIST)).map_err(io::Error::other)?;
    let tree = swap::fresh(stage);
    for file in files(&tree)? {
        let to = target.join(file.strip_prefix(&tree).map_err(io::Error::other)?);
        if let Some(folder) = to.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::rename(&file, &to)?;
    }
    for path in String::from_utf8_lossy(&bytes).lines().filter(|path| is_sound(path)) {
        match fs::remove_file(target.join(path)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
        // A folder that holds anything stays, and so do those above it.
        let mut above = Path::new(path).ancestors().skip(1).take_while(|folder| *folder != Path::new(""));
        let _ = above.try_for_each(|folder| fs::remove_dir(target.join(folder)));
    }
    // The list of the tree comes last: by its date the files are known to be as they were written.
    match fs::rename(tree.join(MANIFEST), target.join(MANIFEST)) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    swap::seal(stage, target);
    fs::remove_file(list)
}

/// The files of a stage's tree but its list.
fn files(tree: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in WalkDir::new(tree).sort_by_file_name() {
        let entry = entry?;
        if entry.file_type().is_file() && entry.path() != tree.join(MANIFEST) {
            files.push(entry.into_path());
        }
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_and_a_folder_of_one_name_are_not_for_this_way() {
        let possible = |coming: &[&str], going: &[&str]| {
            let [coming, going] =
                [coming, going].map(|paths| paths.iter().map(|path| (*path).to_owned()).collect());
            is_possible(&coming, &going)
        };
        assert!(possible(&["a/b", "c"], &["a/d", "e"]));
        assert!(possible(&["a/b"], &["a/bb", "a-b"]));
        assert!(!possible(&["a/b/c"], &["a/b"]));
        assert!(!possible(&["a"], &["a/b/c"]));
    }
}
