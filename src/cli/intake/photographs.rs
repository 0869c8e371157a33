//! Photographs that are brought in from a folder: found, looked at, and put in the order they were taken.

use std::fs;
use std::path::{Path, PathBuf};

use crate::cli::Trouble;
use crate::intake::{Arrival, Passed, PhotoFolder, Shot};
use crate::photo::{self, Fault};
use crate::record::looks_like_photograph;
use crate::source::{FileFault, PlainFile, limit};

/// The most files of a folder that is handed in: twice what a camera puts into one.
pub(in crate::cli) const MOST_SHOTS: usize = 20_000;

/// A photograph of the folder that was handed in.
#[derive(Debug)]
pub(in crate::cli) struct Found {
    path: PathBuf,
    pub(in crate::cli) shot: Shot,
}

impl Found {
    /// Brings it into a piece's folder, unless it is there.
    ///
    /// # Errors
    /// [`Trouble`] where it cannot be written.
    pub(in crate::cli) fn bring(&self, folder: &mut PhotoFolder) -> Result<Arrival, Trouble> {
        let bytes = || PlainFile::open(&self.path)?.all(limit::PHOTOGRAPH);
        Ok(folder.take(&self.shot, bytes)?)
    }
}

/// Looks through a folder for photographs: those taken first come first, and those that do not say when come last.
///
/// # Errors
/// [`Trouble`] where the folder cannot be listed, or holds too many files.
pub(super) fn gather(folder: &Path) -> Result<(Vec<Found>, Vec<Passed>), Trouble> {
    let unreadable = |error: std::io::Error| Trouble::unread(folder, error.into());
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        if paths.len() == MOST_SHOTS {
            return Err(Trouble::TooMany(folder.to_owned()));
        }
        paths.push(entry.map_err(unreadable)?.path());
    }
    let (mut found, mut passed) = (Vec::new(), Vec::new());
    for path in paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        match looked_at(path, name) {
            Ok(photograph) => found.push(photograph),
            Err(left) => passed.push(left),
        }
    }
    let order = |Found { shot, .. }: &Found| (shot.taken.is_none(), shot.taken, shot.name.clone());
    found.sort_by_cached_key(order);
    passed.sort_by(|a, b| a.name.cmp(&b.name));
    Ok((found, passed))
}

/// One photograph that somebody named, who may have named a link.
///
/// # Errors
/// [`Trouble::NoPhotograph`] where it cannot be used.
pub(in crate::cli) fn one(path: &Path) -> Result<Found, Trouble> {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    looked_at(real, name).map_err(|left| Trouble::NoPhotograph { path: path.to_owned(), why: left.why })
}

/// Looks at one file: at its first bytes and its length before anything else, since a film has gigabytes.
fn looked_at(path: PathBuf, name: String) -> Result<Found, Passed> {
    let named_so = looks_like_photograph(&name);
    let left = |why: String, wanted| Passed { name: name.clone(), why, wanted };
    let unread = |fault: FileFault| match fault {
        FileFault::NotPlain("folder") => {
            left("a folder; only what lies in the folder itself is taken".to_owned(), false)
        }
        fault => left(format!("it {fault}; {}", fault.remedy()), named_so),
    };
    let unfit = |fault: Fault| {
        let wanted = named_so || !matches!(fault, Fault::NotAPhotograph | Fault::Empty);
        left(fault.to_string(), wanted)
    };
    let mut file = PlainFile::open(&path).map_err(unread)?;
    let first = file.first(photo::FIRST).map_err(unread)?;
    photo::sniff(&first).map_err(unfit)?;
    let bytes =
        file.rest(first, limit::PHOTOGRAPH).map_err(|fault| Passed { wanted: true, ..unread(fault) })?;
    let shot = Shot::of(name.clone(), &bytes).map_err(unfit)?;
    Ok(Found { path, shot })
}
