//! Replacing one file of a workshop by another version of it.

use std::fs;
use std::path::Path;

use super::{WriteError, add, cannot, fingerprint};
use crate::source::{PlainFile, limit};

/// Replaces a file whole, if it is still the one whose fingerprint is `was`.
///
/// The file keeps its permissions. There is the old file or the new one at every moment.
///
/// # Errors
/// [`WriteError::Meanwhile`] where it was changed, [`WriteError::NotAFile`] where it is a link or no file,
/// [`WriteError::System`] where the system refuses; it then stands as it was.
pub fn replace(path: &Path, bytes: &[u8], was: &str) -> Result<(), WriteError> {
    let found = fs::symlink_metadata(path).map_err(cannot("look at", path))?;
    let (Some(parent), Some(name), true) = (path.parent(), path.file_name(), found.is_file()) else {
        return Err(WriteError::NotAFile(path.to_owned()));
    };
    let half = parent.join(format!(".{}.{}.part", name.to_string_lossy(), std::process::id()));
    let swapped = add::fill(add::Whom::Everybody, &half, bytes)
        .and_then(|()| fs::set_permissions(&half, found.permissions()))
        .map_err(cannot("write", path))
        // Looked at as late as can be: an editor may be saving it at this moment.
        .and_then(|()| match PlainFile::open(path).and_then(|file| file.all(limit::RECORD)) {
            Ok(now) if fingerprint(&now) == was => fs::rename(&half, path).map_err(cannot("replace", path)),
            Ok(_) => Err(WriteError::Meanwhile(path.to_owned())),
            Err(fault) => Err(cannot("read", path)(fault.into())),
        });
    if swapped.is_err() {
        // After a success it has the file's name.
        let _ = fs::remove_file(&half);
    }
    swapped
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record() -> (tempfile::TempDir, std::path::PathBuf) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("record.toml");
        fs::write(&path, "old").unwrap();
        (home, path)
    }

    /// Whether nothing lies beside the record.
    fn alone(home: &tempfile::TempDir) -> bool {
        fs::read_dir(home.path()).unwrap().count() == 1
    }

    #[test]
    fn the_file_that_was_seen_is_replaced() {
        let (home, path) = record();
        replace(&path, b"new", &fingerprint(b"old")).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert!(alone(&home));
    }

    #[test]
    fn a_file_that_changed_since_stays() {
        let (home, path) = record();
        let refused = replace(&path, b"new", &fingerprint(b"older"));
        assert!(matches!(refused, Err(WriteError::Meanwhile(_))), "{refused:?}");
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert!(alone(&home));
    }

    #[cfg(unix)]
    #[test]
    fn permissions_stay_and_links_are_refused() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let (home, path) = record();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).unwrap();
        replace(&path, b"new", &fingerprint(b"old")).unwrap();
        assert_eq!(fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
        let link = home.path().join("link.toml");
        symlink(&path, &link).unwrap();
        let refused = replace(&link, b"newer", &fingerprint(b"new"));
        assert!(matches!(refused, Err(WriteError::NotAFile(_))), "{refused:?}");
        assert_eq!(fs::read(&path).unwrap(), b"new");
    }
}
