//! What a written tree looks like from outside, so that one that nobody touched is known again without being read.

use std::fs::{self, Metadata};
use std::io;
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::{fingerprint, ownership, place, stage};
use crate::source::Identity;

/// The fingerprint of every file's path and identity in a written tree, its list among them.
///
/// Any change to a file shows, also one whose date was set back, since no program sets back when a file was changed last.
/// Where the system does not tell that, it sees what the list's date sees.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Likeness(String);

impl Likeness {
    /// What stands at a target. `None` where it cannot be looked at, and where another run is at it or was killed, which
    /// the next one cleans up after.
    pub fn of(target: &Path) -> Option<Likeness> {
        let target = place::resolve(target).ok()?;
        if stage::is_beside(&target) {
            return None;
        }
        let mut all = Vec::new();
        look(&target, &mut String::new(), &mut all).ok()?;
        Some(Likeness(fingerprint(&all)))
    }

    /// What stands at a target in these folders, and these files of it.
    pub fn of_places(target: &Path, places: &[String]) -> Option<Likeness> {
        let mut all = Vec::new();
        for place in places {
            let (path, mut name) = (target.join(place), place.clone());
            let found = fs::symlink_metadata(&path).ok()?;
            match found.is_dir() {
                true => look(&path, &mut name, &mut all).ok()?,
                false => add(&name, &found, &mut all),
            }
        }
        Some(Likeness(fingerprint(&all)))
    }

    /// The same of a tree that is just as it was written; `None` where somebody added something to it or changed it since.
    pub fn of_untouched(target: &Path) -> Option<Likeness> {
        // Taken first, so that whatever is done to a file after the check makes another likeness.
        let likeness = Likeness::of(target)?;
        ownership::check(target).ok()??.untouched.then_some(likeness)
    }
}

/// Adds all files below a folder, whose path from the tree stands in `path`.
fn look(folder: &Path, path: &mut String, all: &mut Vec<u8>) -> io::Result<()> {
    let mut entries = fs::read_dir(folder)?.collect::<Result<Vec<_>, _>>()?;
    entries.sort_by_cached_key(fs::DirEntry::file_name);
    for entry in entries {
        let (name, kind) = (entry.file_name(), entry.file_type()?);
        if ownership::is_nobodys(&name, kind) {
            continue;
        }
        let end = path.len();
        path.push('/');
        path.push_str(&name.to_string_lossy());
        if kind.is_dir() {
            look(&entry.path(), path, all)?;
        } else {
            add(path, &entry.metadata()?, all);
        }
        path.truncate(end);
    }
    Ok(())
}

/// Adds one file.
fn add(path: &str, found: &Metadata, all: &mut Vec<u8>) {
    all.extend(path.as_bytes());
    all.push(0);
    all.extend(Identity::of(found).bytes());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::write::{MANIFEST, Stage};

    fn written() -> (tempfile::TempDir, std::path::PathBuf) {
        let home = tempfile::tempdir().unwrap();
        let target = home.path().join("written");
        let stage = Stage::open(&target).unwrap();
        for (path, text) in [("a/index.html", "first"), ("b/index.html", "second")] {
            stage.put(path, text.as_bytes()).unwrap();
        }
        stage.commit().unwrap();
        (home, target)
    }

    #[test]
    fn a_tree_that_nobody_touched_looks_the_same_and_any_other_does_not() {
        let (_home, target) = written();
        let before = Likeness::of_untouched(&target).unwrap();
        fs::write(target.join("a/.DS_Store"), "").unwrap();
        assert_eq!(Likeness::of(&target), Some(before.clone()), "what file managers leave is nobody's work");
        fs::write(target.join("a/notes.txt"), "").unwrap();
        assert_ne!(Likeness::of(&target), Some(before.clone()));
        assert_eq!(Likeness::of_untouched(&target), None);
        fs::remove_file(target.join("a/notes.txt")).unwrap();
        assert_eq!(Likeness::of(&target), Some(before.clone()));
        for file in ["b/index.html", MANIFEST] {
            let (_home, target) = written();
            let before = Likeness::of(&target).unwrap();
            fs::remove_file(target.join(file)).unwrap();
            assert_ne!(Likeness::of(&target), Some(before), "{file}");
        }
    }

    #[test]
    fn one_folder_of_it_looks_the_same_whatever_is_done_to_another() {
        let (_home, target) = written();
        let places = ["a".to_owned(), MANIFEST.to_owned()];
        let before = Likeness::of_places(&target, &places).unwrap();
        fs::remove_file(target.join("b/index.html")).unwrap();
        assert_eq!(Likeness::of_places(&target, &places), Some(before.clone()));
        fs::remove_file(target.join("a/index.html")).unwrap();
        assert_ne!(Likeness::of_places(&target, &places), Some(before));
        assert_eq!(Likeness::of_places(&target, &["c".to_owned()]), None);
    }

    #[cfg(unix)]
    #[test]
    fn an_edit_of_the_same_length_shows_although_its_date_was_set_back() {
        let (_home, target) = written();
        let before = Likeness::of(&target).unwrap();
        let page = target.join("a/index.html");
        let date = fs::metadata(&page).unwrap().modified().unwrap();
        std::thread::sleep(std::time::Duration::from_millis(20));
        fs::write(&page, "forst").unwrap();
        fs::File::options().write(true).open(&page).unwrap().set_modified(date).unwrap();
        assert_ne!(Likeness::of(&target), Some(before));
    }

    #[test]
    fn what_a_killed_run_left_beside_it_is_for_the_next_run_to_clear_away() {
        let (home, target) = written();
        fs::create_dir(home.path().join(".written.witnessmark-1-0")).unwrap();
        assert_eq!(Likeness::of(&target), None);
    }
}
