//! Every text that lies in a folder, whoever wrote it and whatever it is called.

use std::fs;
use std::path::Path;

use super::{PlainFile, limit, slashed};

/// A file that somebody may have written into.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoundText {
    /// Its path from the folder, with forward slashes.
    pub path: String,
    /// What it says; `None` for what is no text, is too long for one, or cannot be read.
    pub text: Option<String>,
}

/// The files of a folder and of those within it, sorted by path, but for what is to be passed by: a folder with all that
/// lies in it, or a file. No link is followed.
pub fn texts_below(root: &Path, pass_by: &dyn Fn(&str) -> bool) -> Vec<FoundText> {
    let name = |path: &Path| slashed(path.strip_prefix(root).unwrap_or(path));
    let wanted = |entry: &walkdir::DirEntry| entry.depth() == 0 || !pass_by(&name(entry.path()));
    let entries = walkdir::WalkDir::new(root).follow_links(false).sort_by_file_name().into_iter();
    let files = entries.filter_entry(wanted).flatten().filter(|entry| !entry.file_type().is_dir());
    files
        .map(|entry| {
            let bytes = PlainFile::open(entry.path()).and_then(|file| file.all(limit::TEXT)).ok();
            FoundText {
                path: name(entry.path()),
                text: bytes.and_then(|bytes| String::from_utf8(bytes).ok()),
            }
        })
        .collect()
}

/// The names of what lies in a folder itself, sorted, each with whether it is a folder; none where it cannot be listed.
pub fn lies_in(folder: &Path) -> Vec<(String, bool)> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let named = |entry: fs::DirEntry| {
        Some((entry.file_name().to_string_lossy().into_owned(), entry.file_type().ok()?.is_dir()))
    };
    let mut names: Vec<(String, bool)> = entries.filter_map(named).collect();
    names.sort();
    names
}

/// Whether a folder, or one that it lies in, has the mark of a program that keeps every version of its files.
pub fn is_versioned(folder: &Path) -> bool {
    let whole = fs::canonicalize(folder).unwrap_or_else(|_| folder.to_owned());
    whole.ancestors().any(|folder| fs::symlink_metadata(folder.join(".git")).is_ok())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_are_told_from_what_is_none_and_what_is_passed_by_is_not_opened() {
        let home = tempfile::tempdir().unwrap();
        for (path, bytes) in [
            ("a/notes.txt", "é".as_bytes()),
            ("a/b/made.bin", &[0xff, 0]),
            ("made/x.txt", b"x"),
            ("z.md", b"z"),
        ] {
            let path = home.path().join(path);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
        let found = texts_below(home.path(), &|path| path == "made");
        let found: Vec<(&str, Option<&str>)> =
            found.iter().map(|found| (found.path.as_str(), found.text.as_deref())).collect();
        assert_eq!(found, [("a/b/made.bin", None), ("a/notes.txt", Some("é")), ("z.md", Some("z"))]);
        let there = lies_in(home.path());
        assert_eq!(there, [("a".to_owned(), true), ("made".to_owned(), true), ("z.md".to_owned(), false)]);
        assert!(lies_in(&home.path().join("nowhere")).is_empty());
        assert!(!is_versioned(&home.path().join("a")));
        fs::create_dir(home.path().join(".git")).unwrap();
        assert!(is_versioned(&home.path().join("a")));
    }
}
