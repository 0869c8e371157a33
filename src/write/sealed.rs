//! Putting one more seal with its pack into the folder `sealed` beside a record, all of it or nothing.
//!
//! A whole new folder is filled beside the old one, with everything that the old one holds, whoever put it there,
//! and the two are exchanged in one step. So at every moment there is either no trace of the handover or all of it.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::{WriteError, cannot, lock, manifest, stage, swap};
use crate::source::{hold, hold_folder};

/// The folder's name.
pub const SEALED: &str = "sealed";

/// The folder `sealed` of one piece, while a seal is put into it. No other run can do so as long as this lives.
///
/// Dropped without [`Sealing::commit`], it removes what it staged, and the folder stands as it was.
#[derive(Debug)]
pub struct Sealing {
    target: PathBuf,
    folder: PathBuf,
    /// Held for its lock.
    _marker: File,
    /// The piece's folder, held for its lock; a system without locks for folders has none.
    _lock: Option<File>,
}

impl Sealing {
    /// Takes hold of a piece's folder, and clears away what killed runs left in it.
    ///
    /// # Errors
    /// [`WriteError::Busy`] where another run has hold of it, [`WriteError`] where nothing can be written there.
    pub fn open(piece: &Path) -> Result<Sealing, WriteError> {
        let lock = hold_folder(piece).map_err(cannot("look into", piece))?;
        let lock = match lock::patiently(&lock) {
            Ok(()) => Some(lock),
            Err(fs::TryLockError::WouldBlock) => return Err(WriteError::Busy(piece.to_owned())),
            Err(fs::TryLockError::Error(_)) => None,
        };
        let target = piece.join(SEALED);
        let mut prefix = OsString::from(".");
        prefix.push(SEALED);
        prefix.push(".witnessmark-");
        stage::clear_leftovers(piece, &prefix, &target);
        match fs::symlink_metadata(&target) {
            Ok(found) if !found.is_dir() => return Err(WriteError::SealedElsewhere(target)),
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                return Err(cannot("look at", &target)(error));
            }
            _ => {}
        }
        let (folder, marker) = stage::claim(piece, &prefix).map_err(cannot("make a folder in", piece))?;
        Ok(Sealing { target, folder, _marker: marker, _lock: lock })
    }

    /// A place for files that go when this ends.
    pub(super) fn scratch(&self) -> PathBuf {
        self.folder.join("scratch")
    }

    /// Adds files, by their paths from the folder `sealed`, in one step.
    ///
    /// # Errors
    /// [`WriteError::Taken`] where something of that name is there, [`WriteError::System`] where the system refuses,
    /// as on a full disk; the folder then stands as it was.
    pub fn commit<'f>(self, files: impl IntoIterator<Item = (&'f str, &'f [u8])>) -> Result<(), WriteError> {
        let tree = swap::fresh(&self.folder);
        fs::create_dir(&tree).map_err(cannot("make the folder", &tree))?;
        let carried = carry(&self.target, &tree)?;
        let mut written = Vec::new();
        for (path, bytes) in files {
            if !manifest::is_sound(path) {
                return Err(WriteError::Path(path.to_owned()));
            }
            let file = tree.join(path);
            if let Some(folder) = file.parent() {
                fs::create_dir_all(folder).map_err(cannot("make the folder", folder))?;
            }
            let filled = File::create_new(&file).and_then(|mut file| file.write_all(bytes));
            filled.map_err(|error| match error.kind() {
                io::ErrorKind::AlreadyExists => WriteError::Taken(self.target.join(path)),
                // The stage is nobody's concern: the file's place is where it would have ended up.
                _ => cannot("write", &self.target.join(path))(error),
            })?;
            written.push(file);
        }
        settle(&tree, &written).map_err(cannot("write all of", &self.target))?;
        swap::swap(&self.folder, &self.target).map_err(cannot("replace", &self.target))?;
        swap::seal(&self.folder, &self.target);
        rescue(&self.folder, &self.target, &carried);
        Ok(())
    }
}

impl Drop for Sealing {
    fn drop(&mut self) {
        // What cannot be removed now is cleared away by the next run.
        stage::clear(&self.folder, &self.target);
    }
}

/// Waits until new files, and the folders that hold them, are on the disk.
///
/// File by file: there are some dozens, and waiting for the whole filesystem took 20 s where others were busy on it.
fn settle(tree: &Path, files: &[PathBuf]) -> io::Result<()> {
    for file in files {
        hold(file)?.sync_all()?;
    }
    for entry in WalkDir::new(tree) {
        let entry = entry?;
        // Some systems cannot do this for folders.
        if entry.file_type().is_dir()
            && let Ok(folder) = hold_folder(entry.path())
        {
            let _ = folder.sync_all();
        }
    }
    Ok(())
}

/// What tells a file from another that took its name.
#[derive(Debug, PartialEq, Eq)]
struct FolderIdentity(u64, u64);

impl FolderIdentity {
    fn of(data: &fs::Metadata) -> FolderIdentity {
        #[cfg(unix)]
        return FolderIdentity(std::os::unix::fs::MetadataExt::ino(data), 0);
        #[cfg(not(unix))]
        {
            let since = data.modified().ok().and_then(|date| date.duration_since(std::time::UNIX_EPOCH).ok());
            FolderIdentity(data.len(), since.map_or(0, |since| since.as_nanos() as u64))
        }
    }
}

/// Takes everything that a folder holds over into another, and says what that was.
fn carry(from: &Path, to: &Path) -> Result<BTreeMap<PathBuf, FolderIdentity>, WriteError> {
    let mut carried = BTreeMap::new();
    if fs::symlink_metadata(from).is_err() {
        return Ok(carried);
    }
    for entry in WalkDir::new(from).min_depth(1) {
        let entry = entry.map_err(|error| cannot("look into", from)(error.into()))?;
        let (old, kind) = (entry.path(), entry.file_type());
        let path = old.strip_prefix(from).unwrap_or(old);
        let new = to.join(path);
        let data = fs::symlink_metadata(old).map_err(cannot("look at", old))?;
        if kind.is_dir() {
            fs::create_dir(&new)
                .and_then(|()| fs::set_permissions(&new, data.permissions()))
                .map_err(cannot("make the folder", &new))?;
            continue;
        }
        if kind.is_symlink() {
            again(old, &new).map_err(cannot("copy", old))?;
        } else {
            // A second name costs nothing; where the filesystem has none, the file is copied. A pipe never ends.
            let copy = |error| if kind.is_file() { fs::copy(old, &new).map(|_| ()) } else { Err(error) };
            fs::hard_link(old, &new).or_else(copy).map_err(cannot("copy", old))?;
        }
        carried.insert(path.to_owned(), FolderIdentity::of(&data));
    }
    Ok(carried)
}

/// Makes a link that leads where another does.
#[cfg(unix)]
fn again(link: &Path, to: &Path) -> io::Result<()> {
    std::os::unix::fs::symlink(fs::read_link(link)?, to)
}

/// Makes a link that leads where another does.
#[cfg(not(unix))]
fn again(_link: &Path, _to: &Path) -> io::Result<()> {
    Err(io::Error::new(io::ErrorKind::Unsupported, "links cannot be carried over here"))
}

/// Moves what somebody put into the old folder while the new one was filled into the new one.
fn rescue(stage: &Path, target: &Path, carried: &BTreeMap<PathBuf, FolderIdentity>) {
    for old in [swap::fresh(stage), swap::aside(stage)] {
        for entry in WalkDir::new(&old).min_depth(1).into_iter().flatten() {
            let path = entry.path().strip_prefix(&old).unwrap_or(entry.path());
            let Ok(data) = fs::symlink_metadata(entry.path()) else { continue };
            let known = carried.get(path).is_some_and(|known| *known == FolderIdentity::of(&data));
            let new = target.join(path);
            if data.is_dir() || known || (!carried.contains_key(path) && fs::symlink_metadata(&new).is_ok()) {
                continue;
            }
            if let Some(folder) = new.parent() {
                let _ = fs::create_dir_all(folder);
            }
            let _ = fs::rename(entry.path(), &new);
        }
    }
}

#[cfg(test)]
mod tests {
    use tempfile::TempDir;

    use super::*;

    fn piece() -> TempDir {
        let piece = tempfile::tempdir().unwrap();
        fs::write(piece.path().join("record.toml"), "x").unwrap();
        piece
    }

    fn seal(piece: &TempDir, files: &[(&str, &str)]) -> Result<(), WriteError> {
        Sealing::open(piece.path())?.commit(files.iter().map(|(path, text)| (*path, text.as_bytes())))
    }

    /// Every file below the piece's folder with its text, sorted.
    fn content(piece: &TempDir) -> Vec<(String, String)> {
        let files = WalkDir::new(piece.path()).sort_by_file_name().into_iter().map(|entry| entry.unwrap());
        files
            .filter(|entry| !entry.file_type().is_dir())
            .map(|entry| {
                let path = entry.path().strip_prefix(piece.path()).unwrap().to_str().unwrap().to_owned();
                (path, fs::read_to_string(entry.path()).unwrap())
            })
            .collect()
    }

    #[track_caller]
    fn holds(piece: &TempDir, expected: &[(&str, &str)]) {
        let mut all = vec![("record.toml".to_owned(), "x".to_owned())];
        all.extend(expected.iter().map(|(path, text)| (format!("sealed/{path}"), (*text).to_owned())));
        assert_eq!(content(piece), all);
    }

    #[test]
    fn a_second_seal_stands_beside_the_first_and_beside_what_somebody_put_there() {
        let piece = piece();
        seal(&piece, &[("001.toml", "1"), ("a-001/data/x", "x")]).unwrap();
        fs::write(piece.path().join("sealed/receipt.txt"), "mine").unwrap();
        fs::create_dir(piece.path().join("sealed/empty")).unwrap();
        seal(&piece, &[("002.toml", "2"), ("a-002/data/x", "y")]).unwrap();
        let all = [
            ("001.toml", "1"),
            ("002.toml", "2"),
            ("a-001/data/x", "x"),
            ("a-002/data/x", "y"),
            ("receipt.txt", "mine"),
        ];
        holds(&piece, &all);
        assert!(piece.path().join("sealed/empty").is_dir());
    }

    #[test]
    fn nothing_is_overwritten_and_a_refusal_leaves_nothing_behind() {
        let piece = piece();
        seal(&piece, &[("001.toml", "1")]).unwrap();
        let error = seal(&piece, &[("a-002.zip", "z"), ("001.toml", "2")]).unwrap_err();
        assert!(matches!(error, WriteError::Taken(_)), "{error}");
        holds(&piece, &[("001.toml", "1")]);
        // A name too long for any filesystem stands in for a full disk: the refusal comes from the same place.
        let error = seal(&piece, &[("002.toml", "2"), (&"x".repeat(300), "")]).unwrap_err();
        assert!(error.to_string().starts_with("cannot write"), "{error}");
        assert!(matches!(seal(&piece, &[("../record.toml", "2")]), Err(WriteError::Path(_))));
        holds(&piece, &[("001.toml", "1")]);
        assert_eq!(fs::read_dir(piece.path()).unwrap().count(), 2, "nothing is left beside it");
    }

    #[test]
    fn dropped_without_a_commit_it_leaves_nothing() {
        let piece = piece();
        drop(Sealing::open(piece.path()).unwrap());
        holds(&piece, &[]);
        assert!(!piece.path().join("sealed").exists());
    }

    #[test]
    fn two_at_once_are_one_after_the_other() {
        let piece = piece();
        let first = Sealing::open(piece.path()).unwrap();
        assert!(matches!(Sealing::open(piece.path()), Err(WriteError::Busy(_))));
        first.commit([("001.toml", &b"1"[..])]).unwrap();
        seal(&piece, &[("002.toml", "2")]).unwrap();
        holds(&piece, &[("001.toml", "1"), ("002.toml", "2")]);
    }

    #[test]
    fn what_is_put_there_in_the_meantime_is_kept() {
        let piece = piece();
        seal(&piece, &[("001.toml", "1"), ("note.txt", "old")]).unwrap();
        let sealing = Sealing::open(piece.path()).unwrap();
        let (target, folder) = (sealing.target.clone(), sealing.folder.clone());
        let tree = swap::fresh(&folder);
        fs::create_dir(&tree).unwrap();
        let carried = carry(&target, &tree).unwrap();
        fs::write(tree.join("002.toml"), "2").unwrap();
        // Editors often write a new file and give it the old one's name.
        fs::write(target.join("new.txt"), "late").unwrap();
        fs::write(target.join("swap.txt"), "newer").unwrap();
        fs::rename(target.join("swap.txt"), target.join("note.txt")).unwrap();
        swap::swap(&folder, &target).unwrap();
        rescue(&folder, &target, &carried);
        drop(sealing);
        holds(&piece, &[("001.toml", "1"), ("002.toml", "2"), ("new.txt", "late"), ("note.txt", "newer")]);
    }

    #[test]
    fn a_file_or_link_in_place_of_the_folder_is_refused() {
        let piece = piece();
        fs::write(piece.path().join("sealed"), "mine").unwrap();
        assert!(matches!(seal(&piece, &[("001.toml", "1")]), Err(WriteError::SealedElsewhere(_))));
        assert_eq!(fs::read_to_string(piece.path().join("sealed")).unwrap(), "mine");
    }

    #[test]
    fn what_a_killed_run_left_is_cleared_away() {
        let piece = piece();
        let left = piece.path().join(".sealed.witnessmark-1-0");
        fs::create_dir_all(left.join("tree/a-001")).unwrap();
        fs::write(left.join("tree/a-001/half"), "").unwrap();
        fs::write(left.join("witnessmark-stage"), "").unwrap();
        seal(&piece, &[("001.toml", "1")]).unwrap();
        holds(&piece, &[("001.toml", "1")]);
        assert!(!left.exists());
    }
}
