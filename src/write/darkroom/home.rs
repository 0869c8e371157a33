//! The folder of a darkroom: how it is known, shared between processes and cleared.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::index::Index;
use super::{Cleared, WriteError, cannot};
use crate::source::{Identity, PlainFile, limit};
use crate::write::add::add;
use crate::write::half::clear_halves;
use crate::write::lock;

/// The file by which backup programs know a folder that need not be kept, and by which this program knows its own.
///
/// Its first line is fixed by the Cache Directory Tagging Specification, version 0.6 (from memory).
const TAG: &str = "CACHEDIR.TAG";

const WORDS: &str = "\
Signature: 8a477f597d28d172789f06886806bc55
# Pictures and papers that witnessmark made and need not make again. This folder may be deleted at any time.
";

/// Keeps the darkroom out of a repository that holds the workshop.
const IGNORED: &str = "*\n";

const INDEX: &str = "index";

const RECEIPTS: &str = "receipts";

/// A darkroom's folder, in use as long as this value lives.
#[derive(Debug)]
pub(super) struct Home {
    folder: PathBuf,
    /// Locked for sharing: who clears must have it alone. A filesystem without locks goes without.
    tag: File,
    bench: Option<Bench>,
}

/// What a process that may write has for itself.
#[derive(Debug)]
struct Bench {
    folder: PathBuf,
    /// The filesystem's own time when it was opened, in nanoseconds since 1970.
    opened: u64,
}

impl Home {
    /// Opens a darkroom to read and to add; only to read where it cannot be written.
    pub(super) fn open(folder: &Path) -> Option<Home> {
        let _ = make(folder);
        let mut home = Home::known(folder)?;
        let making = folder.join("making");
        if home.tag.try_lock().is_ok() {
            // Nobody else is here, so whatever is half made was left by a run that was killed.
            let _ = fs::remove_dir_all(&making);
            clear_halves(folder);
            let _ = home.tag.unlock();
        }
        let _ = home.tag.lock_shared();
        home.bench = Bench::open(&making).ok();
        Some(home)
    }

    /// Opens a darkroom only to read.
    pub(super) fn reading(folder: &Path) -> Option<Home> {
        let home = Home::known(folder)?;
        let _ = home.tag.lock_shared();
        Some(home)
    }

    /// The folder, where it is a darkroom.
    fn known(folder: &Path) -> Option<Home> {
        let path = folder.join(TAG);
        let words = PlainFile::open(&path).ok()?.all(WORDS.len() as u64).ok()?;
        let tag = PlainFile::open(&path).ok().filter(|_| words == WORDS.as_bytes())?.into_file();
        Some(Home { folder: folder.to_owned(), tag, bench: None })
    }

    pub(super) fn folder(&self) -> &Path {
        &self.folder
    }

    /// Where this process may make entries; `None` where the darkroom is only read.
    pub(super) fn workplace(&self) -> Option<PathBuf> {
        self.bench.as_ref().map(|bench| bench.folder.clone())
    }

    /// The filesystem's own time when the darkroom was opened; `None` where it is only read.
    pub(super) fn opened(&self) -> Option<u64> {
        self.bench.as_ref().map(|bench| bench.opened)
    }

    pub(super) fn index(&self) -> Index {
        let read = PlainFile::open(&self.folder.join(INDEX)).and_then(|file| file.all(limit::LIST));
        read.map_or_else(|_| Index::default(), |bytes| Index::read(&bytes))
    }

    /// Leaves an index for the next run; one that cannot be written costs that run some reading.
    pub(super) fn leave(&self, index: &Index) {
        self.put(INDEX, &self.folder.join(INDEX), &index.text());
    }

    /// The bytes of a receipt.
    pub(super) fn receipt(&self, name: &str) -> Option<Vec<u8>> {
        let file = PlainFile::open(&self.folder.join(RECEIPTS).join(name)).ok()?;
        file.all(limit::LIST).ok()
    }

    /// Leaves a receipt for later runs.
    pub(super) fn leave_receipt(&self, name: &str, text: &str) {
        let receipts = self.folder.join(RECEIPTS);
        let _ = fs::create_dir_all(&receipts);
        self.put(name, &receipts.join(name), text);
    }

    /// Puts a text in its place in one step, where that can be done.
    fn put(&self, name: &str, place: &Path, text: &str) {
        let Some(bench) = &self.bench else { return };
        let fresh = bench.folder.join(name);
        let _ = fs::write(&fresh, text).and_then(|()| fs::rename(&fresh, place));
    }

    /// Removes the entries of which the keys are not wanted, and the receipts, which repeat words of records.
    pub(super) fn clear(&self, wanted: impl Fn(&str) -> bool) -> Result<Cleared, WriteError> {
        // Not every system turns a shared lock into one held alone.
        let _ = self.tag.unlock();
        let alone = lock::patiently(&self.tag);
        if matches!(alone, Err(fs::TryLockError::WouldBlock)) {
            let _ = self.tag.lock_shared();
            return Err(WriteError::DarkroomInUse(self.folder.clone()));
        }
        let mut cleared = Cleared::default();
        match fs::remove_dir_all(self.folder.join(RECEIPTS)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                return Err(cannot("remove", &self.folder.join(RECEIPTS))(error));
            }
            _ => {}
        }
        for (key, entry) in self.entries().map_err(cannot("look into", &self.folder))? {
            if !wanted(&key) {
                cleared.bytes += bytes(&entry);
                cleared.entries += 1;
                fs::remove_dir_all(&entry).map_err(cannot("remove", &entry))?;
            }
        }
        let _ = self.tag.unlock();
        let _ = self.tag.lock_shared();
        Ok(cleared)
    }

    /// Keys and folders of all entries.
    fn entries(&self) -> io::Result<Vec<(String, PathBuf)>> {
        let mut found = Vec::new();
        let first = match fs::read_dir(self.folder.join("kept")) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(found),
            first => first?,
        };
        for first in first {
            let first = first?;
            for rest in fs::read_dir(first.path())? {
                let rest = rest?;
                let key =
                    [first.file_name(), rest.file_name()].map(|part| part.to_string_lossy().into_owned());
                found.push((key.concat(), rest.path()));
            }
        }
        Ok(found)
    }
}

impl Bench {
    fn open(making: &Path) -> io::Result<Bench> {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        fs::create_dir_all(making)?;
        loop {
            let number = NEXT.fetch_add(1, Ordering::Relaxed);
            let folder = making.join(format!("{}-{number}", std::process::id()));
            match fs::create_dir(&folder) {
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
                made => made?,
            }
            let opened = Identity::of(&fs::metadata(&folder)?).modified;
            return Ok(Bench { folder, opened });
        }
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        // What cannot be removed now is cleared away by the next run.
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// Makes a darkroom's folder, unless something stands there that is no darkroom.
fn make(folder: &Path) -> Result<(), WriteError> {
    let made = fs::create_dir(folder);
    let empty = || fs::read_dir(folder).is_ok_and(|mut content| content.next().is_none());
    if made.is_ok() || empty() {
        add(&folder.join(TAG), WORDS.as_bytes())?;
        add(&folder.join(".gitignore"), IGNORED.as_bytes())?;
    }
    Ok(())
}

/// The bytes of an entry's files that have no second name in a written tree.
fn bytes(entry: &Path) -> u64 {
    let files = fs::read_dir(entry).into_iter().flatten().flatten();
    files.filter_map(|file| file.metadata().ok()).filter(only_name).map(|found| found.len()).sum()
}

#[cfg(unix)]
fn only_name(found: &fs::Metadata) -> bool {
    std::os::unix::fs::MetadataExt::nlink(found) == 1
}

#[cfg(not(unix))]
fn only_name(_: &fs::Metadata) -> bool {
    true
}
