//! The darkroom: what was made once and need not be made again.
//!
//! A hidden folder of the workshop, [`FOLDER`], which may be deleted at any time: what is missing is made again. It holds
//! entries. An entry is what came out of some making: a note (what was learnt) and files (what was made). It stands
//! under a [`Key`] of everything that went in: the contents, the settings, and the version of the code that made it.
//! A photograph that was moved or renamed has the same content, so it is found again.
//!
//! ```ignore
//! let key = Key::of("warped", &[before.print.as_bytes(), after.print.as_bytes(), &settings, VERSION]);
//! let kept: Kept<Note> = darkroom.obtain(&key, || Ok((note, vec![("after.jpg".to_owned(), bytes)])))?;
//! stage.hang(&kept.files[0], "showroom/pieces/ch-001/pictures/after-02-warped.jpg")?;
//! ```
//!
//! Beside them lie [`Receipts`], a file for each folder that was written to.
//!
//! What it promises:
//!
//! - **Whole entries or none.** An entry is filled in a folder of the running process and moved to its place in one
//!   step. Several threads and several processes may use a darkroom at once; killed at any moment, it is sound.
//! - **Nothing damaged is printed.** An entry knows the length, date and fingerprint of its files, and the fingerprint of
//!   its own text. A file of another length, or of another date and other bytes, makes the entry void, and it is made
//!   again. Written trees share their files with the darkroom, by a second name that costs no room: who edits one in a
//!   written tree edits both, and its date tells. What this cannot see is an edited file whose date was set back.
//! - **No darkroom is no fault.** Where the workshop cannot be written, what was made lies in the [`Stage`] and goes
//!   with it. What the darkroom cannot do for itself is never a reason to stop.
//! - **Nothing goes unasked.** Only [`Darkroom::clear`] removes, and only while no other process uses the darkroom.

mod entry;
mod home;
mod index;
mod receipts;
#[cfg(test)]
mod tests;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::{Sealing, Stage, WriteError, cannot, fingerprint};
use crate::source::Identity;
use home::Home;
use index::Index;
pub use receipts::Receipts;

/// The darkroom's name in the workshop.
pub const FOLDER: &str = ".darkroom";

/// What an entry stands under: the fingerprint of everything that went into it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Key(String);

impl Key {
    /// The key of what is made, as a word, from these parts; other parts or another order are another key.
    pub fn of(kind: &str, parts: &[&[u8]]) -> Key {
        let mut all = Vec::new();
        for part in std::iter::once(kind.as_bytes()).chain(parts.iter().copied()) {
            // The length before each part keeps `ab`, `c` and `a`, `bc` apart.
            all.extend((part.len() as u64).to_le_bytes());
            all.extend(part);
        }
        Key(fingerprint(&all))
    }
}

/// An entry that was found sound, or has just been made.
#[derive(Debug, Clone)]
pub struct Kept<N> {
    /// What was learnt.
    pub note: N,
    /// What was made, in the order in which it was kept.
    pub files: Vec<KeptFile>,
    /// Whether it was made by this very call, not found.
    pub made: bool,
}

/// A file of an entry, to be hung into a written tree by [`Stage::hang`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptFile {
    /// Its name in the entry.
    pub name: String,
    /// Where it lies.
    pub path: PathBuf,
    /// The SHA-256 of its bytes, in hexadecimal.
    pub digest: String,
    /// Its bytes.
    pub length: u64,
}

impl KeptFile {
    /// Reads it.
    ///
    /// # Errors
    /// [`WriteError::System`].
    pub fn bytes(&self) -> Result<Vec<u8>, WriteError> {
        entry::read_whole(&self.path, self.length).map_err(|fault| cannot("read", &self.path)(fault.into()))
    }
}

/// The darkroom of one workshop, as one run uses it.
#[derive(Debug)]
pub struct Darkroom {
    home: Option<Home>,
    /// Where entries go that the home does not take.
    scratch: Option<PathBuf>,
    /// The contents of files by their identity, as the last run left them.
    before: Index,
    /// The same of the files that this run looked at.
    seen: Mutex<Index>,
    used: Mutex<BTreeSet<Key>>,
    made: AtomicUsize,
}

/// What a clearing took away.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Cleared {
    /// How many entries.
    pub entries: usize,
    /// Their bytes, as far as no written tree holds them still.
    pub bytes: u64,
}

impl Darkroom {
    /// Opens the darkroom of a workshop for a stage, and makes it where there is none.
    ///
    /// Where that cannot be done, or for a workshop that is on no disk, entries last as long as the stage.
    pub fn open(workshop: Option<&Path>, stage: &Stage) -> Darkroom {
        let home = workshop.and_then(|workshop| Home::open(&workshop.join(FOLDER)));
        Darkroom::with(home, Some(stage.scratch()))
    }

    /// Opens the darkroom of a workshop for a handover, as [`Darkroom::open`] does for a stage.
    pub fn open_to_seal(workshop: Option<&Path>, sealing: &Sealing) -> Darkroom {
        let home = workshop.and_then(|workshop| Home::open(&workshop.join(FOLDER)));
        Darkroom::with(home, Some(sealing.scratch()))
    }

    /// Opens the darkroom of a workshop to look things up; nothing is written.
    pub fn reading(workshop: Option<&Path>) -> Darkroom {
        Darkroom::with(workshop.and_then(|workshop| Home::reading(&workshop.join(FOLDER))), None)
    }

    fn with(home: Option<Home>, scratch: Option<PathBuf>) -> Darkroom {
        let before = home.as_ref().map(Home::index).unwrap_or_default();
        let (seen, used, made) = Default::default();
        Darkroom { home, scratch, before, seen, used, made }
    }

    /// The entry of a key; `None` where there is none that is sound.
    pub fn get<N: DeserializeOwned>(&self, key: &Key) -> Option<Kept<N>> {
        let found = self.folders().find_map(|folder| entry::read(&entry::place(folder, key), key))?;
        self.used.lock().expect("no thread panics while it holds the list").insert(key.clone());
        Some(found)
    }

    /// Keeps what was made under a key, with names and bytes of its files.
    ///
    /// # Errors
    /// [`WriteError`] where it could be put neither into the darkroom nor into the stage, as on a full disk.
    pub fn keep<N: Serialize>(
        &self,
        key: &Key,
        note: N,
        files: &[(String, Vec<u8>)],
    ) -> Result<Kept<N>, WriteError> {
        self.used.lock().expect("no thread panics while it holds the list").insert(key.clone());
        let number = self.made.fetch_add(1, Ordering::Relaxed);
        let mut refusal = None;
        let home = self.home.as_ref().and_then(|home| Some((home.folder(), home.workplace()?)));
        let scratch = self.scratch.as_ref().map(|scratch| (scratch.as_path(), scratch.join("making")));
        for (folder, workplace) in home.into_iter().chain(scratch) {
            let work = workplace.join(number.to_string());
            match entry::write(&work, &entry::place(folder, key), key, &note, files) {
                Ok(files) => return Ok(Kept { note, files, made: true }),
                Err(error) => refusal = Some(cannot("write", &work)(error)),
            }
        }
        Err(refusal.unwrap_or_else(|| WriteError::Path(format!("{FOLDER}/{}", key.0))))
    }

    /// The entry of a key; where there is none, it is made and kept.
    ///
    /// # Errors
    /// The maker's own, or a [`WriteError`] as of [`Darkroom::keep`].
    pub fn obtain<N, E>(
        &self,
        key: &Key,
        make: impl FnOnce() -> Result<(N, Vec<(String, Vec<u8>)>), E>,
    ) -> Result<Kept<N>, E>
    where
        N: Serialize + DeserializeOwned,
        E: From<WriteError>,
    {
        if let Some(kept) = self.get(key) {
            return Ok(kept);
        }
        let (note, files) = make()?;
        Ok(self.keep(key, note, &files)?)
    }

    /// The fingerprint of a file's bytes where the file is as it was when [`Darkroom::remember`] was told.
    pub fn recall(&self, path: &str, identity: &Identity) -> Option<String> {
        let digest = self.before.get(path, identity)?;
        self.seen().insert(path, *identity, &digest);
        Some(digest)
    }

    /// Remembers the fingerprint of a file's bytes; `identity` is from before they were read.
    ///
    /// A file changed so lately that its date could not show a further change is not remembered.
    pub fn remember(&self, path: &str, identity: &Identity, digest: &str) {
        let opened = self.home.as_ref().and_then(Home::opened);
        if opened.is_some_and(|opened| identity.is_settled(opened)) {
            self.seen().insert(path, *identity, digest);
        }
    }

    /// Leaves what was remembered for the next run.
    pub fn settle(&self) {
        let seen = self.seen();
        if let Some(home) = &self.home
            && *seen != self.before
        {
            home.leave(&seen);
        }
    }

    /// Removes every entry that this run neither found nor made, and all receipts.
    ///
    /// # Errors
    /// [`WriteError::DarkroomInUse`] while another process uses the darkroom, and [`WriteError::System`].
    pub fn clear(&self) -> Result<Cleared, WriteError> {
        let used = self.used.lock().expect("no thread panics while it holds the list");
        match &self.home {
            Some(home) if home.opened().is_some() => home.clear(|key| used.contains(&Key(key.to_owned()))),
            _ => Ok(Cleared::default()),
        }
    }

    fn folders(&self) -> impl Iterator<Item = &Path> {
        self.home.as_ref().map(Home::folder).into_iter().chain(self.scratch.as_deref())
    }

    fn seen(&self) -> std::sync::MutexGuard<'_, Index> {
        self.seen.lock().expect("no thread panics while it holds the list")
    }
}

/// A text with its fingerprint before it, so that any damage to it shows.
fn sealed(text: &str) -> String {
    format!("{}\n{text}", fingerprint(text.as_bytes()))
}

/// The text that was sealed; `None` where it is not what it was.
fn unsealed(bytes: &[u8]) -> Option<&str> {
    let (digest, text) = std::str::from_utf8(bytes).ok()?.split_once('\n')?;
    (fingerprint(text.as_bytes()) == digest).then_some(text)
}
