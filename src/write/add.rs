//! Adding one file to a workshop.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use super::{WriteError, cannot};

/// Adds a file with the folders above it, whole or not at all; says `false` where the name is taken.
///
/// What has the name already, be it a file, a folder or a link to nowhere, is left as it is.
///
/// # Errors
/// [`WriteError::System`], and then nothing is left behind but perhaps empty folders.
pub fn add(path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    add_for(Whom::Everybody, path, bytes)
}

/// Adds a file that only its owner can read or write, in folders that only the owner can look into where they are made.
///
/// # Errors
/// As [`add`]; also where the disk cannot keep a file from other users.
pub fn add_secret(path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    add_for(Whom::Owner, path, bytes)
}

/// Who may read a file that is added.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Whom {
    /// Whoever the system lets by default.
    Everybody,
    /// Its owner alone.
    Owner,
}

fn add_for(whom: Whom, path: &Path, bytes: &[u8]) -> Result<bool, WriteError> {
    if fs::symlink_metadata(path).is_ok() {
        return Ok(false);
    }
    let (Some(parent), Some(name)) = (path.parent(), path.file_name()) else { return Ok(false) };
    match whom {
        Whom::Everybody => folder(parent)?,
        Whom::Owner => own_folder(parent)?,
    }
    let half = parent.join(format!(".{}.{}.part", name.to_string_lossy(), std::process::id()));
    let added = fill(whom, &half, bytes).and_then(|()| publish(&half, path)).map_err(cannot("write", path));
    // After a success this is the second name of the file, and after a failure half of one.
    let _ = fs::remove_file(&half);
    added
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

/// Writes a new file, and waits until it is on the disk.
pub(super) fn fill(whom: Whom, half: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    if whom == Whom::Owner {
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    }
    let mut file = options.open(half)?;
    #[cfg(unix)]
    if whom == Whom::Owner
        && std::os::unix::fs::PermissionsExt::mode(&file.metadata()?.permissions()) & 0o077 != 0
    {
        return Err(io::Error::other("this disk cannot keep a file from other users"));
    }
    file.write_all(bytes)?;
    file.sync_all()
}

/// Gives a finished file its name, unless that is taken.
fn publish(half: &Path, path: &Path) -> io::Result<bool> {
    match fs::hard_link(half, path) {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
        // Memory cards and some network drives have no second names for files. There the name is taken first,
        // by an empty file, which the finished one then replaces.
        Err(_) => match File::create_new(path) {
            Ok(_) => fs::rename(half, path).map(|()| true),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Ok(false),
            Err(error) => Err(error),
        },
    }
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
    fn a_file_in_place_of_the_folder_is_an_error_that_names_it() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("pieces"), "").unwrap();
        let error = add(&home.path().join("pieces/record.toml"), b"").unwrap_err();
        assert!(error.to_string().starts_with("cannot make the folder"), "{error}");
    }
}
