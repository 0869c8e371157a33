//! Plates: the photographs of the build record, numbered once for the piece, with the numbers of findings beside them.

use std::cmp::Reverse;

use serde::Serialize;

use super::gallery::Gallery;
use super::mark::{Canvas, MarkView};
use super::pair::{PairView, laid};
use super::patch::patches;
use super::picture::PhotoView;
use crate::derive::{PairFacts, PhotographFacts};
use crate::photo::{Crop, Homography, Tone};
use crate::record::PhotoStage;
use crate::unit::Point;
use crate::words;

/// A photograph among the plates.
#[derive(Debug, Clone, Serialize)]
pub struct PlateView {
    /// Its number.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// The photograph. Its marks have their outlines and lines; their numbers stand beside, as discs.
    pub photo: PhotoView,
    /// Numbers of findings, and letters for what else is marked, each beside its place.
    pub discs: Vec<DiscView>,
    /// What the letters stand for.
    pub notes: Vec<PlateNote>,
    /// Whether a printed record has room for it.
    pub printed: bool,
}

/// A number or a letter beside a photograph's place, and the place.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DiscView {
    /// The number of its finding, or a letter.
    pub label: String,
    /// The middle of the disc, from the left edge, in the pixels of the photograph's widest size.
    pub x: f64,
    /// The middle of the disc, from the top edge.
    pub y: f64,
    /// The place that it stands for, from the left edge.
    pub to_x: f64,
    /// The place that it stands for, from the top edge.
    pub to_y: f64,
    /// Radius of the disc.
    pub radius: f64,
    /// What it stands for, in words.
    pub text: String,
    /// The id of what says more on the same page; empty where nothing does.
    pub anchor: String,
}

/// What a letter stands for.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlateNote {
    /// The letter.
    pub letter: String,
    /// What is there, and how large it is.
    pub text: String,
}

/// The plates of one piece.
#[derive(Debug, Clone, Default)]
pub(crate) struct Plates {
    /// The photograph that stands for the piece, without marks.
    pub(crate) after: Option<PlateView>,
    /// The same view before.
    pub(crate) before: Option<PlateView>,
    /// Whether the one before was laid onto the other, and shown in its light.
    pub(crate) laid: Option<bool>,
    /// The others, in the order of the work.
    pub(crate) others: Vec<PlateView>,
}

/// The most plates that a printed record has room for beside the first two.
const MOST: usize = 6;

/// The marks of one photograph that a finding or a letter stands for.
struct Marked {
    discs: Vec<DiscView>,
    notes: Vec<PlateNote>,
}

impl Gallery<'_> {
    /// All photographs that can be shown; those that the story names come first where print has no room for all.
    pub(crate) fn plates(&self, story: &[String]) -> Plates {
        let cover = self.cover_number();
        let facts = |number: usize| self.seen().find(|(facts, _)| facts.photograph.number == number);
        let pairs = &self.context().photographs.pairs;
        let both = |pair: &&PairFacts| {
            let sound = |number| facts(number).is_some_and(|(_, view)| view.fault.is_empty());
            sound(pair.pairing.before.number) && sound(pair.pairing.after.number)
        };
        let pair = pairs.iter().filter(both).find(|pair| Some(pair.pairing.after.number) == cover);
        let pair = pair.or_else(|| pairs.iter().find(both));
        let mut plates = Plates::default();
        let mut used: Vec<usize> = Vec::new();
        match pair {
            Some(pair) => {
                used.extend([pair.pairing.before.number, pair.pairing.after.number]);
                let Some(PairView { before, after, .. }) = self.pair_of(pair) else { return plates };
                plates.laid = laid(pair).map(|(_, tone)| matches!(tone, Tone::Matched(_)));
                plates.after = Some(plain(1, after));
                plates.before = facts(pair.pairing.before.number).map(|(facts, _)| match laid(pair) {
                    Some((alignment, _)) => {
                        let view =
                            self.on_overlay(facts, before, &alignment.map, alignment.before, alignment.crop);
                        plate(2, view)
                    }
                    None => plate(2, before),
                });
            }
            None => {
                let after = cover.and_then(facts).filter(|(_, view)| view.fault.is_empty());
                plates.after = after.map(|(_, view)| plain(1, view.clone()));
                used.extend(after.map(|(facts, _)| facts.photograph.number));
                let earlier = self.seen().filter(|(facts, view)| {
                    view.fault.is_empty()
                        && facts.photograph.stage == Some(PhotoStage::Before)
                        && !used.contains(&facts.photograph.number)
                });
                // What shows most findings, and then most of the piece; of several alike the first.
                let before = earlier
                    .min_by_key(|(facts, view)| (Reverse(findings(view)), facts.photograph.shows_little()));
                if let (Some((facts, view)), true) = (before, plates.after.is_some()) {
                    used.push(facts.photograph.number);
                    plates.before = Some(plate(2, view.clone()));
                }
            }
        }
        let first = [&plates.after, &plates.before].into_iter().flatten().count() + 1;
        let rest: Vec<(&PhotographFacts, &PhotoView)> = self
            .seen()
            .filter(|(facts, view)| view.fault.is_empty() && !used.contains(&facts.photograph.number))
            .collect();
        let mut chosen: Vec<usize> = (0..rest.len()).collect();
        chosen.sort_by_key(|at| std::cmp::Reverse(self.tells(rest[*at], story)));
        chosen.truncate(MOST);
        // Those that are printed have their numbers first, so that print and page call them alike.
        let (printed, others): (Vec<usize>, Vec<usize>) = (0..rest.len()).partition(|at| chosen.contains(at));
        let numbered = printed.into_iter().chain(others).zip(first..);
        plates.others = numbered
            .map(|(at, number)| {
                let (facts, view) = rest[at];
                let mut view = view.clone();
                if let Some(swatch) = self.swatch_on(facts) {
                    view.patches = patches(self.context().house.words(), swatch, view.width, view.height);
                }
                PlateView { printed: chosen.contains(&at), ..plate(number, view) }
            })
            .collect();
        plates
    }

    /// How much a photograph tells that no other does.
    fn tells(&self, (facts, view): (&PhotographFacts, &PhotoView), story: &[String]) -> u8 {
        let photograph = &facts.photograph;
        let is = |other: usize| other == photograph.number;
        let paired = self.context().photographs.pairs.iter();
        let paired =
            paired.map(|pair| &pair.pairing).any(|pair| is(pair.before.number) || is(pair.after.number));
        match () {
            () if story.contains(&photograph.file) => 4,
            () if paired || self.swatch_on(facts).is_some() => 3,
            () if findings(view) > 0 => 2,
            () if matches!(photograph.stage, Some(PhotoStage::During | PhotoStage::Hidden)) => 2,
            () => 1,
        }
    }

    /// A photograph with its marks where they lie once it was laid onto another.
    fn on_overlay(
        &self,
        facts: &PhotographFacts,
        view: PhotoView,
        map: &Homography,
        (width, height): (u32, u32),
        crop: Crop,
    ) -> PhotoView {
        let scale = f64::from(view.width) / f64::from(crop.width);
        let off = (-1.0, -1.0);
        let place = |point: Point| {
            let from = [point.x.value() * f64::from(width), point.y.value() * f64::from(height)];
            map.apply(from)
                .map_or(off, |[x, y]| ((x - f64::from(crop.left)) * scale, (y - f64::from(crop.top)) * scale))
        };
        let canvas = Canvas { place: &place, radius: Canvas::radius(view.width, view.height) };
        let marks =
            facts.marks.iter().filter_map(|marked| canvas.mark(self.context(), &facts.photograph, marked));
        let (wide, high) = (f64::from(view.width), f64::from(view.height));
        // What was cut off has no place on it.
        let within = |mark: &MarkView| (0.0..=wide).contains(&mark.x) && (0.0..=high).contains(&mark.y);
        let marks = marks.filter(within).collect();
        PhotoView { marks, ..view }
    }
}

/// How many marks of a photograph show a finding.
fn findings(view: &PhotoView) -> usize {
    view.marks.iter().filter(|mark| mark.finding().is_some()).count()
}

/// A plate without marks.
fn plain(number: usize, photo: PhotoView) -> PlateView {
    plate(number, PhotoView { marks: Vec::new(), ..photo })
}

/// A plate with its marks as discs.
fn plate(number: usize, mut photo: PhotoView) -> PlateView {
    let Marked { discs, notes } = marked(&photo);
    // Outlines and lines are drawn; ids and lists of marks belong to pages that number them by themselves.
    photo.marks.retain(|mark| !(mark.path.is_empty() && mark.head.is_empty()));
    PlateView { number, anchor: format!("plate-{number}"), photo, discs, notes, printed: true }
}

fn marked(photo: &PhotoView) -> Marked {
    let places: Vec<(f64, f64)> = photo.marks.iter().map(|mark| (mark.x, mark.y)).collect();
    let beside = beside(&places, f64::from(photo.width), f64::from(photo.height));
    let (mut discs, mut notes): (Vec<DiscView>, Vec<PlateNote>) = (Vec::new(), Vec::new());
    for (mark, (x, y)) in photo.marks.iter().zip(beside) {
        let text = match mark.size.as_str() {
            "" => mark.text.clone(),
            size => format!("{}, {size}", mark.text),
        };
        let label = match mark.finding() {
            Some(number) => number.to_string(),
            None => {
                // What is said twice has one letter.
                let known = notes.iter().find(|note| note.text == text).map(|note| note.letter.clone());
                known.unwrap_or_else(|| {
                    let letter = words::letter(notes.len() + 1).to_lowercase();
                    notes.push(PlateNote { letter: letter.clone(), text: text.clone() });
                    letter
                })
            }
        };
        let (to_x, to_y) = (mark.x, mark.y);
        discs.push(DiscView {
            label,
            x,
            y,
            to_x,
            to_y,
            radius: mark.radius,
            text,
            anchor: mark.anchor.clone(),
        });
    }
    Marked { discs, notes }
}

/// Directions in which a disc may stand from its place, those that are tried first before the others.
const DIRECTIONS: [(f64, f64); 8] =
    [(0.8, -0.6), (-0.8, -0.6), (0.8, 0.6), (-0.8, 0.6), (0.0, -1.0), (0.0, 1.0), (1.0, 0.0), (-1.0, 0.0)];

/// How far a disc stands from its place, of the picture's width.
const LEADER: f64 = 0.075;

/// How near the picture's edge the middle of a disc may come, of the picture's width.
const EDGE: f64 = 0.04;

/// Where the discs of these places stand: each beside its place, within the picture, and as clear of the other places and
/// discs as can be.
fn beside(places: &[(f64, f64)], width: f64, height: f64) -> Vec<(f64, f64)> {
    let (away, edge) = (LEADER * width, EDGE * width);
    let mut discs: Vec<(f64, f64)> = Vec::new();
    for (at, (x, y)) in places.iter().enumerate() {
        // A long leader is taken where no short one is clear.
        let spots: Vec<(f64, f64)> = [away, 1.8 * away]
            .into_iter()
            .flat_map(|far| DIRECTIONS.map(|(across, down)| (x + across * far, y + down * far)))
            .collect();
        let clear = |(u, v): (f64, f64)| {
            let within = (edge..=width - edge).contains(&u) && (edge..=height - edge).contains(&v);
            let others = places.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, place)| place);
            let nearest =
                others.chain(&discs).map(|(p, q)| libm::hypot(p - u, q - v)).fold(f64::MAX, f64::min);
            // Beyond a leader's length nothing is in the way.
            (within, nearest.min(0.9 * away))
        };
        let mut best = (spots[0], clear(spots[0]));
        for spot in &spots[1..] {
            let found = clear(*spot);
            if found.0 && !best.1.0 || found.0 == best.1.0 && found.1 > best.1.1 {
                best = (*spot, found);
            }
        }
        let (u, v) = best.0;
        discs.push((u.clamp(0.0, width).round(), v.clamp(0.0, height).round()));
    }
    discs
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_disc_in_a_corner_stays_in_the_picture_and_clear_of_its_neighbour() {
        let discs = beside(&[(0.0, 0.0), (1000.0, 750.0), (990.0, 740.0)], 1000.0, 750.0);
        assert_eq!(discs[0], (60.0, 45.0));
        assert!(libm::hypot(discs[1].0 - discs[2].0, discs[1].1 - discs[2].1) > 40.0, "{discs:?}");
    }

    proptest! {
        #[test]
        fn every_disc_stands_in_its_picture(
            places in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 0..30), wide in 1.0..4000.0_f64, high in 1.0..4000.0_f64
        ) {
            let places: Vec<(f64, f64)> = places.iter().map(|(x, y)| (x * wide, y * high)).collect();
            let discs = beside(&places, wide, high);
            prop_assert_eq!(discs.len(), places.len());
            for (x, y) in discs {
                prop_assert!((-0.5..=wide + 0.5).contains(&x) && (-0.5..=high + 0.5).contains(&y));
            }
        }
    }
}
