//! Photographs by convention: what a file's name says, and what the record adds.

use std::sync::Arc;

use crate::fields::Row;
use crate::record::{Mark, Pair, PhotoEntry, PhotoStage, Piece, Record, looks_like_photograph};
use crate::source::normal_form;

/// One photograph of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Photograph {
    /// Its number in the piece's order of photographs, counted from 1.
    pub number: usize,
    /// The file's name in `photos/`.
    pub file: String,
    /// When in the work it was taken; `None` where neither name nor record says.
    pub stage: Option<PhotoStage>,
    /// What it is a view of, in words; empty where nothing says.
    pub view: String,
    /// What it shows, for those who cannot see it.
    pub alt: Option<String>,
    /// Words under it.
    pub caption: Option<String>,
    /// For the archive alone.
    pub private: bool,
    /// The entry of the record, where it has one.
    pub entry: Option<Row<PhotoEntry>>,
}

impl Photograph {
    /// How little of the piece it shows, by the words of its view: nought for the whole of it.
    pub fn shows_little(&self) -> usize {
        shows(&self.view)
    }

    /// The marks that the record puts on it.
    pub fn marks(&self) -> &[Row<Mark>] {
        self.entry.as_ref().map_or(&[], |entry| &entry.marks)
    }
}

/// All photographs of a piece, and which of them show one view before and after.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Photographs {
    /// In the order of the work: by stage, then as the record lists them, then by name.
    pub all: Vec<Arc<Photograph>>,
    /// Before and after of one view: those that the record names, then those of equal views.
    pub pairs: Vec<Pairing>,
    /// The photograph that stands for the piece.
    pub cover: Option<Arc<Photograph>>,
}

/// Before and after of one view.
#[derive(Debug, Clone, PartialEq)]
pub struct Pairing {
    /// Its number among the pairs of the piece, counted from 1.
    pub number: usize,
    /// The photograph before.
    pub before: Arc<Photograph>,
    /// The photograph after.
    pub after: Arc<Photograph>,
    /// The entry of the record, where it has one.
    pub entry: Option<Row<Pair>>,
}

impl Photographs {
    /// The photograph of this file name, however its accents are stored.
    pub fn named(&self, file: &str) -> Option<&Arc<Photograph>> {
        let file = normal_form(file);
        self.all.iter().find(|photograph| photograph.file == file)
    }
}

/// What a file's name says: the stage before the first hyphen, and the view after it.
pub fn stage_and_view(file: &str) -> (Option<PhotoStage>, String) {
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let (first, rest) = stem.split_once(['-', '_', ' ']).unwrap_or((stem, ""));
    let stage = PhotoStage::ALL.iter().copied().find(|stage| stage.word() == first.to_lowercase());
    let words = if stage.is_some() { rest } else { stem };
    (stage, words.replace(['-', '_'], " ").split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Joins the files of a piece with the entries of its record.
pub(in crate::derive) fn photographs(piece: &Piece, record: &Record) -> Photographs {
    let files = piece.photos.iter().filter(|file| looks_like_photograph(file) && !file.contains('/'));
    let mut all: Vec<Photograph> = files.map(|file| photograph(file, record)).collect();
    all.sort_by(|a, b| {
        let key = |photograph: &Photograph| {
            // Entries are in the order of the file.
            let entry = photograph.entry.as_ref().map(|entry| entry.span.start);
            (photograph.stage.is_none(), photograph.stage, entry.is_none(), entry, photograph.file.clone())
        };
        key(a).cmp(&key(b))
    });
    let numbered = all.into_iter().zip(1..);
    let all: Vec<Arc<Photograph>> =
        numbered.map(|(photograph, number)| Arc::new(Photograph { number, ..photograph })).collect();
    let pairs = pairs(&all, piece, record);
    let cover = cover(&all, record);
    Photographs { all, pairs, cover }
}

/// A photograph before it has its number.
fn photograph(file: &str, record: &Record) -> Photograph {
    let entry = record.photos.iter().find(|entry| **entry.file == *file);
    let (stage, view) = stage_and_view(file);
    Photograph {
        number: 0,
        file: file.to_owned(),
        stage: entry.and_then(|said| said.stage.as_ref()).map(|stage| stage.value).or(stage),
        view: entry.and_then(|said| said.view.as_ref()).map_or(view, |view| view.to_string()),
        alt: entry.and_then(|said| said.alt.as_ref()).map(|alt| alt.to_string()),
        caption: entry.and_then(|said| said.caption.as_ref()).map(|caption| caption.to_string()),
        private: entry.and_then(|said| said.private.as_ref()).is_some_and(|private| private.value),
        entry: entry.cloned(),
    }
}

/// The pairs that the record names, then equal views before and after, in the order of the views before.
///
/// A picture that its set lends is of all pieces of the set, and no view of this one.
fn pairs(all: &[Arc<Photograph>], piece: &Piece, record: &Record) -> Vec<Pairing> {
    let named = |file: &str| all.iter().find(|photograph| photograph.file == file);
    let mut pairs: Vec<Pairing> = Vec::new();
    for entry in &record.pairs {
        if let (Some(before), Some(after)) = (named(&entry.before), named(&entry.after))
            && before.number != after.number
        {
            pairs.push(pairing(pairs.len() + 1, before, after, Some(entry)));
        }
    }
    for before in all.iter().filter(|one| one.stage == Some(PhotoStage::Before) && !one.view.is_empty()) {
        if pairs.iter().any(|pair| pair.before.number == before.number) {
            continue;
        }
        let lent = |photograph: &Photograph| piece.shares_photograph(&photograph.file);
        let same_view = |other: &Photograph| {
            other.stage == Some(PhotoStage::After) && other.view == before.view && lent(other) == lent(before)
        };
        let free = |other: &Photograph| !pairs.iter().any(|pair| pair.after.number == other.number);
        if let Some(after) = all.iter().find(|other| same_view(other) && free(other)) {
            pairs.push(pairing(pairs.len() + 1, before, after, None));
        }
    }
    pairs
}

fn pairing(
    number: usize,
    before: &Arc<Photograph>,
    after: &Arc<Photograph>,
    entry: Option<&Row<Pair>>,
) -> Pairing {
    Pairing { number, before: before.clone(), after: after.clone(), entry: entry.cloned() }
}

/// The words of a view that shows the whole piece, the best first, and what stands beside them. Source: common practice, no
/// source.
const WHOLE: [&str; 15] = [
    "whole", "overall", "front", "quarter", "quarters", "angle", "general", "full", "together", "closed",
    "open", "left", "right", "side", "top",
];
const BESIDE: [&str; 6] = ["three", "view", "of", "the", "from", "again"];

/// The record's cover, or the public photograph after the work that shows most of the piece, or of any stage.
fn cover(all: &[Arc<Photograph>], record: &Record) -> Option<Arc<Photograph>> {
    let named = record.cover.as_ref().and_then(|cover| all.iter().find(|one| *one.file == ***cover));
    let public = || all.iter().filter(|photograph| !photograph.private);
    let best = |stage: Option<PhotoStage>| {
        let of = public().filter(|photograph| stage.is_none() || photograph.stage == stage);
        of.min_by_key(|photograph| photograph.shows_little())
    };
    named
        .or_else(|| best(Some(PhotoStage::After)))
        .or_else(|| best(Some(PhotoStage::Handover)))
        .or_else(|| best(None))
        .cloned()
}

/// How little of the piece a view shows, by its words: `front` shows more than `foot`; a view without words comes between.
fn shows(view: &str) -> usize {
    let view = view.to_lowercase();
    let words: Vec<&str> = view.split_whitespace().filter(|word| word.parse::<u32>().is_err()).collect();
    // `front leg` is a leg.
    let whole = words.iter().all(|word| WHOLE.contains(word) || BESIDE.contains(word));
    match WHOLE.iter().position(|word| words.contains(word)) {
        Some(at) if whole => at,
        _ if words.is_empty() => WHOLE.len(),
        _ => WHOLE.len() + 1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(file: &str, stage: Option<PhotoStage>, view: &str) {
        assert_eq!(stage_and_view(file), (stage, view.to_owned()), "{file}");
    }

    #[test]
    fn the_whole_piece_stands_for_it_and_no_foot() {
        let mut views = ["foot", "3", "front leg", "back", "left 2", "front", "three quarter view", "whole"];
        views.sort_by_key(|view| shows(view));
        assert_eq!(views[..5], ["whole", "front", "three quarter view", "left 2", "3"]);
    }

    #[test]
    fn a_name_says_stage_and_view() {
        case("before-front.jpg", Some(PhotoStage::Before), "front");
        case("after-front-left.JPG", Some(PhotoStage::After), "front left");
        case("hidden.png", Some(PhotoStage::Hidden), "");
        case("IMG_2041.jpg", None, "IMG 2041");
        case("afternoon.jpg", None, "afternoon");
    }
}
