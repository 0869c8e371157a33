//! The list of everything that was written, which is also the proof that it was written here.

use std::collections::BTreeMap;
use std::path::Path;

use super::{WriteError, cannot};
use crate::source::{FileFault, PlainFile, limit};

/// The list's name at the top of a written tree.
pub const MANIFEST: &str = ".witnessmark";

/// What a written tree holds: the fingerprint of each file, by its path with forward slashes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Manifest(pub(super) BTreeMap<String, String>);

impl Manifest {
    /// The list as text, in the form of `sha256sum`: fingerprint, two spaces, path; sorted by path.
    pub(super) fn text(&self) -> String {
        self.0.iter().map(|(path, digest)| format!("{digest}  {path}\n")).collect()
    }

    /// Reads a list.
    ///
    /// # Errors
    /// The number of the first line that is none of ours, counted from 1.
    pub(super) fn read(text: &str) -> Result<Manifest, usize> {
        let entry = |(index, line): (usize, &str)| {
            let (digest, path) = line.split_once("  ").ok_or(index + 1)?;
            let sound = digest.len() == 64 && digest.bytes().all(|byte| byte.is_ascii_hexdigit());
            if sound && is_sound(path) { Ok((path.to_owned(), digest.to_owned())) } else { Err(index + 1) }
        };
        text.lines().enumerate().map(entry).collect::<Result<_, _>>().map(Manifest)
    }

    /// Opens the list of a tree; `None` where the tree has none.
    pub(super) fn open(tree: &Path) -> Result<Option<Manifest>, WriteError> {
        let path = tree.join(MANIFEST);
        let text = match PlainFile::open(&path).and_then(|file| file.all(limit::LIST)) {
            Err(FileFault::Missing) => return Ok(None),
            read => read.map_err(|fault| cannot("read", &path)(fault.into()))?,
        };
        // Bytes that are no text become the replacement sign, so that the line they stand in is the one complained of.
        let text = String::from_utf8_lossy(&text);
        let damaged = |line| WriteError::Manifest { path, line };
        Manifest::read(&text).map(Some).map_err(damaged)
    }
}

/// Whether a path may stand in the list: relative, inside the tree, and nothing that `sha256sum` would have to escape.
pub(super) fn is_sound(path: &str) -> bool {
    let part = |part: &str| !matches!(part, "" | "." | "..");
    let character = |c: char| !c.is_control() && c != '\\' && c != char::REPLACEMENT_CHARACTER;
    path != MANIFEST && path.split('/').all(part) && path.chars().all(character)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_survives_being_written_and_read() {
        let digest = crate::write::fingerprint(b"oak");
        let manifest = Manifest(
            ["showroom/index.html", "archive/a  b.html"].map(|path| (path.into(), digest.clone())).into(),
        );
        assert_eq!(
            manifest.text().lines().next(),
            Some(format!("{digest}  archive/a  b.html").as_str()),
            "sorted by path"
        );
        assert_eq!(Manifest::read(&manifest.text()), Ok(manifest));
        assert_eq!(Manifest::read(""), Ok(Manifest::default()));
    }

    #[test]
    fn a_list_that_is_none_says_in_which_line() {
        let good = format!("{}  a\n", "0".repeat(64));
        for bad in ["notes", "", "abc  a", &format!("{}  ../a", "0".repeat(64))] {
            assert_eq!(Manifest::read(&format!("{good}{bad}\n")), Err(2), "{bad:?}");
        }
    }

    #[test]
    fn paths_that_leave_the_tree_are_unsound() {
        for path in
            ["", "/a", "a/", "a//b", "../a", "a/../b", "./a", "a\\b", "a\nb", "a\0b", MANIFEST, "a\u{fffd}"]
        {
            assert!(!is_sound(path), "{path:?}");
        }
        for path in ["a", "a/b.html", "showroom/..a", "ä/كرسي.html", "a b", "showroom/.witnessmark"] {
            assert!(is_sound(path), "{path:?}");
        }
    }
}
