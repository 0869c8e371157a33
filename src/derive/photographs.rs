//! Photographs by convention: what a file's name says, and what the record adds.

use super::{Alignment, Unfit};
use crate::fields::{Landmark, Said};
use crate::photo::{Overlay, Tone};
use crate::record::{Mark, Pair, PhotoEntry, Piece, Record, Stage, looks_like_photograph};

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
    /// Before and after of one view: those that the record names, then those of equal views.
    pub pairs: Vec<Pairing>,
    /// The photograph that stands for the piece, as an index into `all`.
    pub cover: Option<usize>,
}

/// Before and after of one view.
#[derive(Debug, Clone, PartialEq)]
pub struct Pairing {
    /// The photograph before, as an index into all of them.
    pub before: usize,
    /// The photograph after.
    pub after: usize,
    /// The entry of the record, counted from 0, where it has one.
    pub entry: Option<usize>,
    /// How the one lies on the other; `None` without landmarks, and until the photographs have been opened.
    pub alignment: Option<Result<Alignment, Unfit>>,
    /// What was done about the light of the picture before; `None` until the two have been laid onto each other.
    pub tone: Option<Tone>,
}

impl Pairing {
    /// How the one photograph is to be laid onto the other, where that can be done.
    pub fn overlay(&self, record: &Record) -> Option<Overlay> {
        let alignment = self.alignment.as_ref()?.as_ref().ok()?;
        let said = self.entry.and_then(|entry| record.pairs[entry].match_tone.as_ref());
        Some(Overlay {
            before: alignment.before,
            after: alignment.after,
            map: alignment.map,
            crop: alignment.crop,
            piece: alignment.landmarks.clone(),
            match_tone: said.is_none_or(|said| said.value),
        })
    }
}

impl Photographs {
    /// Lays the pairs with landmarks onto each other; `size` gives the pixels of an upright photograph that can be read.
    pub fn align(&mut self, record: &Record, size: impl Fn(&str) -> Option<(u32, u32)>) {
        for pair in &mut self.pairs {
            let landmarks = pair.entry.map_or(&[][..], |entry| &record.pairs[entry].landmarks);
            if landmarks.is_empty() {
                continue;
            }
            let landmarks: Vec<Landmark> = landmarks.iter().map(|landmark| landmark.value).collect();
            let sizes = size(&self.all[pair.before].file).zip(size(&self.all[pair.after].file));
            pair.alignment =
                sizes.map(|(before, after)| Alignment::from_landmarks(&landmarks, before, after));
        }
    }

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
fn pairs(all: &[Photograph], record: &Record) -> Vec<Pairing> {
    let place = |file: &str| all.iter().position(|photograph| photograph.file == file);
    let named = |(entry, pair): (usize, &Said<Pair>)| {
        let (before, after) = (place(&pair.before)?, place(&pair.after)?);
        (before != after).then_some(Pairing {
            before,
            after,
            entry: Some(entry),
            alignment: None,
            tone: None,
        })
    };
    let mut pairs: Vec<Pairing> = record.pairs.iter().enumerate().filter_map(named).collect();
    for (before, photograph) in all.iter().enumerate() {
        let taken = pairs.iter().any(|pair| pair.before == before);
        if photograph.stage != Some(Stage::Before) || photograph.view.is_empty() || taken {
            continue;
        }
        let same_view =
            |other: &Photograph| other.stage == Some(Stage::After) && other.view == photograph.view;
        let after = all
            .iter()
            .enumerate()
            .position(|(index, other)| same_view(other) && !pairs.iter().any(|pair| pair.after == index));
        if let Some(after) = after {
            pairs.push(Pairing { before, after, entry: None, alignment: None, tone: None });
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
