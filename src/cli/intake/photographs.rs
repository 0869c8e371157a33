//! Photographs on their way into a piece: in the order they were taken, each once.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use chrono::NaiveDateTime;

use crate::cli::Trouble;
use crate::derive::stage_and_view;
use crate::photo::{self, Fault, Format};
use crate::record::{PhotoStage, Piece, looks_like_photograph};
use crate::source::{FileFault, MOST_IN_FOLDER, PlainFile, Tree, limit, normal_form};
use crate::write::{self, fingerprint};

/// The most files of a folder that is handed in: twice what a camera puts into one.
pub(in crate::cli) const MOST_SHOTS: usize = 20_000;

/// A photograph of the folder that was handed in.
#[derive(Debug)]
pub(in crate::cli) struct Shot {
    path: PathBuf,
    /// Its name there.
    pub(in crate::cli) name: String,
    /// When it was taken, by the camera's clock.
    pub(super) taken: Option<NaiveDateTime>,
    print: String,
    length: u64,
    format: Format,
}

/// A file that stays where it is, and why.
#[derive(Debug)]
pub(in crate::cli) struct Passed {
    pub(super) name: String,
    pub(super) why: String,
    /// Whether it is, or seems to be, a photograph that was to be brought in.
    pub(super) wanted: bool,
}

/// What became of a photograph.
#[derive(Debug, PartialEq, Eq)]
pub(in crate::cli) enum Arrival {
    /// It is in the piece now, under this name.
    Copied(String),
    /// The piece has it already, under this name.
    There(String),
    /// It could be read a moment ago, and cannot any more.
    Lost(String),
}

/// Looks through a folder for photographs: those taken first come first, and those that do not say when come last.
///
/// # Errors
/// [`Trouble`] where the folder cannot be listed, or holds too many files.
pub(super) fn gather(folder: &Path) -> Result<(Vec<Shot>, Vec<Passed>), Trouble> {
    let unreadable = |error: std::io::Error| Trouble::unread(folder, error.into());
    let mut paths = Vec::new();
    for entry in fs::read_dir(folder).map_err(unreadable)? {
        if paths.len() == MOST_SHOTS {
            return Err(Trouble::TooMany(folder.to_owned()));
        }
        paths.push(entry.map_err(unreadable)?.path());
    }
    let (mut shots, mut passed) = (Vec::new(), Vec::new());
    for path in paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        match shot(path, name) {
            Ok(shot) => shots.push(shot),
            Err(left) => passed.push(left),
        }
    }
    shots.sort_by(|a, b| (a.taken.is_none(), a.taken, &a.name).cmp(&(b.taken.is_none(), b.taken, &b.name)));
    passed.sort_by(|a, b| a.name.cmp(&b.name));
    Ok((shots, passed))
}

/// One photograph that somebody named, who may have named a link.
///
/// # Errors
/// [`Trouble::NoPhotograph`] where it cannot be used.
pub(in crate::cli) fn one_shot(path: &Path) -> Result<Shot, Trouble> {
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    shot(real, name).map_err(|left| Trouble::NoPhotograph { path: path.to_owned(), why: left.why })
}

/// Looks at one file: at its first bytes and its length before anything else, since a film has gigabytes.
fn shot(path: PathBuf, name: String) -> Result<Shot, Passed> {
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
    // However many pixels: whether it can be used is for `inspect` to say.
    let header = photo::header(&bytes, u64::MAX).map_err(unfit)?;
    let (print, length) = (fingerprint(&bytes), bytes.len() as u64);
    Ok(Shot { path, name, taken: header.taken, print, length, format: header.format })
}

/// The photographs of a piece, by content, and where more of them go.
pub(in crate::cli) struct PhotoFolder {
    folder: PathBuf,
    /// The name of each photograph by its fingerprint.
    names: BTreeMap<String, String>,
    /// All names in small letters: some disks do not tell them from large ones.
    taken: BTreeSet<String>,
    next: usize,
    digits: usize,
    /// What names begin with that do not say when the photograph was taken.
    stage: PhotoStage,
}

impl PhotoFolder {
    /// A piece's `photos` folder, which is about to get some more; and which of its files could not be compared.
    ///
    /// # Errors
    /// [`Trouble::Full`] where it would hold more than is ever looked at.
    pub(in crate::cli) fn open(
        folder: PathBuf,
        piece: Option<(&Tree, &Piece)>,
        coming: &[Shot],
        stage: PhotoStage,
    ) -> Result<(PhotoFolder, Vec<Passed>), Trouble> {
        let (mut names, mut taken, mut passed) = (BTreeMap::new(), BTreeSet::new(), Vec::new());
        let mut next = 1;
        for (tree, piece, file) in
            piece.iter().flat_map(|(tree, piece)| piece.photos.iter().map(|file| (*tree, *piece, file)))
        {
            taken.insert(file.to_lowercase());
            next = next.max(numbered(file, stage).map_or(1, |number| number + 1));
            let path = piece.photo_path(file);
            // A file of another length is another file, and need not be read.
            let length = tree.identity(&path).map(|identity| identity.length);
            if !coming.iter().any(|shot| Some(shot.length) == length) {
                continue;
            }
            match tree.bytes(&path) {
                Ok(bytes) => _ = names.insert(fingerprint(&bytes), file.clone()),
                Err(fault) => passed.push(Passed {
                    name: path,
                    why: format!("cannot be compared with those that come: it {fault}; {}", fault.remedy()),
                    wanted: true,
                }),
            }
        }
        let new = coming.iter().filter(|shot| !names.contains_key(&shot.print)).count();
        if taken.len() + new > MOST_IN_FOLDER {
            return Err(Trouble::Full(folder));
        }
        // All numbers of one run have as many digits, so that they sort as they were taken.
        let digits = (next + coming.len()).saturating_sub(1).to_string().len().max(2);
        Ok((PhotoFolder { folder, names, taken, next, digits, stage }, passed))
    }

    /// Brings a photograph in, unless it is there.
    ///
    /// # Errors
    /// [`Trouble`] where it cannot be written.
    pub(in crate::cli) fn take(&mut self, shot: &Shot) -> Result<Arrival, Trouble> {
        if let Some(name) = self.names.get(&shot.print) {
            return Ok(Arrival::There(name.clone()));
        }
        let bytes = match PlainFile::open(&shot.path).and_then(|file| file.all(limit::PHOTOGRAPH)) {
            Ok(bytes) if fingerprint(&bytes) == shot.print => bytes,
            Ok(_) => return Ok(Arrival::Lost("it was changed meanwhile; bring it in once more".to_owned())),
            Err(fault) => return Ok(Arrival::Lost(format!("it {fault}; {}", fault.remedy()))),
        };
        let name = loop {
            let name = self.name(shot);
            self.taken.insert(name.to_lowercase());
            if write::add(&self.folder.join(&name), &bytes)? {
                break name;
            }
        };
        self.names.insert(shot.print.clone(), name.clone());
        Ok(Arrival::Copied(name))
    }

    /// A name for a photograph that is not taken yet.
    fn name(&mut self, shot: &Shot) -> String {
        let free = |name: &String| {
            !self.taken.contains(&name.to_lowercase())
                && fs::symlink_metadata(self.folder.join(name)).is_err()
        };
        if stage_and_view(&shot.name).0.is_some() {
            let name = normal_form(&shot.name);
            let (stem, ending) = name.rsplit_once('.').unwrap_or((&name, ""));
            let again = (2..).map(|number| format!("{stem}-{number}.{ending}"));
            return std::iter::once(name.clone()).chain(again).find(free).expect("some number is free");
        }
        let number = self.next;
        self.next += 1;
        format!("{}-{number:0width$}.{}", self.stage.word(), ending(shot), width = self.digits)
    }
}

/// The number of a file called `before-07.jpg`, where it is of this stage.
fn numbered(file: &str, stage: PhotoStage) -> Option<usize> {
    file.strip_prefix(stage.word())?.strip_prefix('-')?.split('.').next()?.parse().ok()
}

/// The ending of a photograph's name, where it says what the photograph is; else one that does.
fn ending(shot: &Shot) -> String {
    let right: &[&str] = match shot.format {
        Format::Jpeg => &["jpg", "jpeg", "jpe", "jfif"],
        Format::Png => &["png"],
        Format::WebP => &["webp"],
        Format::Tiff => &["tif", "tiff"],
        Format::Bmp => &["bmp"],
        Format::Gif => &["gif"],
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
            length: 0,
            format: Format::Jpeg,
        }
    }

    /// The folder of a piece with these photographs, before so many come.
    fn folder(home: &Path, files: &[&str], coming: usize) -> PhotoFolder {
        let record = ("pieces/a/record.toml".to_owned(), String::new());
        let photos = files.iter().map(|file| (format!("pieces/a/photos/{file}"), "x".to_owned()));
        let tree = Tree::of(photos.chain([record]));
        let piece = crate::record::read(&tree).0.pieces.remove(0);
        let shots: Vec<Shot> = (0..coming).map(|_| shot("IMG_1.JPG")).collect();
        PhotoFolder::open(home.to_owned(), Some((&tree, &piece)), &shots, PhotoStage::Before).unwrap().0
    }

    #[test]
    fn an_ending_is_kept_unless_it_lies() {
        let ends = ["a.JPG", "a.jpeg", "a.png", "a", "a.b.c"].map(|name| ending(&shot(name)));
        assert_eq!(ends, ["JPG", "jpeg", "jpg", "jpg", "jpg"]);
    }

    #[test]
    fn numbers_go_on_and_have_as_many_digits_as_the_last_needs() {
        let home = tempfile::tempdir().unwrap();
        let name = |coming| folder(home.path(), &["before-97.jpg"], coming).name(&shot("IMG_1.JPG"));
        assert_eq!(name(2), "before-98.JPG");
        assert_eq!(name(3), "before-098.JPG");
    }

    #[test]
    fn a_name_that_says_the_stage_is_kept_unless_it_is_taken_in_any_spelling() {
        let home = tempfile::tempdir().unwrap();
        let name = |files: &[&str], name: &str| folder(home.path(), files, 1).name(&shot(name));
        assert_eq!(name(&[], "after-front.jpg"), "after-front.jpg");
        assert_eq!(name(&["After-Front.JPG"], "after-front.jpg"), "after-front-2.jpg");
        assert_eq!(name(&["after-fr\u{f6}nt.jpg"], "after-fro\u{308}nt.jpg"), "after-fr\u{f6}nt-2.jpg");
        fs::write(home.path().join("after-front.jpg"), "another").unwrap();
        assert_eq!(name(&[], "after-front.jpg"), "after-front-2.jpg");
    }
}
