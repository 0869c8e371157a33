//! A pack as somebody holds it, a folder or a zip, read without following a link or unpacking a file.

use std::fs;
use std::io::{self, BufReader};
use std::path::Path;

use super::{FileFault, PlainFile, slashed};
use crate::pack::{Contents, Problem, Reading, unzip};

/// Reads a pack. What is wrong with it is among the problems of its contents.
///
/// # Errors
/// Where there is nothing of that name, or the system will not hand it over.
pub fn pack(path: &Path) -> io::Result<Contents> {
    if path.is_dir() {
        return folder(path);
    }
    match PlainFile::named(path) {
        Ok(file) => Ok(unzip(BufReader::new(file.into_file()))),
        Err(FileFault::NotPlain(_)) => {
            Err(io::Error::new(io::ErrorKind::InvalidInput, "neither a folder nor a zip"))
        }
        Err(fault) => Err(fault.into()),
    }
}

fn folder(root: &Path) -> io::Result<Contents> {
    // That the folder itself cannot be listed is no fault of the pack.
    fs::read_dir(root)?;
    let mut reading = Reading::new();
    for entry in walkdir::WalkDir::new(root).min_depth(1).follow_links(false).sort_by_file_name() {
        let entry = match entry {
            Ok(entry) => entry,
            Err(error) => {
                let path = error.path().map_or_else(String::new, |path| below(root, path));
                reading.note(Problem::Unreadable { path, why: error.to_string() });
                continue;
            }
        };
        let path = below(root, entry.path());
        let kind = entry.file_type();
        if kind.is_dir() {
            continue;
        } else if kind.is_symlink() {
            reading.note(Problem::Link(path));
        } else if !kind.is_file() {
            // A pipe or a device may never end.
            reading.note(Problem::Strange(path));
        } else {
            let going_on = match PlainFile::open(entry.path()) {
                Ok(file) => reading.file(&path, file.into_file()),
                Err(fault) => {
                    reading.note(Problem::Unreadable { path, why: io::Error::from(fault).to_string() });
                    true
                }
            };
            if !going_on {
                break;
            }
        }
    }
    Ok(reading.finish())
}

fn below(root: &Path, path: &Path) -> String {
    slashed(path.strip_prefix(root).unwrap_or(path))
}
