//! The workshop's folder as it was found: paths, texts and bytes.
//!
//! This is the only door through which files come in. Everything above works on
//! a [`Tree`], which the disk and a test make alike.

mod database;
mod dates;
mod identity;
pub mod limit;
mod listing;
mod pack;
mod plain;
mod seen;
mod sheets;
mod texts;
mod watch;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

pub use database::{DatabaseFault, OpenedDatabase, open_database};
pub use dates::{Dates, SHARED};
pub use identity::Identity;
pub use listing::{MOST_IN_FOLDER, normal_form};
pub use pack::pack;
pub use plain::{FileFault, PlainFile, hold, hold_folder};
pub use seen::Seen;
pub use sheets::Sheets;
pub use texts::{FoundText, is_versioned, lies_in, texts_below};
pub use watch::Watch;

/// What of a workshop's folder is looked at: three files, and folders with all that lies in them.
pub const LOOKED_AT: [&str; 7] =
    ["workshop.toml", "stock.toml", "daybook.txt", "pieces", "theme", "trade", "words"];

/// A workshop's folder, listed once.
#[derive(Debug, Default)]
pub struct Tree {
    root: Option<PathBuf>,
    files: BTreeMap<String, Entry>,
    texts: BTreeMap<String, Result<String, TextFault>>,
    faults: Vec<(String, String)>,
    /// When what it says was last changed before it was listed, in nanoseconds since 1970; 0 in memory.
    dated: u64,
}

#[derive(Debug)]
enum Entry {
    /// A file on the disk, by its path from the root as the disk spells it.
    Disk(PathBuf),
    Memory(Vec<u8>),
}

/// Why a text file could not be read. Its words go on after the file's name, as in "this file is a link".
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TextFault {
    /// It holds bytes that are not UTF-8, from this offset on.
    #[error("is not UTF-8 text: byte {0} of the file is not part of a character")]
    NotUtf8(usize),
    /// It cannot be read, or is longer than its kind may be.
    #[error(transparent)]
    File(#[from] FileFault),
}

impl TextFault {
    /// What to do about it.
    pub fn remedy(&self) -> &'static str {
        match self {
            TextFault::NotUtf8(_) => "save it as UTF-8 in the editor",
            TextFault::File(fault) => fault.remedy(),
        }
    }
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
    /// Only what [`LOOKED_AT`] names is looked at. Links are listed but not followed; a link in place of a folder is
    /// among the faults.
    ///
    /// # Errors
    /// [`TreeError`] where the folder is missing or holds no `workshop.toml`.
    pub fn open(root: &Path) -> Result<Tree, TreeError> {
        Tree::of_tops(root, &LOOKED_AT, Dates::of(root).latest())
    }

    /// As [`Tree::open`], with no more than what all pieces share, and these folders of `pieces/`.
    ///
    /// # Errors
    /// As [`Tree::open`].
    pub fn open_some<'f>(root: &Path, pieces: impl IntoIterator<Item = &'f str>) -> Result<Tree, TreeError> {
        let pieces: Vec<String> = pieces.into_iter().map(|folder| format!("pieces/{folder}")).collect();
        let tops: Vec<&str> = SHARED.into_iter().chain(pieces.iter().map(String::as_str)).collect();
        Tree::of_tops(root, &tops, 0)
    }

    /// As [`Tree::open`], with no more than these files of it, by their paths from the root.
    ///
    /// # Errors
    /// As [`Tree::open`].
    pub fn open_files<'f>(root: &Path, paths: impl IntoIterator<Item = &'f str>) -> Result<Tree, TreeError> {
        let paths: Vec<&str> = paths.into_iter().collect();
        Tree::of_tops(root, &paths, 0)
    }

    /// Whether a text can be the name of one folder, and lead nowhere else.
    pub fn is_folder_name(name: &str) -> bool {
        !name.is_empty() && !name.starts_with('.') && !name.contains(['/', '\\', '\0', ':'])
    }

    /// Looks whether a folder is a workshop.
    ///
    /// # Errors
    /// As [`Tree::open`].
    pub fn check(root: &Path) -> Result<(), TreeError> {
        if !root.is_dir() {
            return Err(TreeError::NoFolder(root.to_owned()));
        }
        if fs::symlink_metadata(root.join("workshop.toml")).is_err() {
            return Err(TreeError::NoWorkshop(root.to_owned()));
        }
        Ok(())
    }

    fn of_tops(root: &Path, tops: &[&str], dated: u64) -> Result<Tree, TreeError> {
        Tree::check(root)?;
        let (files, faults) = listing::list(root, tops);
        let files = files.into_iter().map(|(path, file)| (path, Entry::Disk(file))).collect();
        Ok(Tree { root: Some(root.to_owned()), files, faults, dated, ..Tree::default() }.with_texts())
    }

    /// When what it says was last changed before it was listed, in nanoseconds since 1970; 0 in memory.
    pub fn dated(&self) -> u64 {
        self.dated
    }

    /// A workshop that exists only in memory, from paths and bytes.
    pub fn of<P: Into<String>, B: Into<Vec<u8>>>(files: impl IntoIterator<Item = (P, B)>) -> Tree {
        let memory = |(path, bytes): (P, B)| (path.into(), Entry::Memory(bytes.into()));
        Tree { files: files.into_iter().map(memory).collect(), ..Tree::default() }.with_texts()
    }

    fn with_texts(mut self) -> Tree {
        let texts: Vec<String> = self.paths().filter(|path| is_text(path)).map(str::to_owned).collect();
        self.texts = texts.into_iter().map(|path| (path.clone(), self.read_text(&path))).collect();
        self
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

    /// Folders and files that could not be listed, with the reason: words that go on after "this".
    pub fn faults(&self) -> &[(String, String)] {
        &self.faults
    }

    /// The text of a TOML or Markdown file or a day book; `None` where there is no such file.
    pub fn text(&self, path: &str) -> Option<Result<&str, &TextFault>> {
        self.texts.get(path).map(|text| text.as_deref())
    }

    /// The bytes of a file.
    ///
    /// # Errors
    /// [`FileFault`], where it is longer than its kind may be too.
    pub fn bytes(&self, path: &str) -> Result<Vec<u8>, FileFault> {
        self.bytes_and_identity(path).map(|(bytes, _)| bytes)
    }

    /// The bytes of a file with what the system said of it when they were read; `None` for what is on no disk.
    ///
    /// # Errors
    /// As [`Tree::bytes`].
    pub fn bytes_and_identity(&self, path: &str) -> Result<(Vec<u8>, Option<Identity>), FileFault> {
        let limit = limit::of(path);
        match (self.files.get(path), &self.root) {
            (Some(Entry::Disk(file)), Some(root)) => {
                let file = PlainFile::below(root, file)?;
                let identity = file.identity();
                Ok((file.all(limit)?, Some(identity)))
            }
            (Some(Entry::Memory(bytes)), _) if bytes.len() as u64 > limit => {
                Err(FileFault::TooLong { length: bytes.len() as u64, limit })
            }
            (Some(Entry::Memory(bytes)), _) => Ok((bytes.clone(), None)),
            _ => Err(FileFault::Missing),
        }
    }

    /// What the system says of a file without opening it; `None` for what is no plain file on a disk.
    pub fn identity(&self, path: &str) -> Option<Identity> {
        match (self.files.get(path), &self.root) {
            (Some(Entry::Disk(file)), Some(root)) => {
                let found = fs::symlink_metadata(root.join(file)).ok()?;
                found.is_file().then(|| Identity::of(&found))
            }
            _ => None,
        }
    }

    /// The text of a file as it is now, which may differ from the one that was read when the folder was listed.
    ///
    /// # Errors
    /// [`TextFault`].
    pub fn read_text(&self, path: &str) -> Result<String, TextFault> {
        String::from_utf8(self.bytes(path)?)
            .map_err(|error| TextFault::NotUtf8(error.utf8_error().valid_up_to()))
    }
}

/// Whether a file is read as text: those that somebody asks for. Everything else is read only when it is asked for.
fn is_text(path: &str) -> bool {
    match *path.split('/').collect::<Vec<_>>() {
        ["workshop.toml" | "stock.toml" | "daybook.txt"] | ["theme", "theme.toml"] => true,
        ["pieces", _, "record.toml" | "story.md" | "daybook.txt"] => true,
        ["trade", name] | ["pieces", _, "sealed", name] => name.ends_with(".toml"),
        ["words", name] => name.ends_with(".ftl"),
        _ => false,
    }
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
    fn text_that_is_not_utf8_says_where() {
        let tree = Tree::of([("workshop.toml", vec![b'a', 0xff])]);
        assert_eq!(tree.text("workshop.toml"), Some(Err(&TextFault::NotUtf8(1))));
    }
}
