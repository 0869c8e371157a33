//! Replacing one file of a workshop by another version of it.

use std::fs::{self, File, Metadata};
use std::io;
use std::path::Path;

use super::half::{HalfFile, Whom, clear_halves};
use super::{WriteError, cannot, fingerprint};
use crate::source::{PlainFile, hold_folder, limit};

/// Replaces a file whole, if it is still the one whose fingerprint is `was`.
///
/// There is the old file or the new one at every moment, and after this the new one is on the disk. It keeps the rights
/// of the old one, and its owner where this process may give files to others. What killed runs left beside it is
/// cleared away.
///
/// # Errors
/// [`WriteError::Meanwhile`] where it was changed, [`WriteError::NotAFile`] where it is a link or no file,
/// [`WriteError::Protected`] where it may not be written to, [`WriteError::SecondName`] where another name would keep
/// the old text, [`WriteError::System`] where the system refuses; it then stands as it was.
pub fn replace(path: &Path, bytes: &[u8], was: &str) -> Result<(), WriteError> {
    let old = fs::symlink_metadata(path).map_err(cannot("look at", path))?;
    let (Some(folder), true) = (path.parent(), old.is_file()) else {
        return Err(WriteError::NotAFile(path.to_owned()));
    };
    if is_protected(path, &old) {
        return Err(WriteError::Protected(path.to_owned()));
    }
    if has_second_name(&old) {
        return Err(WriteError::SecondName(path.to_owned()));
    }
    clear_halves(folder);
    // Nobody else reads it before it has the rights of the old file.
    let mut half = HalfFile::new(Whom::OwnerIfPossible, folder).map_err(cannot("make a file in", folder))?;
    fill(&mut half, bytes, &old).map_err(cannot("write", path))?;
    // Looked at as late as can be: an editor may be saving it at this moment.
    let now = PlainFile::open(path).and_then(|file| file.all(limit::RECORD));
    let now = now.map_err(|fault| cannot("read", path)(fault.into()))?;
    if fingerprint(&now) != was {
        return Err(WriteError::Meanwhile(path.to_owned()));
    }
    fs::rename(&half.path, path).map_err(cannot("replace", path))?;
    // Best effort: some systems cannot do this for folders, and the file is replaced in any case.
    let _ = hold_folder(folder).and_then(|folder| folder.sync_all());
    Ok(())
}

/// Writes all of a file, gives it the rights of the one whose place it takes, and waits until it is on the disk.
fn fill(half: &mut HalfFile, bytes: &[u8], old: &Metadata) -> io::Result<()> {
    half.file.set_permissions(rights(&half.file, old))?;
    half.fill(bytes)
}

/// Gives a file the old file's owner where that is allowed, and says what rights it then has.
#[cfg(unix)]
fn rights(file: &File, old: &Metadata) -> fs::Permissions {
    use std::os::unix::fs::{MetadataExt, PermissionsExt, fchown};
    let mut mode = old.mode() & 0o777;
    let owned =
        fchown(file, Some(old.uid()), Some(old.gid())).or_else(|_| fchown(file, None, Some(old.gid())));
    if owned.is_err() {
        // It belongs to another group, which is allowed no more than everybody.
        mode = mode & 0o707 | (mode & 0o007) << 3;
    }
    fs::Permissions::from_mode(mode)
}

#[cfg(not(unix))]
fn rights(file: &File, old: &Metadata) -> fs::Permissions {
    old.permissions()
}

/// Whether a file is not to be written to. Replacing it needs no right to that, but whoever took the right away meant it.
fn is_protected(path: &Path, found: &Metadata) -> bool {
    #[cfg(unix)]
    {
        use rustix::fs::{Access, access};
        use rustix::io::Errno;
        let refused = access(path, Access::WRITE_OK).err();
        if matches!(refused, Some(Errno::ACCESS | Errno::PERM | Errno::ROFS)) {
            return true;
        }
    }
    #[cfg(not(unix))]
    let _ = path;
    // Whoever administers the system may write to anything.
    found.permissions().readonly()
}

/// Whether the same file stands under another name too.
fn has_second_name(found: &Metadata) -> bool {
    #[cfg(unix)]
    return std::os::unix::fs::MetadataExt::nlink(found) > 1;
    #[cfg(not(unix))]
    {
        let _ = found;
        false
    }
}

#[cfg(test)]
mod tests {
    use std::path::PathBuf;

    use super::*;
    use crate::write::half::clear_half;

    fn record() -> (tempfile::TempDir, PathBuf) {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("record.toml");
        fs::write(&path, "old").unwrap();
        (home, path)
    }

    /// The names of what lies beside the record.
    fn beside(home: &tempfile::TempDir) -> Vec<String> {
        let entries = fs::read_dir(home.path()).unwrap();
        let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
        let mut names: Vec<String> = names.filter(|name| name != "record.toml").collect();
        names.sort();
        names
    }

    #[test]
    fn the_file_that_was_seen_is_replaced() {
        let (home, path) = record();
        replace(&path, b"new", &fingerprint(b"old")).unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"new");
        assert!(beside(&home).is_empty());
    }

    #[test]
    fn a_file_that_changed_since_stays() {
        let (home, path) = record();
        let refused = replace(&path, b"new", &fingerprint(b"older"));
        assert!(matches!(refused, Err(WriteError::Meanwhile(_))), "{refused:?}");
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert!(beside(&home).is_empty());
    }

    #[test]
    fn what_killed_runs_left_is_cleared_and_nothing_else() {
        let (home, path) = record();
        let living = HalfFile::new(Whom::OwnerIfPossible, home.path()).unwrap();
        let own = [
            ".witnessmark-1.part",
            ".witnessmark-1-.part",
            ".witnessmark-1-x.part",
            ".witnessmark-1-2.part~",
            "witnessmark-1-2.part",
        ];
        for name in own.into_iter().chain([".witnessmark-1-2.part"]) {
            fs::write(home.path().join(name), "half").unwrap();
        }
        fs::create_dir(home.path().join(".witnessmark-1-3.part")).unwrap();
        replace(&path, b"new", &fingerprint(b"old")).unwrap();
        let mut left: Vec<String> = own.map(str::to_owned).into();
        left.push(".witnessmark-1-3.part".to_owned());
        left.push(living.path.file_name().unwrap().to_str().unwrap().to_owned());
        left.sort();
        assert_eq!(beside(&home), left);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_with_the_name_of_a_part_is_left_alone() {
        let (home, path) = record();
        let link = home.path().join(".witnessmark-1-2.part");
        std::os::unix::fs::symlink(&path, &link).unwrap();
        clear_half(&link);
        assert_eq!(beside(&home), [".witnessmark-1-2.part"]);
        assert_eq!(fs::read(&path).unwrap(), b"old");
    }

    #[cfg(unix)]
    #[test]
    fn rights_and_owner_stay_and_nobody_else_reads_a_part() {
        use std::os::unix::fs::{MetadataExt, PermissionsExt, chown};
        let (home, path) = record();
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        let part = HalfFile::new(Whom::OwnerIfPossible, home.path()).unwrap();
        assert_eq!(mode(&part.path), 0o600);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o664)).unwrap();
        // Only the system's administrator gives files away; others keep their own.
        let _ = chown(&path, Some(4321), Some(4322));
        let owner = |found: fs::Metadata| (found.uid(), found.gid());
        let before = owner(fs::metadata(&path).unwrap());
        replace(&path, b"new", &fingerprint(b"old")).unwrap();
        assert_eq!((mode(&path), owner(fs::metadata(&path).unwrap())), (0o664, before));
    }

    #[cfg(unix)]
    #[test]
    fn links_second_names_and_protected_files_are_refused() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let (home, path) = record();
        let refused = |path: &Path| replace(path, b"new", &fingerprint(b"old")).unwrap_err();
        let link = home.path().join("link.toml");
        symlink(&path, &link).unwrap();
        assert!(matches!(refused(&link), WriteError::NotAFile(_)));
        let second = home.path().join("second.toml");
        fs::hard_link(&path, &second).unwrap();
        assert!(matches!(refused(&path), WriteError::SecondName(_)));
        fs::remove_file(&second).unwrap();
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).unwrap();
        assert!(matches!(refused(&path), WriteError::Protected(_)));
        assert_eq!(fs::read(&path).unwrap(), b"old");
        assert_eq!(beside(&home), ["link.toml"]);
    }
}
