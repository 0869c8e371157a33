//! The workshop's folder as it was found: paths, texts and bytes.
//!
//! This is the only door through which files come in. Everything above works on
//! a [`Tree`], which the disk and a test make alike.

mod identity;
mod pack;
mod sheets;
mod watch;

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

pub use identity::Identity;
pub use pack::pack;
pub use sheets::Sheets;
pub use watch::Watch;

/// Texts longer than this are not read: no record or story is that long.
pub const LONGEST_TEXT: u64 = 8 * 1024 * 1024;

/// What of a workshop's folder is looked at: two files, and folders with all that lies in them.
pub const LOOKED_AT: [&str; 5] = ["workshop.toml", "stock.toml", "pieces", "theme", "trade"];

/// A workshop's folder, listed once.
#[derive(Debug, Default)]
pub struct Tree {
    root: Option<PathBuf>,
    files: BTreeMap<String, Entry>,
    texts: BTreeMap<String, Result<String, TextFault>>,
    faults: Vec<(String, String)>,
}

#[derive(Debug)]
enum Entry {
    Disk(PathBuf),
    Link,
    Memory(Vec<u8>),
}

/// Why a text file could not be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TextFault {
    /// It holds bytes that are not UTF-8, from this offset on.
    #[error("not UTF-8 text: byte {0} of the file is not part of a character")]
    NotUtf8(usize),
    /// It is longer than [`LONGEST_TEXT`].
    #[error("{} MB long, and at most {} MB are read", .0 / 1_000_000, LONGEST_TEXT / 1_000_000)]
    TooLong(u64),
    /// The system would not hand it over.
    #[error("unreadable: {0}")]
    Unreadable(String),
    /// It is a link, and links are not followed.
    #[error("a link, and links are not followed")]
    Link,
}

/// Why a workshop's folder could not be opened at all.
#[derive(Debug, thiserror::Error)]
pub enum TreeError {
    /// There is no such folder.
    #[error("there is no folder `{}`", .0.display())]
    NoFolder(PathBuf),
    /// The folder is no workshop.
    #[error(
        "`{}` is not a workshop: it has no workshop.toml (`witnessmark intake NAME` makes one in an empty folder)",
        .0.display()
    )]
    NoWorkshop(PathBuf),
}

impl Tree {
    /// Lists a workshop's folder and reads its texts.
    ///
    /// Only what [`LOOKED_AT`] names is looked at. Links are listed but not followed.
    ///
    /// # Errors
    /// [`TreeError`] where the folder is missing or holds no `workshop.toml`.
    pub fn open(root: &Path) -> Result<Tree, TreeError> {
        if !root.is_dir() {
            return Err(TreeError::NoFolder(root.to_owned()));
        }
        if fs::symlink_metadata(root.join("workshop.toml")).is_err() {
            return Err(TreeError::NoWorkshop(root.to_owned()));
        }
        let mut tree = Tree { root: Some(root.to_owned()), ..Tree::default() };
        for top in LOOKED_AT {
            tree.list(root, top);
        }
        let texts: Vec<String> = tree.paths().filter(|path| is_text(path)).map(str::to_owned).collect();
        for path in texts {
            let text = tree.read_text(&path);
            tree.texts.insert(path, text);
        }
        Ok(tree)
    }

    /// A workshop that exists only in memory, from paths and bytes.
    pub fn of<P: Into<String>, B: Into<Vec<u8>>>(files: impl IntoIterator<Item = (P, B)>) -> Tree {
        let mut tree = Tree::default();
        for (path, bytes) in files {
            tree.files.insert(path.into(), Entry::Memory(bytes.into()));
        }
        let texts: Vec<String> = tree.paths().filter(|path| is_text(path)).map(str::to_owned).collect();
        for path in texts {
            let text = tree.read_text(&path);
            tree.texts.insert(path, text);
        }
        tree
    }

    fn list(&mut self, root: &Path, top: &str) {
        let start = root.join(top);
        if fs::symlink_metadata(&start).is_err() {
            return;
        }
        let walk = walkdir::WalkDir::new(&start).follow_links(false).sort_by_file_name();
        let wanted = |entry: &walkdir::DirEntry| {
            let path = entry.path().strip_prefix(root).unwrap_or(entry.path());
            top != "pieces" || !entry.file_type().is_dir() || !is_made(&slashed(path))
        };
        for entry in walk.into_iter().filter_entry(wanted) {
            match entry {
                Ok(entry) if entry.file_type().is_dir() => {}
                Ok(entry) => {
                    let path = slashed(entry.path().strip_prefix(root).unwrap_or(entry.path()));
                    let found = if entry.file_type().is_symlink() {
                        Entry::Link
                    } else {
                        Entry::Disk(entry.into_path())
                    };
                    self.files.insert(path, found);
                }
                Err(error) => {
                    let path = error.path().map_or_else(
                        || top.to_owned(),
                        |path| slashed(path.strip_prefix(root).unwrap_or(path)),
                    );
                    self.faults.push((path, error.to_string()));
                }
            }
        }
    }

    /// The folder that was listed; `None` for a workshop that exists only in memory.
    pub fn root(&self) -> Option<&Path> {
        self.root.as_deref()
    }

    /// Every file's path from the root, sorted, with forward slashes.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.files.keys().map(String::as_str)
    }

    /// The files below a folder, as paths from the root, sorted.
    pub fn below<'a>(&'a self, folder: &str) -> impl Iterator<Item = &'a str> + use<'a> {
        let prefix = format!("{folder}/");
        let from = prefix.clone();
        self.files
            .range(from..)
            .map(|(path, _)| path.as_str())
            .take_while(move |path| path.starts_with(&prefix))
    }

    /// Whether the tree has such a file.
    pub fn has(&self, path: &str) -> bool {
        self.files.contains_key(path)
    }

    /// Whether the file is a link, which is never followed.
    pub fn is_link(&self, path: &str) -> bool {
        matches!(self.files.get(path), Some(Entry::Link))
    }

    /// Folders and files that could not be listed, with the system's reason.
    pub fn faults(&self) -> &[(String, String)] {
        &self.faults
    }

    /// The text of a TOML or Markdown file; `None` where there is no such file.
    pub fn text(&self, path: &str) -> Option<Result<&str, &TextFault>> {
        self.texts.get(path).map(|text| text.as_deref())
    }

    /// The bytes of a file.
    ///
    /// # Errors
    /// The system's error; links and unknown paths are `NotFound`.
    pub fn bytes(&self, path: &str) -> io::Result<Vec<u8>> {
        match self.files.get(path) {
            Some(Entry::Memory(bytes)) => Ok(bytes.clone()),
            Some(Entry::Disk(file)) => fs::read(file),
            Some(Entry::Link) => {
                Err(io::Error::new(io::ErrorKind::NotFound, "a link, and links are not followed"))
            }
            None => Err(io::Error::new(io::ErrorKind::NotFound, "no such file")),
        }
    }

    /// What the system says of a file without opening it; `None` for what is no file on a disk.
    pub fn identity(&self, path: &str) -> Option<Identity> {
        match self.files.get(path) {
            Some(Entry::Disk(file)) => fs::metadata(file).ok().map(|found| Identity::of(&found)),
            _ => None,
        }
    }

    /// The text of a file as it is now, which may differ from the one that was read when the folder was listed.
    ///
    /// # Errors
    /// [`TextFault`].
    pub fn read_text(&self, path: &str) -> Result<String, TextFault> {
        if let Some(Entry::Link) = self.files.get(path) {
            return Err(TextFault::Link);
        }
        if let Some(Entry::Disk(file)) = self.files.get(path) {
            let length = fs::metadata(file).map(|data| data.len()).unwrap_or(0);
            if length > LONGEST_TEXT {
                return Err(TextFault::TooLong(length));
            }
        }
        let bytes = self.bytes(path).map_err(|error| TextFault::Unreadable(error.to_string()))?;
        if bytes.len() as u64 > LONGEST_TEXT {
            return Err(TextFault::TooLong(bytes.len() as u64));
        }
        String::from_utf8(bytes).map_err(|error| TextFault::NotUtf8(error.utf8_error().valid_up_to()))
    }
}

/// Whether a folder of `pieces/` holds what was made from a piece: the packs beside its seals, which may be large,
/// and what a killed handover left. Nothing in them is read.
fn is_made(folder: &str) -> bool {
    let mut names = folder.split('/').skip(2);
    match (names.next(), names.next()) {
        (Some("sealed"), inner) => inner.is_some(),
        (Some(name), _) => name.starts_with(".sealed."),
        (None, _) => false,
    }
}

/// TOML and Markdown are read as text; everything else only when it is asked for.
fn is_text(path: &str) -> bool {
    path.ends_with(".toml") || path.ends_with(".md")
}

/// A path with forward slashes; characters that are not Unicode become the replacement sign.
fn slashed(path: &Path) -> String {
    path.components().map(|part| part.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn below_lists_one_folder_and_not_its_namesake() {
        let tree =
            Tree::of([("pieces/a/record.toml", ""), ("pieces/a-b/record.toml", ""), ("workshop.toml", "")]);
        assert_eq!(tree.below("pieces/a").collect::<Vec<_>>(), ["pieces/a/record.toml"]);
    }

    #[test]
    fn packs_and_what_killed_handovers_left_are_not_looked_into() {
        let home = tempfile::tempdir().unwrap();
        for file in [
            "workshop.toml",
            "pieces/a/record.toml",
            "pieces/a/sealed/001.toml",
            "pieces/a/sealed/a-001.zip",
            "pieces/a/sealed/a-001/data/record.toml",
            "pieces/a/.sealed.witnessmark-1-0/tree/001.toml",
            "pieces/sealed/photos/before.jpg",
            "theme/a/sealed/b/c.html",
        ] {
            let path = home.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "").unwrap();
        }
        let tree = Tree::open(home.path()).unwrap();
        assert_eq!(
            tree.paths().collect::<Vec<_>>(),
            [
                "pieces/a/record.toml",
                "pieces/a/sealed/001.toml",
                "pieces/a/sealed/a-001.zip",
                "pieces/sealed/photos/before.jpg",
                "theme/a/sealed/b/c.html",
                "workshop.toml",
            ]
        );
    }

    #[test]
    fn text_that_is_not_utf8_says_where() {
        let tree = Tree::of([("workshop.toml", vec![b'a', 0xff])]);
        assert_eq!(tree.text("workshop.toml"), Some(Err(&TextFault::NotUtf8(1))));
    }
}
