//! Listing a workshop's folder: sorted, without following a link, and within bounds.

use std::collections::BTreeMap;
use std::fs::{self, FileType};
use std::io;
use std::path::{Path, PathBuf};

use unicode_normalization::{UnicodeNormalization, is_nfc};

use super::is_text;

/// The most entries that a folder may have: more than any piece has photographs.
pub const MOST_IN_FOLDER: usize = 5_000;

/// The most pieces that a workshop may have.
const MOST_PIECES: usize = 20_000;

/// The most files of a workshop that are listed.
const MOST_FILES: usize = 300_000;

/// How many folders deep files are looked for.
const DEEPEST: usize = 12;

/// Paths of files as they are asked for, with the paths by which the disk knows them.
type Files = BTreeMap<String, PathBuf>;

/// Paths, and what is wrong with them.
type Faults = Vec<(String, String)>;

/// Lists what is looked at in a workshop: these of its files and folders. Links in place of folders are faults, and other links are files.
pub(super) fn list(root: &Path, tops: &[&str]) -> (Files, Faults) {
    let mut listing = Listing { root, files: Files::new(), faults: Faults::new(), full: false };
    for &top in tops {
        if let Ok(found) = fs::symlink_metadata(root.join(top)) {
            listing.enter(top.to_owned(), PathBuf::from(top), found.file_type(), 1);
        }
    }
    if listing.full {
        let why = format!("workshop has more than {MOST_FILES} files, and no more than those are looked at");
        listing.faults.push(("pieces".to_owned(), why));
    }
    (listing.files, listing.faults)
}

/// A name in the form in which two spellings of one letter are the same: some systems store an accent apart.
pub fn normal_form(name: &str) -> String {
    if name.is_ascii() || is_nfc(name) { name.to_owned() } else { name.nfc().collect() }
}

struct Listing<'a> {
    root: &'a Path,
    files: Files,
    faults: Faults,
    /// Whether there are more files than are listed.
    full: bool,
}

impl Listing<'_> {
    /// Takes in a file, or a folder with all below it.
    fn enter(&mut self, path: String, disk: PathBuf, kind: FileType, depth: usize) {
        // A folder in place of a text is listed as one, so that whoever asks for the text hears of it.
        if kind.is_dir() && !is_text(&path) {
            if !is_made(&path) {
                self.folder(&path, &disk, depth);
            }
        } else if kind.is_symlink() && is_place_of_folder(&path) {
            self.faults.push((path, "is a link, and links are not followed".to_owned()));
        } else if self.files.len() >= MOST_FILES {
            self.full = true;
        } else if self.files.insert(path.clone(), disk).is_some() {
            let why = "name is there twice, in two spellings that look the same; give one another name";
            self.faults.push((path, why.to_owned()));
        }
    }

    fn folder(&mut self, path: &str, disk: &Path, depth: usize) {
        if depth > DEEPEST {
            let why = format!("folder lies more than {DEEPEST} folders deep, and is not looked into");
            return self.faults.push((path.to_owned(), why));
        }
        let most = if path == "pieces" { MOST_PIECES } else { MOST_IN_FOLDER };
        let mut entries = match entries(&self.root.join(disk), most) {
            Ok(Some(entries)) => entries,
            Ok(None) => {
                let why = format!("folder holds more than {most} files, so none of them is looked at");
                return self.faults.push((path.to_owned(), why));
            }
            Err(error) if error.kind() == io::ErrorKind::PermissionDenied => {
                let why = "folder may not be looked into by you; give yourself the right to";
                return self.faults.push((path.to_owned(), why.to_owned()));
            }
            Err(error) => {
                return self.faults.push((path.to_owned(), format!("folder cannot be listed: {error}")));
            }
        };
        entries.sort_by(|one, other| one.0.cmp(&other.0));
        let photographs = matches!(*path.split('/').collect::<Vec<_>>(), ["pieces", _, "photos", ..]);
        let mut strange = Vec::new();
        for (name, kind) in entries {
            match name.to_str() {
                // Other names are written to as well, and must stay as the disk spells them.
                Some(text) => {
                    let spelt = if photographs { normal_form(text) } else { text.to_owned() };
                    self.enter(format!("{path}/{spelt}"), disk.join(&name), kind, depth + 1);
                }
                None => strange.push(name.to_string_lossy().into_owned()),
            }
        }
        if let Some(first) = strange.first() {
            let why = match strange.len() {
                1 => format!(
                    "folder holds a file whose name is no Unicode text: `{first}`; give it another name"
                ),
                many => format!(
                    "folder holds {many} files whose names are no Unicode text, such as `{first}`; \
                     give them other names"
                ),
            };
            self.faults.push((path.to_owned(), why));
        }
    }
}

/// Names and kinds in a folder, as the system gives them; `None` where there are too many.
fn entries(folder: &Path, most: usize) -> io::Result<Option<Vec<(std::ffi::OsString, FileType)>>> {
    let mut entries = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entries.len() == most {
            return Ok(None);
        }
        entries.push((entry.file_name(), entry.file_type()?));
    }
    Ok(Some(entries))
}

/// Whether a folder is looked for at a path, so that a link there would hide all that it leads to.
fn is_place_of_folder(path: &str) -> bool {
    matches!(
        *path.split('/').collect::<Vec<_>>(),
        ["pieces" | "theme" | "trade" | "words"] | ["pieces", _] | ["pieces", _, "photos" | "sealed"]
    )
}

/// Whether a folder of `pieces/` holds what was made from a piece: the packs beside its seals, which may be large,
/// and what a killed handover left. Nothing in them is read.
fn is_made(folder: &str) -> bool {
    match *folder.split('/').collect::<Vec<_>>() {
        ["pieces", _, "sealed", _, ..] => true,
        ["pieces", _, name, ..] => name.starts_with(".sealed."),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn workshop(files: &[&str]) -> tempfile::TempDir {
        let home = tempfile::tempdir().unwrap();
        for file in files {
            let path = home.path().join(file);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, "").unwrap();
        }
        home
    }

    #[track_caller]
    fn case(home: &tempfile::TempDir, paths: &[&str], faults: &[(&str, &str)]) {
        let (files, found) = list(home.path(), &crate::source::LOOKED_AT);
        assert_eq!(files.keys().collect::<Vec<_>>(), paths);
        let found: Vec<(&str, &str)> =
            found.iter().map(|(path, why)| (path.as_str(), why.as_str())).collect();
        assert_eq!(found.len(), faults.len(), "{found:?}");
        for ((path, why), (place, words)) in found.into_iter().zip(faults) {
            assert!(path == *place && why.starts_with(words), "{path}: {why}");
        }
    }

    #[test]
    fn packs_and_what_killed_handovers_left_are_not_looked_into() {
        let home = workshop(&[
            "workshop.toml",
            "pieces/a/record.toml",
            "pieces/a/sealed/001.toml",
            "pieces/a/sealed/a-001.zip",
            "pieces/a/sealed/a-001/data/record.toml",
            "pieces/a/.sealed.witnessmark-1-0/tree/001.toml",
            "pieces/sealed/photos/before.jpg",
            "theme/a/sealed/b/c.html",
            "written/index.html",
        ]);
        let paths = [
            "pieces/a/record.toml",
            "pieces/a/sealed/001.toml",
            "pieces/a/sealed/a-001.zip",
            "pieces/sealed/photos/before.jpg",
            "theme/a/sealed/b/c.html",
            "workshop.toml",
        ];
        case(&home, &paths, &[]);
    }

    #[cfg(unix)]
    #[test]
    fn links_in_place_of_folders_are_said_once_and_not_followed() {
        let home = workshop(&[
            "pieces/a/record.toml",
            "pieces/a/photos/x",
            "elsewhere/photos/a.jpg",
            "elsewhere/b/c",
        ]);
        let at = |path: &str| home.path().join(path);
        std::os::unix::fs::symlink(at("elsewhere"), at("theme")).unwrap();
        std::os::unix::fs::symlink(at("elsewhere"), at("pieces/b")).unwrap();
        std::os::unix::fs::symlink(at("elsewhere/b"), at("pieces/a/sealed")).unwrap();
        std::os::unix::fs::symlink(at("elsewhere/b/c"), at("pieces/a/photos/c.jpg")).unwrap();
        fs::create_dir_all(at("pieces/c")).unwrap();
        std::os::unix::fs::symlink(at("elsewhere/photos"), at("pieces/c/photos")).unwrap();
        let links = ["pieces/a/sealed", "pieces/b", "pieces/c/photos", "theme"];
        case(
            &home,
            &["pieces/a/photos/c.jpg", "pieces/a/photos/x", "pieces/a/record.toml"],
            &links.map(|link| (link, "is a link")),
        );
    }

    #[test]
    fn a_folder_of_very_many_files_is_not_looked_at_and_the_others_are() {
        let home = workshop(&["pieces/a/record.toml", "pieces/b/record.toml"]);
        let many = home.path().join("pieces/a/photos");
        fs::create_dir(&many).unwrap();
        for number in 0..=MOST_IN_FOLDER {
            fs::write(many.join(number.to_string()), "").unwrap();
        }
        let paths = ["pieces/a/record.toml", "pieces/b/record.toml"];
        case(&home, &paths, &[("pieces/a/photos", "folder holds more than 5000 files")]);
    }

    #[test]
    fn very_deep_folders_end_somewhere() {
        let deep = format!("pieces/a/{}x", "d/".repeat(300));
        let home = workshop(&[&deep, "pieces/a/record.toml"]);
        let place = format!("pieces/a/{}", ["d"; DEEPEST - 1].join("/"));
        case(&home, &["pieces/a/record.toml"], &[(&place, "folder lies more than")]);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn names_that_are_no_text_are_counted_and_letters_spelt_in_two_parts_are_put_together() {
        use std::os::unix::ffi::OsStrExt;
        let home = workshop(&["pieces/a/record.toml", "pieces/a/photos/after-fro\u{308}nt.jpg"]);
        for name in [&b"a\xff.jpg"[..], b"b\xff.jpg"] {
            fs::write(home.path().join("pieces/a/photos").join(std::ffi::OsStr::from_bytes(name)), "")
                .unwrap();
        }
        case(
            &home,
            &["pieces/a/photos/after-fr\u{f6}nt.jpg", "pieces/a/record.toml"],
            &[(
                "pieces/a/photos",
                "folder holds 2 files whose names are no Unicode text, such as `a\u{fffd}.jpg`",
            )],
        );
        fs::write(home.path().join("pieces/a/photos/after-fr\u{f6}nt.jpg"), "").unwrap();
        let faults = list(home.path(), &crate::source::LOOKED_AT).1;
        assert!(faults.iter().any(|(_, why)| why.starts_with("name is there twice")), "{faults:?}");
    }
}
