//! A tree being written beside the one it will replace.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, MutexGuard};

use super::manifest::{self, MANIFEST, Manifest};
use super::{KeptFile, WriteError, cannot, fingerprint, ownership, place, swap};

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
        let stage = Stage { target, folder, old, files: Mutex::default(), _marker: marker };
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
        let entry = Entry { print: fingerprint(bytes), length: bytes.len() as u64, carried: false };
        let file = self.enter(path, entry)?;
        // A file that has not changed keeps its date, and its bytes need not be brought to the disk again.
        if self.stands(path, bytes)
            && with_folder(&file, || fs::hard_link(self.target.join(path), &file)).is_ok()
        {
            return Ok(());
        }
        with_folder(&file, || File::create_new(&file).and_then(|mut file| file.write_all(bytes)))
            .map_err(refusal("write", path, &file))
    }

    /// Gives a kept file a path in the tree: a second name, which costs no room, or a copy where there are none.
    ///
    /// # Errors
    /// As [`Stage::put`].
    pub fn hang(&self, kept: &KeptFile, path: &str) -> Result<(), WriteError> {
        let entry = Entry { print: kept.print.clone(), length: kept.length, carried: false };
        let to = self.enter(path, entry)?;
        // On another disk than the store's, the old tree's own file saves the copy.
        let old =
            self.old_print(path).is_some_and(|print| *print == kept.print).then(|| self.target.join(path));
        for from in old.iter().chain([&kept.path]) {
            if with_folder(&to, || fs::hard_link(from, &to)).is_ok() {
                return Ok(());
            }
        }
        with_folder(&to, || copy(&kept.path, &to)).map_err(refusal("copy", path, &kept.path))
    }

    /// Where entries of a store go that has no place of its own; it goes with the stage.
    pub(super) fn scratch(&self) -> PathBuf {
        self.folder.join("scratch")
    }

    /// Notes a file of the tree, and says where it is to be written; one that was carried over makes way.
    fn enter(&self, path: &str, entry: Entry) -> Result<PathBuf, WriteError> {
        if !manifest::is_sound(path) {
            return Err(WriteError::Path(path.to_owned()));
        }
        let file = self.tree().join(path);
        let mut files = self.files();
        if let Some(before) = files.insert(path.to_owned(), entry) {
            if !before.carried {
                return Err(WriteError::Twice(path.to_owned()));
            }
            // The carried file is the old tree's own under a second name: writing into it would change both.
            fs::remove_file(&file).map_err(cannot("replace", &file))?;
        }
        Ok(file)
    }

    /// Whether the old tree has just these bytes at a path.
    fn stands(&self, path: &str, bytes: &[u8]) -> bool {
        // The list says so; the file itself is compared, since pages are small and a date could be set back.
        self.old_print(path).is_some_and(|print| *print == fingerprint(bytes))
            && fs::read(self.target.join(path)).is_ok_and(|old| old == bytes)
    }

    fn old_print(&self, path: &str) -> Option<&String> {
        self.old.as_ref().and_then(|old| old.0.get(path))
    }

    /// Whether the tree has a file at this path by now.
    pub fn has(&self, path: &str) -> bool {
        self.files().contains_key(path)
    }

    /// Whether the old tree has a file at this path.
    pub fn had(&self, path: &str) -> bool {
        self.old.as_ref().is_some_and(|old| old.0.contains_key(path))
    }

    /// Takes a folder of the old tree over as it is, and says how many files there were.
    ///
    /// Files that were put already, and files that somebody deleted from the old tree, are left out.
    ///
    /// # Errors
    /// [`WriteError::System`] where the system refuses.
    pub fn carry(&self, folder: &str) -> Result<usize, WriteError> {
        let mut carried = 0;
        let within = format!("{folder}/");
        let old = self.old.iter().flat_map(|old| old.0.range(within.clone()..));
        for (path, print) in old.take_while(|(path, _)| path.starts_with(&within)) {
            let (from, to) = (self.target.join(path), self.tree().join(path));
            let Ok(found) = fs::symlink_metadata(&from) else { continue };
            // Held while the file is linked, so that no other thread puts it in between.
            let mut files = self.files();
            if files.contains_key(path) {
                continue;
            }
            // A second name costs nothing; where the filesystem has none, the file is copied.
            with_folder(&to, || fs::hard_link(&from, &to).or_else(|_| copy(&from, &to)))
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

/// Does something with a file, and where its folder turns out to be missing, once more with the folder.
fn with_folder(file: &Path, act: impl Fn() -> io::Result<()>) -> io::Result<()> {
    match (act(), file.parent()) {
        (Err(error), Some(folder)) if error.kind() == io::ErrorKind::NotFound => {
            fs::create_dir_all(folder)?;
            act()
        }
        (done, _) => done,
    }
}

/// Copies the bytes of a file to a path that is free.
fn copy(from: &Path, to: &Path) -> io::Result<()> {
    let mut from = File::open(from)?;
    io::copy(&mut from, &mut File::create_new(to)?).map(|_| ())
}

/// The error of a file that could not be written.
fn refusal<'a>(
    doing: &'static str,
    path: &'a str,
    file: &'a Path,
) -> impl FnOnce(io::Error) -> WriteError + 'a {
    move |error| match error.kind() {
        // Two paths may be one to a filesystem that does not tell capital letters from small ones.
        io::ErrorKind::AlreadyExists => WriteError::Twice(path.to_owned()),
        _ => cannot(doing, file)(error),
    }
}

/// Makes a stage's folder with its locked marker.
fn claim(parent: &Path, prefix: &OsString) -> io::Result<(PathBuf, File)> {
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
fn clear_leftovers(parent: &Path, prefix: &OsString, target: &Path) {
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
fn clear(folder: &Path, target: &Path) {
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
