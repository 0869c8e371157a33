//! Before and after of one view, laid onto each other where the record names points that show in both.

use serde::Serialize;

use super::picture::{PhotoView, PictureFile};
use crate::claim::{Value, says};
use crate::derive::{Alignment, PairFacts, Pairing};
use crate::photo::{self, Tone};
use crate::view::context::PieceContext;
use crate::words::Words;

/// Before and after of one view.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PairView {
    /// What it is a view of; may be empty.
    pub view: String,
    /// Before the work.
    pub before: PhotoView,
    /// After it.
    pub after: PhotoView,
    /// Whether the two coincide: both pictures are then of one size, and a place in one is the same place in the other.
    pub aligned: bool,
    /// Whether the picture before was brought to the light of the one after.
    pub tone_matched: bool,
    /// How they were laid onto each other, in sentences; empty where they were not.
    pub words: String,
}

/// Which of the two pictures of a pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PairEnd {
    /// Before the work.
    Before,
    /// After it.
    After,
}

/// The name of a picture of a pair that is laid onto each other: the pair's number, which of the two, width.
pub fn pair_picture_name(pair: &Pairing, end: PairEnd, width: u32) -> String {
    let end = match end {
        PairEnd::Before => "before",
        PairEnd::After => "after",
    };
    format!("pair-{:02}-{end}-{width}.jpg", pair.number)
}

/// How a pair lies, where its pictures were made.
pub(super) fn laid(pair: &PairFacts) -> Option<(&Alignment, Tone)> {
    pair.alignment.as_ref()?.as_ref().ok().zip(pair.tone)
}

/// The names of the pictures of a pair that is laid onto each other.
pub(super) fn pair_pictures(pair: &PairFacts, widths: &[u32]) -> Vec<String> {
    let sizes = laid(pair).map_or(Vec::new(), |(alignment, _)| sizes(alignment, widths));
    let names = |(width, _)| {
        [PairEnd::Before, PairEnd::After].map(|end| pair_picture_name(&pair.pairing, end, width))
    };
    sizes.into_iter().flat_map(names).collect()
}

fn sizes(alignment: &Alignment, widths: &[u32]) -> Vec<(u32, u32)> {
    photo::sizes(alignment.crop.width, alignment.crop.height, widths)
}

/// A pair from the views of its two photographs.
pub(super) fn pair_view(
    context: &PieceContext<'_>,
    pair: &PairFacts,
    before: &PhotoView,
    after: &PhotoView,
) -> PairView {
    let view = if after.view.is_empty() { before.view.clone() } else { after.view.clone() };
    let Some((alignment, tone)) = laid(pair) else {
        return PairView {
            view,
            before: before.clone(),
            after: after.clone(),
            aligned: false,
            tone_matched: false,
            words: String::new(),
        };
    };
    let sizes = sizes(alignment, &context.house.widths);
    let files = |end: PairEnd| {
        let file = |&(width, height): &(u32, u32)| PictureFile {
            src: format!("pictures/{}", pair_picture_name(&pair.pairing, end, width)),
            width,
            height,
        };
        sizes.iter().map(file).collect()
    };
    PairView {
        view,
        // Numbered marks belong to the whole photographs, which stand among the plates.
        before: PhotoView { marks: Vec::new(), ..before.clone() }.with_files(files(PairEnd::Before)),
        after: PhotoView { marks: Vec::new(), ..after.clone() }.with_files(files(PairEnd::After)),
        aligned: true,
        tone_matched: matches!(tone, Tone::Matched(_)),
        words: words(context.house.words(), alignment, tone),
    }
}

fn words(words: &Words, alignment: &Alignment, tone: Tone) -> String {
    let points = alignment.misses.len();
    let laid = match alignment.tested() {
        true => {
            let (miss, width) = (alignment.worst().1.ceil().max(1.0), alignment.after.0.to_string());
            says!("pair-laid-meeting", points = points, miss = Value::Number(miss, 0), width = width)
        }
        false => says!("pair-laid", points = points),
    };
    let tone = matches!(tone, Tone::Matched(_)).then(|| says!("pair-tone"));
    let said = [Some(laid), tone, Some(says!("pair-whole"))];
    words.say_all(said.into_iter().flatten())
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::derive::Photograph;
    use crate::fields::Landmark;
    use crate::photo::Light;
    use crate::unit::{Fraction, Point};

    fn alignment(places: &[[f64; 2]]) -> Alignment {
        let landmark = |[x, y]: &[f64; 2]| {
            let point =
                |slip: f64| Point { x: Fraction::new(x + slip).unwrap(), y: Fraction::new(*y).unwrap() };
            Landmark { before: point(0.0), after: point(if *x == 0.5 { 0.01 } else { 0.0 }) }
        };
        let landmarks: Vec<Landmark> = places.iter().map(landmark).collect();
        Alignment::from_landmarks(&landmarks, (800, 600), (800, 600)).unwrap()
    }

    const FOUR: [[f64; 2]; 4] = [[0.2, 0.2], [0.8, 0.2], [0.8, 0.8], [0.2, 0.8]];

    #[test]
    fn four_points_prove_nothing_about_themselves() {
        assert_eq!(
            words(&Words::with_currency("GBP"), &alignment(&FOUR), Tone::Off),
            "Laid onto each other at 4 points; what lies nearer or farther than these points meets less closely. \
             Both are cut to what both show. The whole photographs are among the plates."
        );
    }

    #[test]
    fn more_points_say_how_well_they_meet() {
        let five = [&FOUR[..], &[[0.5, 0.5]]].concat();
        let words = words(&Words::with_currency("GBP"), &alignment(&five), Tone::Matched(Light([1.1; 3])));
        assert!(words.starts_with("Laid onto each other at 5 points, which meet to within "), "{words}");
        assert!(words.contains(" pixels in 800;") && words.contains("Tone matched: "), "{words}");
    }

    #[test]
    fn a_name_tells_nothing_else() {
        let photograph = |number| {
            let (file, view) = ("an owner's name.jpg".to_owned(), String::new());
            let (stage, alt, caption, private, entry) = (None, None, None, false, None);
            Arc::new(Photograph { number, file, stage, view, alt, caption, private, entry })
        };
        let name = |number, end| {
            let pairing = Pairing { number, before: photograph(1), after: photograph(2), entry: None };
            pair_picture_name(&pairing, end, 480)
        };
        assert_eq!(name(1, PairEnd::Before), "pair-01-before-480.jpg");
        assert_eq!(name(12, PairEnd::After), "pair-12-after-480.jpg");
    }
}
