//! Photographs by convention: what a file's name says, and what the record adds.

use crate::fields::Said;
use crate::record::{Mark, PhotoEntry, Piece, Record, Stage, looks_like_photograph};

/// One photograph of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Photograph {
    /// The file's name in `photos/`.
    pub file: String,
    /// When in the work it was taken; `None` where neither name nor record says.
    pub stage: Option<Stage>,
    /// What it is a view of, in words; empty where nothing says.
    pub view: String,
    /// What it shows, for those who cannot see it.
    pub alt: Option<String>,
    /// Words under it.
    pub caption: Option<String>,
    /// For the archive alone.
    pub private: bool,
    /// The entry of the record, counted from 0, where it has one.
    pub entry: Option<usize>,
}

impl Photograph {
    /// The marks that the record puts on it.
    pub fn marks<'a>(&self, record: &'a Record) -> &'a [Said<Mark>] {
        self.entry.map_or(&[], |entry| &record.photos[entry].marks)
    }
}

/// All photographs of a piece, and which of them show one view before and after.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Photographs {
    /// In the order of the work: by stage, then as the record lists them, then by name.
    pub all: Vec<Photograph>,
    /// Indices into `all`, before and after.
    pub pairs: Vec<(usize, usize)>,
    /// The photograph that stands for the piece, as an index into `all`.
    pub cover: Option<usize>,
}

impl Photographs {
    /// The photograph of this file name.
    pub fn named(&self, file: &str) -> Option<&Photograph> {
        self.all.iter().find(|photograph| photograph.file == file)
    }
}

/// What a file's name says: the stage before the first hyphen, and the view after it.
pub fn stage_and_view(file: &str) -> (Option<Stage>, String) {
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let (first, rest) = stem.split_once(['-', '_', ' ']).unwrap_or((stem, ""));
    let stage = Stage::ALL.iter().copied().find(|stage| stage.word() == first.to_lowercase());
    let words = if stage.is_some() { rest } else { stem };
    (stage, words.replace(['-', '_'], " ").split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Joins the files of a piece with the entries of its record.
pub(super) fn photographs(piece: &Piece, record: &Record) -> Photographs {
    let mut all: Vec<Photograph> = piece
        .photos
        .iter()
        .filter(|file| looks_like_photograph(file) && !file.contains('/'))
        .map(|file| photograph(file, record))
        .collect();
    all.sort_by(|a, b| {
        let key = |p: &Photograph| (p.stage.is_none(), p.stage, p.entry.is_none(), p.entry, p.file.clone());
        key(a).cmp(&key(b))
    });
    let pairs = pairs(&all, record);
    let cover = cover(&all, record);
    Photographs { all, pairs, cover }
}

fn photograph(file: &str, record: &Record) -> Photograph {
    let entry = record.photos.iter().position(|entry| **entry.file == *file);
    let said: Option<&PhotoEntry> = entry.map(|entry| &record.photos[entry].value);
    let (stage, view) = stage_and_view(file);
    Photograph {
        file: file.to_owned(),
        stage: said.and_then(|said| said.stage.as_ref()).map(|stage| stage.value).or(stage),
        view: said.and_then(|said| said.view.as_ref()).map_or(view, |view| view.to_string()),
        alt: said.and_then(|said| said.alt.as_ref()).map(|alt| alt.to_string()),
        caption: said.and_then(|said| said.caption.as_ref()).map(|caption| caption.to_string()),
        private: said.and_then(|said| said.private.as_ref()).is_some_and(|private| private.value),
        entry,
    }
}

/// The pairs that the record names, then equal views before and after, in the order of the views before.
fn pairs(all: &[Photograph], record: &Record) -> Vec<(usize, usize)> {
    let place = |file: &str| all.iter().position(|photograph| photograph.file == file);
    let mut pairs: Vec<(usize, usize)> =
        record.pairs.iter().filter_map(|pair| Some((place(&pair.before)?, place(&pair.after)?))).collect();
    for (before, photograph) in all.iter().enumerate() {
        let taken = pairs.iter().any(|(taken, _)| *taken == before);
        if photograph.stage != Some(Stage::Before) || photograph.view.is_empty() || taken {
            continue;
        }
        let same_view =
            |other: &Photograph| other.stage == Some(Stage::After) && other.view == photograph.view;
        let after = all
            .iter()
            .enumerate()
            .position(|(index, other)| same_view(other) && !pairs.iter().any(|(_, taken)| *taken == index));
        if let Some(after) = after {
            pairs.push((before, after));
        }
    }
    pairs
}

/// The record's cover, or the first public photograph after the work, or the first of any.
fn cover(all: &[Photograph], record: &Record) -> Option<usize> {
    let named = record
        .cover
        .as_ref()
        .and_then(|cover| all.iter().position(|photograph| *photograph.file == ***cover));
    let public = |photograph: &&Photograph| !photograph.private;
    let of = |stage: Stage| {
        all.iter().position(|photograph| photograph.stage == Some(stage) && public(&photograph))
    };
    named
        .or_else(|| of(Stage::After))
        .or_else(|| of(Stage::Handover))
        .or_else(|| all.iter().position(|photograph| public(&photograph)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(file: &str, stage: Option<Stage>, view: &str) {
        assert_eq!(stage_and_view(file), (stage, view.to_owned()), "{file}");
    }

    #[test]
    fn a_name_says_stage_and_view() {
        case("before-front.jpg", Some(Stage::Before), "front");
        case("after-front-left.JPG", Some(Stage::After), "front left");
        case("hidden.png", Some(Stage::Hidden), "");
        case("IMG_2041.jpg", None, "IMG 2041");
        case("afternoon.jpg", None, "afternoon");
    }
}
