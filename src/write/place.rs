//! Where a tree may be written.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::{WriteError, cannot};

/// Makes sure that writing to `target` cannot touch the workshop's own files.
///
/// # Errors
/// [`WriteError::Workshop`] where the target is the workshop, one of its parents, or lies where records,
/// the theme, the tables, the schemas or the darkroom lie; [`WriteError::System`] where either cannot be looked at.
pub fn keep_clear(workshop: &Path, target: &Path) -> Result<(), WriteError> {
    let place = resolve(target).map_err(cannot("look at", target))?;
    let root = resolve(workshop).map_err(cannot("look at", workshop))?;
    for own in ["pieces", "theme", "trade", "words", "schema", super::darkroom::FOLDER] {
        // The folder may be a link to somewhere else.
        let own = root.join(own);
        let own = resolve(&own).map_err(cannot("look at", &own))?;
        if own.starts_with(&place) || place.starts_with(&own) {
            return Err(WriteError::Workshop(target.to_owned()));
        }
    }
    if root.starts_with(&place) { Err(WriteError::Workshop(target.to_owned())) } else { Ok(()) }
}

/// The path without links and detours, though its last parts need not exist.
pub(super) fn resolve(path: &Path) -> io::Result<PathBuf> {
    match fs::canonicalize(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => {
            let (Some(parent), Some(name)) = (path.parent(), path.file_name()) else { return Err(error) };
            let parent = if parent.as_os_str().is_empty() { Path::new(".") } else { parent };
            Ok(resolve(parent)?.join(name))
        }
        found => found,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_workshop_and_what_is_around_it_are_kept_clear() {
        let home = tempfile::tempdir().unwrap();
        let workshop = home.path().join("workshop");
        fs::create_dir_all(workshop.join("pieces/chair")).unwrap();
        for target in [
            ".",
            "..",
            "pieces",
            "pieces/chair",
            "pieces/new",
            "pieces/../pieces",
            "theme/x",
            "schema",
            ".darkroom",
        ] {
            let refused = keep_clear(&workshop, &workshop.join(target));
            assert!(matches!(refused, Err(WriteError::Workshop(_))), "{target}: {refused:?}");
        }
        for target in ["written", "papers/2026", "../elsewhere", "pieces-written"] {
            assert!(keep_clear(&workshop, &workshop.join(target)).is_ok(), "{target}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_link_to_the_pieces_is_seen_through() {
        let home = tempfile::tempdir().unwrap();
        let (workshop, elsewhere) = (home.path().join("workshop"), home.path().join("elsewhere"));
        fs::create_dir_all(&workshop).unwrap();
        fs::create_dir_all(elsewhere.join("records")).unwrap();
        std::os::unix::fs::symlink(elsewhere.join("records"), workshop.join("pieces")).unwrap();
        assert!(matches!(keep_clear(&workshop, &elsewhere), Err(WriteError::Workshop(_))));
        assert!(keep_clear(&workshop, &elsewhere.join("written")).is_ok());
    }
}
