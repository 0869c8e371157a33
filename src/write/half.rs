//! A file that is being written, beside the place that it will have.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use crate::source::hold;

/// How the name of a half-written file begins and ends; between them stand the process and a number.
const HALF: (&str, &str) = (".witnessmark-", ".part");

fn is_half(name: &str) -> bool {
    let between = name.strip_prefix(HALF.0).and_then(|rest| rest.strip_suffix(HALF.1));
    let number = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    between
        .and_then(|between| between.split_once('-'))
        .is_some_and(|(process, count)| number(process) && number(count))
}

/// Clears away the half-written files that killed runs left in a folder; those that are being written stay.
pub fn clear_halves(folder: &Path) {
    fs::read_dir(folder).into_iter().flatten().flatten().for_each(|entry| clear_half(&entry.path()));
}

/// The same of one file, whose name tells whether it is one.
pub fn clear_half(path: &Path) {
    if !path.file_name().is_some_and(|name| is_half(&name.to_string_lossy())) {
        return;
    }
    // Where it cannot be locked, nobody knows whether it is in use.
    if hold(path).is_ok_and(|half| half.try_lock().is_ok()) {
        // What cannot be removed now is tried again by the next run.
        let _ = fs::remove_file(path);
    }
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

/// A file that is being written beside where it will be; what is left of it goes with this value.
#[derive(Debug)]
pub(super) struct HalfFile {
    pub(super) path: PathBuf,
    /// Locked, by which a dead run's is told from one in use.
    pub(super) file: File,
}

impl HalfFile {
    /// Makes one in a folder.
    pub(super) fn new(whom: Whom, folder: &Path) -> io::Result<HalfFile> {
        static NEXT: AtomicU32 = AtomicU32::new(0);
        loop {
            let number = NEXT.fetch_add(1, Ordering::Relaxed);
            let path = folder.join(format!("{}{}-{number}{}", HALF.0, std::process::id(), HALF.1));
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
