//! Photographs on their way into a piece: in the order they were taken, each once.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;

use crate::cli::Trouble;
use crate::derive::stage_and_view;
use crate::photo::{self, Format};
use crate::write::{self, fingerprint};

/// A photograph of the folder that was handed in.
#[derive(Debug)]
pub(super) struct Shot {
    path: PathBuf,
    /// Its name there.
    pub(super) name: String,
    /// When it was taken, by the camera's clock.
    pub(super) taken: Option<NaiveDateTime>,
    print: String,
    format: Format,
}

/// A file that stays where it is, and why.
#[derive(Debug)]
pub(super) struct Passed {
    pub(super) name: String,
    pub(super) why: String,
}

/// What became of a photograph.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Arrival {
    /// It is in the piece now, under this name.
    Copied(String),
    /// The piece has it already, under this name.
    There(String),
}

/// Looks through a folder for photographs: those taken first come first, and those that do not say when come last.
///
/// # Errors
/// [`Trouble::Read`] where the folder cannot be listed.
pub(super) fn gather(folder: &Path) -> Result<(Vec<Shot>, Vec<Passed>), Trouble> {
    let unreadable = |source| Trouble::Read { path: folder.to_owned(), source };
    let (mut shots, mut passed) = (Vec::new(), Vec::new());
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        let path = entry.map_err(unreadable)?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        match shot(path, name.clone()) {
            Ok(shot) => shots.push(shot),
            Err(why) => passed.push(Passed { name, why }),
        }
    }
    shots.sort_by(|a, b| (a.taken.is_none(), a.taken, &a.name).cmp(&(b.taken.is_none(), b.taken, &b.name)));
    passed.sort_by(|a, b| a.name.cmp(&b.name));
    Ok((shots, passed))
}

fn shot(path: PathBuf, name: String) -> Result<Shot, String> {
    if path.is_dir() {
        return Err("a folder; only what lies in the folder itself is taken".to_owned());
    }
    let bytes = fs::read(&path).map_err(|error| format!("cannot be read: {error}"))?;
    // However large: whether it can be used is for `inspect` to say.
    let header = photo::header(&bytes, u64::MAX).map_err(|fault| fault.to_string())?;
    Ok(Shot { path, name, taken: header.taken, print: fingerprint(&bytes), format: header.format })
}

/// The photographs of a piece, by content, and where more of them go.
pub(super) struct PhotoFolder {
    folder: PathBuf,
    /// The name of each photograph by its fingerprint.
    names: BTreeMap<String, String>,
    next: usize,
    digits: usize,
}

impl PhotoFolder {
    /// A piece's `photos` folder, which holds these files and is about to get some more.
    ///
    /// # Errors
    /// [`Trouble::Read`] where one of the files cannot be read.
    pub(super) fn open(folder: PathBuf, files: &[String], coming: usize) -> Result<PhotoFolder, Trouble> {
        let mut names = BTreeMap::new();
        for file in files {
            let path = folder.join(file);
            let bytes = fs::read(&path).map_err(|source| Trouble::Read { path, source })?;
            names.insert(fingerprint(&bytes), file.clone());
        }
        let next = files.iter().filter_map(|file| numbered(file)).max().unwrap_or(0) + 1;
        // All numbers of one run have as many digits, so that they sort as they were taken.
        let digits = (next + coming).saturating_sub(1).to_string().len().max(2);
        Ok(PhotoFolder { folder, names, next, digits })
    }

    /// Brings a photograph in, unless it is there.
    ///
    /// # Errors
    /// [`Trouble`] where it cannot be read or written.
    pub(super) fn take(&mut self, shot: &Shot) -> Result<Arrival, Trouble> {
        if let Some(name) = self.names.get(&shot.print) {
            return Ok(Arrival::There(name.clone()));
        }
        let bytes =
            fs::read(&shot.path).map_err(|source| Trouble::Read { path: shot.path.clone(), source })?;
        let name = loop {
            let name = self.name(shot);
            if write::add(&self.folder.join(&name), &bytes)? {
                break name;
            }
        };
        self.names.insert(shot.print.clone(), name.clone());
        Ok(Arrival::Copied(name))
    }

    /// A name for a photograph that is not taken yet.
    fn name(&mut self, shot: &Shot) -> String {
        let free = |name: &String| fs::symlink_metadata(self.folder.join(name)).is_err();
        if stage_and_view(&shot.name).0.is_some() {
            let (stem, ending) = shot.name.rsplit_once('.').unwrap_or((&shot.name, ""));
            let again = (2..).map(|number| format!("{stem}-{number}.{ending}"));
            return std::iter::once(shot.name.clone()).chain(again).find(free).expect("some number is free");
        }
        let number = self.next;
        self.next += 1;
        format!("before-{number:0width$}.{}", ending(shot), width = self.digits)
    }
}

/// The number of a file called `before-07.jpg`.
fn numbered(file: &str) -> Option<usize> {
    file.strip_prefix("before-")?.split('.').next()?.parse().ok()
}

/// The ending of a photograph's name, where it says what the photograph is; else one that does.
fn ending(shot: &Shot) -> String {
    let right: &[&str] = match shot.format {
        Format::Jpeg => &["jpg", "jpeg", "jpe", "jfif"],
        Format::Png => &["png"],
        Format::WebP => &["webp"],
        Format::Tiff => &["tif", "tiff"],
        Format::Heic => &["heic", "heif", "hif"],
    };
    let own = shot.name.rsplit_once('.').map_or("", |(_, ending)| ending);
    if right.contains(&own.to_lowercase().as_str()) { own.to_owned() } else { right[0].to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shot(name: &str) -> Shot {
        Shot {
            path: PathBuf::new(),
            name: name.to_owned(),
            taken: None,
            print: String::new(),
            format: Format::Jpeg,
        }
    }

    #[test]
    fn an_ending_is_kept_unless_it_lies() {
        let ends = ["a.JPG", "a.jpeg", "a.png", "a", "a.b.c"].map(|name| ending(&shot(name)));
        assert_eq!(ends, ["JPG", "jpeg", "jpg", "jpg", "jpg"]);
    }

    #[test]
    fn numbers_go_on_and_have_as_many_digits_as_the_last_needs() {
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join("before-97.jpg"), "x").unwrap();
        let files = ["before-97.jpg".to_owned()];
        let mut few = PhotoFolder::open(home.path().to_owned(), &files, 2).unwrap();
        assert_eq!(few.name(&shot("IMG_1.JPG")), "before-98.JPG");
        let mut many = PhotoFolder::open(home.path().to_owned(), &files, 3).unwrap();
        assert_eq!(many.name(&shot("IMG_1.JPG")), "before-098.JPG");
    }

    #[test]
    fn a_name_that_says_the_stage_is_kept() {
        let home = tempfile::tempdir().unwrap();
        let mut folder = PhotoFolder::open(home.path().to_owned(), &[], 1).unwrap();
        assert_eq!(folder.name(&shot("after-front.jpg")), "after-front.jpg");
        fs::write(home.path().join("after-front.jpg"), "another").unwrap();
        assert_eq!(folder.name(&shot("after-front.jpg")), "after-front-2.jpg");
    }
}
