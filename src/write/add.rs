//! Adding one file to a workshop.

use std::fs::{self, File};
use std::io;
use std::path::Path;

use super::half::{HalfFile, Whom};
use super::{WriteError, cannot};

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
    use crate::write::clear_halves;

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
