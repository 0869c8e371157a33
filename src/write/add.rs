//! Adding one file to a workshop.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::{WriteError, cannot};
use crate::source::hold;

/// How the name of a half-written file begins and ends; between them are the process and a number.
const HALF: [&str; 2] = [".witnessmark-", ".part"];

/// Adds a file with the folders above it, whole or not at all; says `false` where the name is taken.
///
/// What has the name already, be it a file, a folder or a link to nowhere, is left as it is.
///
/// # Errors
/// [`WriteError::System`], and then nothing is left behind but perhaps empty folders.
pub fn add(path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    if let Some(parent) = path.parent() {
        folder(parent)?;
    }
    add_for(Whom::Everybody, path, bytes)
}

/// Adds a file that only its owner can read or write, in folders that only the owner can look into where they are made.
///
/// # Errors
/// As [`add`]; also where the disk cannot keep a file from other users.
pub fn add_secret(path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    if let Some(parent) = path.parent() {
        own_folder(parent)?;
    }
    add_for(Whom::Owner, path, bytes)
}

/// Who may read a file that is added.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Whom {
    /// Whoever the system lets by default.
    Everybody,
    /// Its owner alone, or the file is not added.
    Owner,
    /// Its owner alone, where the disk can keep a file from other users.
    OwnerIfPossible,
}

/// Adds a file to a folder that is there.
pub(super) fn add_for(whom: Whom, path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    if fs::symlink_metadata(path).is_ok() {
        return Ok(false);
    }
    let (Some(parent), true) = (path.parent(), path.file_name().is_some()) else { return Ok(false) };
    let mut half = HalfFile::new(whom, parent).map_err(cannot("write", path))?;
    half.fill(bytes).and_then(|()| publish(&half.path, path)).map_err(cannot("write", path))
}

/// Makes a folder with the folders above it, where it is missing.
///
/// # Errors
/// [`WriteError::System`].
pub fn folder(path: &Path) -> Result<(), WriteError> {
    fs::create_dir_all(path).map_err(cannot("make the folder", path))
}

/// Makes a folder for its owner alone, where it is missing; one that is there keeps its rights.
fn own_folder(path: &Path) -> Result<(), WriteError> {
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(path).map_err(cannot("make the folder", path))
}

/// Clears away the half-written files that killed runs left in a folder; those that are being written stay.
pub fn clear_halves(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if name.starts_with(HALF[0]) && name.ends_with(HALF[1]) {
            // Where it cannot be locked, nobody knows whether it is in use.
            let path = entry.path();
            if hold(&path).is_ok_and(|half| half.try_lock().is_ok()) {
                let _ = fs::remove_file(path);
            }
        }
    }
}

/// A file that is being written beside where it will be; what is left of it goes with this value.
#[derive(Debug)]
pub(super) struct HalfFile {
    pub(super) path: PathBuf,
    /// Locked, by which a dead run's is told from one in use.
    file: File,
}

impl HalfFile {
    /// Makes one in a folder.
    pub(super) fn new(whom: Whom, folder: &Path) -> io::Result<HalfFile> {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        loop {
            let number = NEXT.fetch_add(1, Ordering::Relaxed);
            let path = folder.join(format!("{}{}-{number}{}", HALF[0], std::process::id(), HALF[1]));
            let file = match create(whom, &path) {
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => continue,
                created => created?,
            };
            let half = HalfFile { path, file };
            // A filesystem without locks has no way to tell a dead run's, which is then left lying.
            let _ = half.file.lock();
            // Another process may have cleared it away before it was locked.
            if half.path.exists() {
                return Ok(half);
            }
        }
    }

    /// Writes all of it, and waits until it is on the disk.
    pub(super) fn fill(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes)?;
        self.file.sync_all()
    }
}

impl Drop for HalfFile {
    fn drop(&mut self) {
        // After a success this is the file's second name, or no name any more; after a failure it is half of one.
        let _ = fs::remove_file(&self.path);
    }
}

/// Writes a new file, and waits until it is on the disk.
pub(super) fn fill(whom: Whom, half: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = create(whom, half)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Makes a file that was not there, for those who may read it.
fn create(whom: Whom, path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    if whom != Whom::Everybody {
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    }
    let file = options.open(path)?;
    if whom == Whom::Owner && is_open_to_others(&file)? {
        let _ = fs::remove_file(path);
        return Err(io::Error::other("this disk cannot keep a file from other users"));
    }
    Ok(file)
}

/// Whether others than its owner may read or write a file.
pub(super) fn is_open_to_others(file: &File) -> io::Result<bool> {
    #[cfg(unix)]
    return Ok(std::os::unix::fs::PermissionsExt::mode(&file.metadata()?.permissions()) & 0o077 != 0);
    #[cfg(not(unix))]
    file.metadata().map(|_| false)
}

/// Gives a finished file its name, unless that is taken.
fn publish(half: &Path, path: &Path) -> io::Result<bool> {
    match rename_to_free(half, path).or_else(|_| fs::hard_link(half, path)) {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
        // Some disks can do neither. There the name is taken first, by an empty file, which the finished one replaces.
        Err(_) => match File::create_new(path) {
            Ok(_) => fs::rename(half, path).map(|()| true),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
            Err(error) => Err(error),
        },
    }
}

/// Renames a file in one step, unless the name is taken.
#[cfg(target_os = "linux")]
fn rename_to_free(half: &Path, path: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, half, CWD, path, RenameFlags::NOREPLACE)?)
}

/// Renames a file in one step, unless the name is taken.
#[cfg(not(target_os = "linux"))]
fn rename_to_free(_half: &Path, _path: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_that_is_taken_is_left_alone() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("pieces/chair/record.toml");
        assert!(add(&path, b"first").unwrap());
        assert!(!add(&path, b"second").unwrap());
        assert_eq!(fs::read(&path).unwrap(), b"first");
        let names: Vec<_> = fs::read_dir(path.parent().unwrap()).unwrap().collect();
        assert_eq!(names.len(), 1, "nothing half is left beside it: {names:?}");
    }

    #[cfg(unix)]
    #[test]
    fn a_secret_is_its_owners_alone_and_never_overwritten() {
        use std::os::unix::fs::PermissionsExt;
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("settings/witnessmark/witnessmark.key");
        assert!(add_secret(&path, b"first").unwrap());
        assert!(!add_secret(&path, b"second").unwrap());
        assert_eq!(fs::read(&path).unwrap(), b"first");
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!(mode(&path), 0o600);
        assert_eq!(mode(path.parent().unwrap()), 0o700);
    }

    #[test]
    fn what_a_killed_run_left_is_cleared_away_and_what_is_being_written_is_not() {
        let home = tempfile::tempdir().unwrap();
        for name in [".witnessmark-1-0.part", ".notes.part", ".witnessmark-notes"] {
            fs::write(home.path().join(name), "half").unwrap();
        }
        let mut running = HalfFile::new(Whom::Everybody, home.path()).unwrap();
        running.fill(b"half").unwrap();
        clear_halves(home.path());
        let left = |name: &str| home.path().join(name).exists();
        assert!(!left(".witnessmark-1-0.part") && left(".notes.part") && left(".witnessmark-notes"));
        assert!(running.path.exists());
        let path = running.path.clone();
        drop(running);
        assert!(!path.exists());
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_pipe_that_has_the_name_of_a_half_written_file_is_not_waited_for() {
        let home = tempfile::tempdir().unwrap();
        let pipe = home.path().join(".witnessmark-1-0.part");
        rustix::fs::mkfifoat(rustix::fs::CWD, &pipe, 0o600.into()).unwrap();
        clear_halves(home.path());
        assert!(fs::symlink_metadata(pipe).is_ok());
    }

    #[test]
    fn a_file_in_place_of_the_folder_is_an_error_that_names_it() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("pieces"), "").unwrap();
        let error = add(&home.path().join("pieces/record.toml"), b"").unwrap_err();
        assert!(error.to_string().starts_with("cannot make the folder"), "{error}");
    }
}
