//! Photographs on their way into a piece: in the order they were taken, each once.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use chrono::NaiveDateTime;

use super::Unfit;
use crate::derive::stage_and_view;
use crate::photo::{self, Fault, Format};
use crate::record::{PhotoStage, Piece};
use crate::source::{FileFault, MOST_IN_FOLDER, Tree, normal_form};
use crate::write::{self, fingerprint};

/// A photograph that is about to come in.
#[derive(Debug)]
pub struct Shot {
    /// Its name where it comes from.
    pub name: String,
    /// When it was taken, by the camera's clock.
    pub taken: Option<NaiveDateTime>,
    print: String,
    length: u64,
    format: Format,
}

impl Shot {
    /// A photograph of this name and these bytes, however many pixels it has: whether it can be used is for `inspect`
    /// to say.
    ///
    /// # Errors
    /// Any [`Fault`] of its header.
    pub fn of(name: String, bytes: &[u8]) -> Result<Shot, Fault> {
        let header = photo::header(bytes, u64::MAX)?;
        let (print, length) = (fingerprint(bytes), bytes.len() as u64);
        Ok(Shot { name, taken: header.taken, print, length, format: header.format })
    }
}

/// A file that stays where it is, and why.
#[derive(Debug)]
pub struct Passed {
    /// Its name.
    pub name: String,
    /// Why.
    pub why: String,
    /// Whether it is, or seems to be, a photograph that was to be brought in.
    pub wanted: bool,
}

/// What became of a photograph.
#[derive(Debug, PartialEq, Eq)]
pub enum Arrival {
    /// It is in the piece now, under this name.
    Copied(String),
    /// The piece has it already, under this name.
    There(String),
    /// It could be read a moment ago, and cannot any more.
    Lost(String),
}

/// The photographs of a piece, by content, and where more of them go.
pub struct PhotoFolder {
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
    /// [`Unfit::Full`] where it would hold more than is ever looked at.
    pub fn open(
        folder: PathBuf,
        piece: Option<(&Tree, &Piece)>,
        coming: &[&Shot],
        stage: PhotoStage,
    ) -> Result<(PhotoFolder, Vec<Passed>), Unfit> {
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
            return Err(Unfit::Full(folder));
        }
        // All numbers of one run have as many digits, so that they sort as they were taken.
        let digits = (next + coming.len()).saturating_sub(1).to_string().len().max(2);
        Ok((PhotoFolder { folder, names, taken, next, digits, stage }, passed))
    }

    /// Brings a photograph in, unless it is there; its bytes are asked for only where they are needed.
    ///
    /// # Errors
    /// [`Unfit::Write`] where it cannot be written.
    pub fn take(
        &mut self,
        shot: &Shot,
        bytes: impl FnOnce() -> Result<Vec<u8>, FileFault>,
    ) -> Result<Arrival, Unfit> {
        if let Some(name) = self.names.get(&shot.print) {
            return Ok(Arrival::There(name.clone()));
        }
        let bytes = match bytes() {
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

    /// A name for a photograph that is not known to be taken.
    fn name(&mut self, shot: &Shot) -> String {
        let free = |name: &String| !self.taken.contains(&name.to_lowercase());
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
    use std::path::Path;

    use super::*;

    fn shot(name: &str) -> Shot {
        Shot { name: name.to_owned(), taken: None, print: fingerprint(b"x"), length: 0, format: Format::Jpeg }
    }

    /// The folder of a piece with these photographs, before so many come.
    fn folder(home: &Path, files: &[&str], coming: usize) -> PhotoFolder {
        let record = ("pieces/a/record.toml".to_owned(), String::new());
        let photos = files.iter().map(|file| (format!("pieces/a/photos/{file}"), "x".to_owned()));
        let tree = Tree::of(photos.chain([record]));
        let piece = crate::record::read(&tree).0.pieces.remove(0);
        let shots: Vec<Shot> = (0..coming).map(|_| shot("IMG_1.JPG")).collect();
        let shots: Vec<&Shot> = shots.iter().collect();
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
        std::fs::write(home.path().join("after-front.jpg"), "another").unwrap();
        let taken = folder(home.path(), &[], 1).take(&shot("after-front.jpg"), || Ok(b"x".to_vec()));
        assert_eq!(taken.unwrap(), Arrival::Copied("after-front-2.jpg".to_owned()));
        assert_eq!(std::fs::read(home.path().join("after-front.jpg")).unwrap(), b"another");
    }
}
