//! A tree being written beside the one it will replace.

use std::collections::btree_map::Entry::Vacant;
use std::collections::{BTreeMap, BTreeSet};
use std::ffi::{OsStr, OsString};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};
use std::sync::{Mutex, MutexGuard, OnceLock};
use std::time::{Duration, Instant, UNIX_EPOCH};

use rayon::prelude::*;

use super::manifest::{self, MANIFEST, Manifest};
use super::ownership::TreeState;
use super::{KeptFile, WriteError, cannot, fingerprint, ownership, piecemeal, place, swap};
use crate::source::{Identity, PlainFile, hold, hold_folder, limit};

/// The file by which a stage is known as ours; it stays locked as long as its process lives.
const MARKER: &str = "witnessmark-stage";

/// How long a stage waits for another run that writes the same target, and how often it looks.
const PATIENCE: Duration = Duration::from_secs(20);
const LOOK_AGAIN: Duration = Duration::from_millis(50);

/// From this length on, in bytes, equal files share one place on the disk: fonts do, which nobody edits; pages do not.
const WORTH_SHARING: usize = 32 * 1024;

/// A tree being written: a hidden folder beside the target, which [`Stage::commit`] swaps in.
///
/// Dropped without that, it removes itself and the target stands as it was.
#[derive(Debug)]
pub struct Stage {
    target: PathBuf,
    folder: PathBuf,
    old: Option<TreeState>,
    files: Mutex<BTreeMap<String, StagedFile>>,
    /// The paths of the files that were written into the stage, by their fingerprints.
    written: Mutex<BTreeMap<String, String>>,
    /// Held for its lock, which the system lets go of when the process ends, however it ends.
    _marker: File,
}

#[derive(Debug)]
struct StagedFile {
    digest: String,
    length: u64,
    from: StagedFrom,
}

/// A file that stands at several paths of the tree: its digest is worked out once.
#[derive(Debug)]
pub struct Repeated<'a> {
    bytes: &'a [u8],
    digest: String,
    /// The one of the old tree that was compared.
    standing: OnceLock<Identity>,
}

impl<'a> Repeated<'a> {
    /// A file of these bytes.
    pub fn of(bytes: &'a [u8]) -> Repeated<'a> {
        Repeated { bytes, digest: fingerprint(bytes), standing: OnceLock::new() }
    }
}

/// Where the bytes of a file come from.
#[derive(Debug)]
enum StagedFrom {
    /// They were written into the stage.
    Stage,
    /// They were written into the stage at another path: the fonts of a theme are in every buyer's folder.
    Same(String),
    /// The old tree has them at the same path.
    Old,
    /// The old tree has them at the same path, and they may still be replaced.
    Carried,
    /// A file of the darkroom, and perhaps the old tree at the same path.
    Darkroom { file: PathBuf, old: bool },
}

/// How a finished tree comes to its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// It is exchanged for the old one.
    Whole,
    /// Only what changed is brought into the old one.
    Piecemeal,
}

/// What has to be brought into an old tree, or taken from it, by paths.
#[derive(Debug)]
struct Changes {
    coming: BTreeSet<String>,
    going: BTreeSet<String>,
}

impl Changes {
    fn of(stage: &Stage, old: &TreeState) -> Changes {
        let coming = stage.fresh().into_keys().collect();
        let files = stage.files();
        let going = old.manifest.0.keys().filter(|path| !files.contains_key(*path));
        Changes { coming, going: going.cloned().collect() }
    }

    fn are_possible(&self) -> bool {
        piecemeal::is_possible(&self.coming, &self.going)
    }
}

/// What a commit put in place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TreeSize {
    /// How many files the tree has now, its list not counted.
    pub files: usize,
    /// Their bytes together.
    pub bytes: u64,
}

impl Stage {
    /// Opens a stage for a target, and clears away what killed runs left beside it.
    ///
    /// The folders above the target are made where they are missing. Another run that writes the same target is waited
    /// for, some seconds at most.
    ///
    /// # Errors
    /// [`WriteError`] where the target holds anything that was not written by a stage or was changed since, and
    /// [`WriteError::TargetInUse`] where the other run went on.
    pub fn open(target: &Path) -> Result<Stage, WriteError> {
        Stage::open_within(target, PATIENCE)
    }

    /// As [`Stage::open`], with so much patience.
    pub(super) fn open_within(target: &Path, patience: Duration) -> Result<Stage, WriteError> {
        let target = place::resolve(target).map_err(cannot("look at", target))?;
        let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else {
            return Err(WriteError::NotAFolder(target));
        };
        let prefix = prefix(name);
        fs::create_dir_all(parent).map_err(cannot("make the folder", parent))?;
        let (folder, marker) = claim_alone(parent, &prefix, &target, patience)?;
        let mut stage = Stage {
            target,
            folder,
            old: None,
            files: Mutex::default(),
            written: Mutex::default(),
            _marker: marker,
        };
        stage.old = ownership::check(&stage.target)?;
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
        let digest = fingerprint(bytes);
        let from = match bytes.len() {
            _ if self.stands(path, &digest, bytes) => StagedFrom::Old,
            WORTH_SHARING.. => self.first(path, &digest),
            _ => StagedFrom::Stage,
        };
        self.write(path, bytes, digest, from)
    }

    /// As [`Stage::put`], for a file that says by its date of when it tells, in nanoseconds since 1970.
    ///
    /// # Errors
    /// As [`Stage::put`].
    pub fn put_dated(&self, path: &str, bytes: &[u8], dated: u64) -> Result<(), WriteError> {
        self.put(path, bytes)?;
        // One that stands in the old tree with just these bytes keeps the date that it has there. Where the system dates no
        // file that is only read, it has the date of today.
        if let Ok(written) = hold(&self.tree().join(path)) {
            let _ = written.set_modified(UNIX_EPOCH + Duration::from_nanos(dated));
        }
        Ok(())
    }

    /// Where the old tree has a file at this path.
    pub fn standing(&self, path: &str) -> Option<PathBuf> {
        self.old_digest(path).map(|_| self.target.join(path))
    }

    fn write(&self, path: &str, bytes: &[u8], digest: String, from: StagedFrom) -> Result<(), WriteError> {
        let written = matches!(from, StagedFrom::Stage);
        self.enter(path, StagedFile { digest, length: bytes.len() as u64, from })?;
        if !written {
            return Ok(());
        }
        let file = self.tree().join(path);
        with_folder(&file, || File::create_new(&file).and_then(|mut file| file.write_all(bytes)))
            .map_err(refusal("write", path, &file))
    }

    /// Writes a file of the tree that stands at several paths, whose bytes are looked at once.
    ///
    /// # Errors
    /// As [`Stage::put`].
    pub fn put_again(&self, path: &str, repeated: &Repeated<'_>) -> Result<(), WriteError> {
        let Repeated { bytes, digest, .. } = repeated;
        let from = match bytes.len() {
            _ if self.stands_again(path, repeated) => StagedFrom::Old,
            WORTH_SHARING.. => self.first(path, digest),
            _ => StagedFrom::Stage,
        };
        self.write(path, bytes, digest.clone(), from)
    }

    /// Gives a kept file a path in the tree: a second name, which costs no room, or a copy where there are none.
    ///
    /// # Errors
    /// [`WriteError::Path`] and [`WriteError::Twice`] as [`Stage::put`]; what the system refuses shows in the commit.
    pub fn hang(&self, kept: &KeptFile, path: &str) -> Result<(), WriteError> {
        let old = self.old_digest(path).is_some_and(|digest| *digest == kept.digest);
        let from = StagedFrom::Darkroom { file: kept.path.clone(), old };
        self.enter(path, StagedFile { digest: kept.digest.clone(), length: kept.length, from })
    }

    /// Whether the old tree has a file at this path.
    pub fn had(&self, path: &str) -> bool {
        self.old_digest(path).is_some()
    }

    /// Takes no notice of the old tree's file at this path: it is made anew and not from what stood there.
    pub fn disregard(&mut self, path: &str) {
        if let Some(old) = &mut self.old
            && old.manifest.0.remove(path).is_some()
        {
            old.untouched = false;
        }
    }

    /// The names in a folder of the old tree, sorted: its files, and the folders that files are in.
    pub fn names_before(&self, folder: &str) -> BTreeSet<String> {
        let within = format!("{folder}/");
        let old = self.old.iter().flat_map(|old| old.manifest.0.range(within.clone()..));
        let names = old.map_while(|(path, _)| path.strip_prefix(&within)?.split('/').next());
        names.map(str::to_owned).collect()
    }

    /// The bytes of a file of the old tree, where it is there as it was written.
    pub fn before(&self, path: &str) -> Option<Vec<u8>> {
        let digest = self.old_digest(path)?;
        let file = PlainFile::open(&self.target.join(path)).ok()?;
        file.all(limit::WRITTEN).ok().filter(|bytes| fingerprint(bytes) == *digest)
    }

    /// Whether the tree has a file in this folder by now.
    pub fn has_within(&self, folder: &str) -> bool {
        let within = format!("{folder}/");
        let files = self.files();
        files.range(within.clone()..).next().is_some_and(|(path, _)| path.starts_with(&within))
    }

    /// Whether the tree has a file at this path by now.
    pub fn has(&self, path: &str) -> bool {
        self.files().contains_key(path)
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
        let old = self.old.iter().flat_map(|old| old.manifest.0.range(within.clone()..));
        for (path, digest) in old.take_while(|(path, _)| path.starts_with(&within)) {
            let Ok(found) = fs::symlink_metadata(self.target.join(path)) else { continue };
            let entry = StagedFile { digest: digest.clone(), length: found.len(), from: StagedFrom::Carried };
            if let Vacant(place) = self.files().entry(path.clone()) {
                place.insert(entry);
                carried += 1;
            }
        }
        Ok(carried)
    }

    /// Takes one file of the old tree over as it is, where it is there and none was put in its place.
    pub fn keep(&self, path: &str) {
        let (Some(digest), Ok(found)) = (self.old_digest(path), fs::symlink_metadata(self.target.join(path)))
        else {
            return;
        };
        let entry = StagedFile { digest: digest.to_owned(), length: found.len(), from: StagedFrom::Carried };
        self.files().entry(path.to_owned()).or_insert(entry);
    }

    /// Where the bytes lie of every file that the target does not have yet, by the file's path in the tree. They may be read
    /// there until the tree stands.
    pub fn fresh(&self) -> BTreeMap<String, PathBuf> {
        let tree = self.tree();
        let place = |(path, file): (&String, &StagedFile)| {
            let lies = match &file.from {
                StagedFrom::Stage => tree.join(path),
                StagedFrom::Same(other) => tree.join(other),
                StagedFrom::Darkroom { file, old: false } => file.clone(),
                StagedFrom::Old | StagedFrom::Carried | StagedFrom::Darkroom { old: true, .. } => {
                    return None;
                }
            };
            Some((path.clone(), lies))
        };
        self.files().iter().filter_map(place).collect()
    }

    /// Swaps the finished tree in, and removes the old one; a tree that would be the same is left as it stands.
    ///
    /// # Errors
    /// [`WriteError`] where the target was changed in the meantime or the system refuses; the old tree then stands.
    pub fn commit(self) -> Result<TreeSize, WriteError> {
        self.put_in_place(Way::Whole)
    }

    /// As [`Stage::commit`], but only what changed is brought into a tree that stands, one file after the other: that costs
    /// as much as it changes, and for a moment the tree is a mixture of before and after. A run that is killed in that moment
    /// is carried to its end by the next one.
    ///
    /// # Errors
    /// As [`Stage::commit`].
    pub fn commit_piecemeal(self) -> Result<TreeSize, WriteError> {
        self.put_in_place(Way::Piecemeal)
    }

    fn put_in_place(self, way: Way) -> Result<TreeSize, WriteError> {
        let tree = self.tree();
        let (list, written) = {
            let files = self.files();
            let list =
                Manifest(files.iter().map(|(path, file)| (path.clone(), file.digest.clone())).collect());
            let bytes = files.values().map(|file| file.length).sum();
            (list, TreeSize { files: files.len(), bytes })
        };
        // What is written although the list has it already did not stand as the list says.
        let stands = |file: &StagedFile| !matches!(file.from, StagedFrom::Stage | StagedFrom::Same(_));
        let same =
            |old: &TreeState| old.untouched && old.manifest == list && self.files().values().all(stands);
        if self.old.as_ref().is_some_and(same) {
            return Ok(written);
        }
        // Of a tree that somebody touched, more has to be brought in than what changed.
        let old = self.old.as_ref().filter(|old| way == Way::Piecemeal && old.untouched);
        let changes = old.map(|old| Changes::of(&self, old)).filter(Changes::are_possible);
        let comes = |path: &str| changes.as_ref().is_none_or(|changes| changes.coming.contains(path));
        let bring = |(path, file): (&String, &StagedFile)| match comes(path) {
            true => self.bring(path, &file.from),
            false => Ok(()),
        };
        self.files().par_iter().try_for_each(bring)?;
        let path = tree.join(MANIFEST);
        fs::write(&path, list.text()).map_err(cannot("write", &path))?;
        let files = list.0.keys().map(|path| tree.join(path)).chain([path]);
        swap::settle(&self.folder, files).map_err(cannot("write all of", &tree))?;
        // Somebody may have put a file into the target while the pages were being made.
        ownership::check(&self.target)?;
        match changes {
            Some(Changes { going, .. }) => {
                piecemeal::decide(&self.folder, &going)
                    .and_then(|()| piecemeal::carry_out(&self.folder, &self.target))
                    .map_err(cannot("change files in", &self.target))?;
            }
            None => {
                swap::swap(&self.folder, &self.target).map_err(cannot("replace", &self.target))?;
                swap::seal(&self.folder, &self.target);
            }
        }
        Ok(written)
    }

    /// Where entries of a darkroom go that has no place of its own; it goes with the stage.
    pub(super) fn scratch(&self) -> PathBuf {
        self.folder.join("scratch")
    }

    /// Notes a file of the tree; one that was carried over makes way.
    fn enter(&self, path: &str, entry: StagedFile) -> Result<(), WriteError> {
        if !manifest::is_sound(path) {
            return Err(WriteError::Path(path.to_owned()));
        }
        match self.files().insert(path.to_owned(), entry) {
            None | Some(StagedFile { from: StagedFrom::Carried, .. }) => Ok(()),
            Some(_) => Err(WriteError::Twice(path.to_owned())),
        }
    }

    /// Whether bytes have to be written, or are written at another path already.
    fn first(&self, path: &str, digest: &str) -> StagedFrom {
        let mut written = self.written.lock().expect("no thread panics while it holds the list");
        match written.get(digest) {
            Some(other) if other != path => StagedFrom::Same(other.clone()),
            Some(_) => StagedFrom::Stage,
            None => {
                written.insert(digest.to_owned(), path.to_owned());
                StagedFrom::Stage
            }
        }
    }

    /// Brings a file into the tree that is not written there: under a second name, or as a copy where there are none.
    fn bring(&self, path: &str, from: &StagedFrom) -> Result<(), WriteError> {
        let standing = self.target.join(path);
        let (from, other) = match from {
            StagedFrom::Stage => return Ok(()),
            StagedFrom::Same(other) => (&self.tree().join(other), None),
            StagedFrom::Old | StagedFrom::Carried => (&standing, None),
            // On another disk than the darkroom's, the old tree's own file saves the copy.
            StagedFrom::Darkroom { file, old } => (file, old.then_some(&standing)),
        };
        let to = self.tree().join(path);
        let linked = [Some(from), other].into_iter().flatten();
        if linked.into_iter().any(|from| with_folder(&to, || fs::hard_link(from, &to)).is_ok()) {
            return Ok(());
        }
        with_folder(&to, || copy(from, &to)).map_err(refusal("copy", path, from))
    }

    /// Whether the old tree has just these bytes at a path.
    fn stands(&self, path: &str, digest: &str, bytes: &[u8]) -> bool {
        // The file is compared too: pages are small, and one that rotted on the disk would else stay for ever.
        self.old_digest(path).is_some_and(|old| old == digest)
            && PlainFile::open(&self.target.join(path))
                .and_then(|file| file.all(bytes.len() as u64))
                .is_ok_and(|old| old == bytes)
    }

    /// The same of a file that stands at several paths: second names of one file are compared once.
    fn stands_again(&self, path: &str, repeated: &Repeated<'_>) -> bool {
        let Repeated { bytes, digest, standing } = repeated;
        let found = fs::symlink_metadata(self.target.join(path)).ok();
        let identity = found.map(|found| Identity::of(&found)).filter(|identity| identity.number != 0);
        if identity.is_some() && standing.get() == identity.as_ref() {
            return self.old_digest(path).is_some_and(|old| old == digest);
        }
        let stands = self.stands(path, digest, bytes);
        if let (true, Some(identity)) = (stands, identity) {
            // Another thread may have been first, which is as good.
            let _ = standing.set(identity);
        }
        stands
    }

    fn old_digest(&self, path: &str) -> Option<&String> {
        self.old.as_ref().and_then(|old| old.manifest.0.get(path))
    }

    fn tree(&self) -> PathBuf {
        swap::fresh(&self.folder)
    }

    fn files(&self) -> MutexGuard<'_, BTreeMap<String, StagedFile>> {
        self.files.lock().expect("no thread panics while it holds the list")
    }
}

impl Drop for Stage {
    fn drop(&mut self) {
        // What cannot be removed now is cleared away by the next run.
        clear(&self.folder, &self.target);
    }
}

/// How the names of the stages of a target begin.
fn prefix(name: &OsStr) -> OsString {
    let mut prefix = OsString::from(".");
    prefix.push(name);
    prefix.push(".witnessmark-");
    prefix
}

/// Whether a stage lies beside a target: of a run that goes on, or that was killed.
pub(super) fn is_beside(target: &Path) -> bool {
    let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else { return false };
    let prefix = prefix(name);
    let mut entries = fs::read_dir(parent).into_iter().flatten().flatten();
    entries.any(|entry| entry.file_name().as_encoded_bytes().starts_with(prefix.as_encoded_bytes()))
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
    let mut from = PlainFile::open(from)?.into_file();
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

/// Makes a stage's folder as soon as no other run has one for the same target.
fn claim_alone(
    parent: &Path,
    prefix: &OsString,
    target: &Path,
    patience: Duration,
) -> Result<(PathBuf, File), WriteError> {
    let since = Instant::now();
    loop {
        // Held while somebody looks around, so that no two runs find themselves alone. Some systems lock no folders.
        let door = hold_folder(parent).ok();
        let locked = |door: &File| matches!(door.try_lock(), Err(fs::TryLockError::WouldBlock));
        if !door.as_ref().is_some_and(locked) && !clear_leftovers(parent, prefix, target) {
            return claim(parent, prefix).map_err(cannot("make a folder in", parent));
        }
        drop(door);
        if since.elapsed() >= patience {
            return Err(WriteError::TargetInUse(target.to_owned()));
        }
        std::thread::sleep(LOOK_AGAIN);
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

/// Clears away the stages of processes that ended before they could do so themselves; says whether any other runs.
pub(super) fn clear_leftovers(parent: &Path, prefix: &OsString, target: &Path) -> bool {
    let mut running = false;
    let Ok(entries) = fs::read_dir(parent) else { return running };
    for entry in entries.flatten() {
        let ours = entry.file_name().as_encoded_bytes().starts_with(prefix.as_encoded_bytes());
        if !ours || !entry.file_type().is_ok_and(|kind| kind.is_dir()) {
            continue;
        }
        let folder = entry.path();
        match hold(&folder.join(MARKER)) {
            Ok(marker) => match marker.try_lock() {
                Ok(()) => clear(&folder, target),
                Err(fs::TryLockError::WouldBlock) => running = true,
                Err(fs::TryLockError::Error(_)) => {}
            },
            // Killed before it had its marker, or somebody's own folder: it goes only if it is empty.
            Err(_) => _ = fs::remove_dir(&folder),
        }
    }
    running
}

/// Removes a stage, after moving the old tree back or bringing in what was decided, where that is needed.
pub(super) fn clear(folder: &Path, target: &Path) {
    if swap::recover(folder, target).is_err() || piecemeal::carry_out(folder, target).is_err() {
        return;
    }
    // The marker goes last: a stage half removed is still known as one.
    let content = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in content.filter(|entry| entry.file_name() != MARKER) {
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        let _ = if is_folder { fs::remove_dir_all(entry.path()) } else { fs::remove_file(entry.path()) };
    }
    let _ = fs::remove_file(folder.join(MARKER));
    let _ = fs::remove_dir(folder);
}
