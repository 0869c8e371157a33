//! A tree being written beside the one it will replace.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, MutexGuard};

use super::manifest::{self, MANIFEST, Manifest};
use super::{WriteError, cannot, fingerprint, ownership, place, swap};

/// The file by which a stage is known as ours; it stays locked as long as its process lives.
const MARKER: &str = "witnessmark-stage";

/// A tree being written: a hidden folder beside the target, which [`Stage::commit`] swaps in.
///
/// Dropped without that, it removes itself and the target stands as it was.
#[derive(Debug)]
pub struct Stage {
    target: PathBuf,
    folder: PathBuf,
    old: Option<Manifest>,
    files: Mutex<BTreeMap<String, Entry>>,
    stowed: Mutex<BTreeMap<String, Entry>>,
    /// Held for its lock, which the system lets go of when the process ends, however it ends.
    _marker: File,
}

#[derive(Debug)]
struct Entry {
    print: String,
    length: u64,
    carried: bool,
}

/// What a commit put in place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Written {
    /// How many files the tree has now, its list not counted.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
}

impl Stage {
    /// Opens a stage for a target, and clears away what killed runs left beside it.
    ///
    /// The folders above the target are made where they are missing.
    ///
    /// # Errors
    /// [`WriteError`] where the target holds anything that was not written by a stage or was changed since.
    pub fn open(target: &Path) -> Result<Stage, WriteError> {
        let target = place::resolve(target).map_err(cannot("look at", target))?;
        let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else {
            return Err(WriteError::NotAFolder(target));
        };
        let mut prefix = OsString::from(".");
        prefix.push(name);
        prefix.push(".witnessmark-");
        fs::create_dir_all(parent).map_err(cannot("make the folder", parent))?;
        clear_leftovers(parent, &prefix, &target);
        let old = ownership::check(&target)?;
        let (folder, marker) = claim(parent, &prefix).map_err(cannot("make a folder in", parent))?;
        let stage =
            Stage { target, folder, old, files: Mutex::default(), stowed: Mutex::default(), _marker: marker };
        let tree = stage.tree();
        fs::create_dir(&tree).map_err(cannot("make the folder", &tree))?;
        Ok(stage)
    }

    /// Writes one file of the tree; several threads may do so at once.
    ///
    /// `path` is relative, with forward slashes. It replaces a file that was carried over.
    ///
    /// # Errors
    /// [`WriteError::Path`] for a path that leaves the tree, [`WriteError::Twice`] for one that was written already,
    /// [`WriteError::System`] where the system refuses, as on a full disk.
    pub fn put(&self, path: &str, bytes: &[u8]) -> Result<(), WriteError> {
        if !manifest::is_sound(path) {
            return Err(WriteError::Path(path.to_owned()));
        }
        let file = self.tree().join(path);
        let entry = Entry { print: fingerprint(bytes), length: bytes.len() as u64, carried: false };
        {
            let mut files = self.files();
            if let Some(before) = files.insert(path.to_owned(), entry) {
                if !before.carried {
                    return Err(WriteError::Twice(path.to_owned()));
                }
                // The carried file is the old tree's own under a second name: writing into it would change both.
                fs::remove_file(&file).map_err(cannot("replace", &file))?;
            }
        }
        if let Some(folder) = file.parent() {
            fs::create_dir_all(folder).map_err(cannot("make the folder", folder))?;
        }
        let written = File::create_new(&file).and_then(|mut file| file.write_all(bytes));
        written.map_err(|error| match error.kind() {
            // Two paths may be one to a filesystem that does not tell capital letters from small ones.
            io::ErrorKind::AlreadyExists => WriteError::Twice(path.to_owned()),
            _ => cannot("write", &file)(error),
        })
    }

    /// Keeps a file beside the tree, to be hung into it under one or several paths by [`Stage::hang`].
    ///
    /// # Errors
    /// As [`Stage::put`].
    pub fn stow(&self, name: &str, bytes: &[u8]) -> Result<(), WriteError> {
        if !manifest::is_sound(name) {
            return Err(WriteError::Path(name.to_owned()));
        }
        let file = self.store().join(name);
        if let Some(folder) = file.parent() {
            fs::create_dir_all(folder).map_err(cannot("make the folder", folder))?;
        }
        fs::write(&file, bytes).map_err(cannot("write", &file))?;
        let entry = Entry { print: fingerprint(bytes), length: bytes.len() as u64, carried: false };
        self.stowed.lock().expect("no thread panics while it holds the list").insert(name.to_owned(), entry);
        Ok(())
    }

    /// Gives a stowed file a path in the tree; where it was not stowed, the file that the old tree has at `old`.
    ///
    /// Where neither is there, nothing happens.
    ///
    /// # Errors
    /// As [`Stage::put`].
    pub fn hang(&self, stowed: &str, old: &str, path: &str) -> Result<(), WriteError> {
        let (from, print, length) = {
            let kept = self.stowed.lock().expect("no thread panics while it holds the list");
            match (kept.get(stowed), self.old.as_ref().and_then(|tree| tree.0.get(old))) {
                (Some(entry), _) => (self.store().join(stowed), entry.print.clone(), entry.length),
                (None, Some(print)) => {
                    let from = self.target.join(old);
                    let length = fs::metadata(&from).map_err(cannot("look at", &from))?.len();
                    (from, print.clone(), length)
                }
                (None, None) => return Ok(()),
            }
        };
        let to = self.tree().join(path);
        if self.files().insert(path.to_owned(), Entry { print, length, carried: true }).is_some() {
            return Err(WriteError::Twice(path.to_owned()));
        }
        if let Some(folder) = to.parent() {
            fs::create_dir_all(folder).map_err(cannot("make the folder", folder))?;
        }
        // A second name costs nothing; where the filesystem has none, the file is copied.
        fs::hard_link(&from, &to).or_else(|_| fs::copy(&from, &to).map(|_| ())).map_err(cannot("copy", &from))
    }

    /// Whether the old tree has a file at this path.
    pub fn had(&self, path: &str) -> bool {
        self.old.as_ref().is_some_and(|old| old.0.contains_key(path))
    }

    /// Takes the wanted files of the old tree over as they are, and says how many there were.
    ///
    /// Files that were put already, and files that somebody deleted from the old tree, are left out.
    ///
    /// # Errors
    /// [`WriteError::System`] where the system refuses.
    pub fn carry(&self, wanted: impl Fn(&str) -> bool) -> Result<usize, WriteError> {
        let mut carried = 0;
        for (path, print) in self.old.iter().flat_map(|old| &old.0).filter(|(path, _)| wanted(path)) {
            // Held while the file is linked, so that no other thread puts it in between.
            let mut files = self.files();
            let (from, to) = (self.target.join(path), self.tree().join(path));
            let found = fs::symlink_metadata(&from);
            let Ok(found) = found else { continue };
            if files.contains_key(path) {
                continue;
            }
            if let Some(folder) = to.parent() {
                fs::create_dir_all(folder).map_err(cannot("make the folder", folder))?;
            }
            // A second name costs nothing; where the filesystem has none, the file is copied.
            fs::hard_link(&from, &to)
                .or_else(|_| fs::copy(&from, &to).map(|_| ()))
                .map_err(cannot("copy", &from))?;
            files.insert(path.clone(), Entry { print: print.clone(), length: found.len(), carried: true });
            carried += 1;
        }
        Ok(carried)
    }

    /// Swaps the finished tree in, and removes the old one.
    ///
    /// # Errors
    /// [`WriteError`] where the target was changed in the meantime or the system refuses; the old tree then stands.
    pub fn commit(self) -> Result<Written, WriteError> {
        let tree = self.tree();
        let (list, written) = {
            let files = self.files();
            let list =
                Manifest(files.iter().map(|(path, file)| (path.clone(), file.print.clone())).collect());
            let bytes = files.values().map(|file| file.length).sum();
            (list, Written { files: files.len(), bytes })
        };
        let path = tree.join(MANIFEST);
        fs::write(&path, list.text()).map_err(cannot("write", &path))?;
        let files = list.0.keys().map(|path| tree.join(path)).chain([path]);
        swap::settle(&self.folder, files).map_err(cannot("write all of", &tree))?;
        // Somebody may have put a file into the target while the pages were being made.
        ownership::check(&self.target)?;
        swap::swap(&self.folder, &self.target).map_err(cannot("replace", &self.target))?;
        swap::seal(&self.folder, &self.target);
        Ok(written)
    }

    fn tree(&self) -> PathBuf {
        swap::fresh(&self.folder)
    }

    /// Where stowed files wait; it goes with the stage.
    fn store(&self) -> PathBuf {
        self.folder.join("stowed")
    }

    fn files(&self) -> MutexGuard<'_, BTreeMap<String, Entry>> {
        self.files.lock().expect("no thread panics while it holds the list")
    }
}

impl Drop for Stage {
    fn drop(&mut self) {
        // What cannot be removed now is cleared away by the next run.
        clear(&self.folder, &self.target);
    }
}

/// Makes a stage's folder with its locked marker.
pub(super) fn claim(parent: &Path, prefix: &OsString) -> io::Result<(PathBuf, File)> {
    static NEXT: AtomicU32 = AtomicU32::new(0);
    loop {
        let mut name = prefix.clone();
        name.push(format!("{}-{}", std::process::id(), NEXT.fetch_add(1, Ordering::Relaxed)));
        let folder = parent.join(name);
        match fs::create_dir(&folder) {
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
            made => made?,
        }
        let marker = match File::create_new(folder.join(MARKER)) {
            // Another process cleared the empty folder away in this very moment.
            Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
            made => made?,
        };
        // A filesystem without locks has no way to tell a dead run's stage, which is then left lying.
        let _ = marker.lock();
        if folder.join(MARKER).exists() {
            return Ok((folder, marker));
        }
    }
}

/// Clears away the stages of processes that ended before they could do so themselves.
pub(super) fn clear_leftovers(parent: &Path, prefix: &OsString, target: &Path) {
    let Ok(entries) = fs::read_dir(parent) else { return };
    for entry in entries.flatten() {
        let ours = entry.file_name().as_encoded_bytes().starts_with(prefix.as_encoded_bytes());
        if !ours || !entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            continue;
        }
        let folder = entry.path();
        match File::options().read(true).write(true).open(folder.join(MARKER)) {
            Ok(marker) => {
                if marker.try_lock().is_ok() {
                    clear(&folder, target);
                }
            }
            // Killed before it had its marker, or somebody's own folder: it goes only if it is empty.
            Err(_) => _ = fs::remove_dir(&folder),
        }
    }
}

/// Removes a stage, after moving the old tree back where that is needed.
pub(super) fn clear(folder: &Path, target: &Path) {
    if swap::recover(folder, target).is_err() {
        return;
    }
    // The marker goes last: a stage half removed is still known as one.
    let content = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in content.filter(|entry| entry.file_name() != MARKER) {
        let _ = fs::remove_dir_all(entry.path());
    }
    let _ = fs::remove_file(folder.join(MARKER));
    let _ = fs::remove_dir(folder);
}
