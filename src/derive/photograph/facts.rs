//! Everything that follows from a piece's photographs once they have been opened.

use super::alignment::{Alignment, Unfit};
use super::listing::{Pairing, Photograph};
use super::opened::PhotographFacts;
use super::patch::{PatchFacts, patches};
use super::swatch::{SwatchFacts, swatches};
use crate::derive::finish::surface::SurfaceFacts;
use crate::fields::Landmark;
use crate::photo::{Overlay, Tone};
use crate::record::Record;

/// Before and after of one view, and how the one lies on the other.
#[derive(Debug, Clone, PartialEq)]
pub struct PairFacts {
    /// The pair.
    pub pairing: Pairing,
    /// How the one lies on the other; `None` without landmarks, or where one of the two could not be opened.
    pub alignment: Option<Result<Alignment, Unfit>>,
    /// What was done about the light of the picture before; `None` where the two were not laid onto each other.
    pub tone: Option<Tone>,
}

/// What follows from a piece's photographs.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PhotoFacts {
    /// Its photographs, in the order of the work.
    pub all: Vec<PhotographFacts>,
    /// Its pairs, in their order.
    pub pairs: Vec<PairFacts>,
    /// The colours that were measured, in the order of the record's swatches.
    pub swatches: Vec<SwatchFacts>,
    /// The patches on the parts that are there today, with their sizes, in the order of the record.
    pub patches: Vec<PatchFacts>,
}

impl PhotoFacts {
    /// Derives what is left to derive once the photographs were opened and the pairs laid onto each other.
    pub fn of(
        record: &Record,
        surfaces: &[SurfaceFacts],
        all: Vec<PhotographFacts>,
        pairs: Vec<PairFacts>,
    ) -> PhotoFacts {
        let patches = patches(record, &all);
        let mut facts = PhotoFacts { all, pairs, swatches: Vec::new(), patches };
        facts.swatches = swatches(record, surfaces, |file| facts.named(file)?.checked());
        facts
    }

    /// What follows from the photograph of this file name.
    pub fn named(&self, file: &str) -> Option<&PhotographFacts> {
        self.all.iter().find(|facts| facts.photograph.file == file)
    }
}

/// How a pair's photographs lie on each other; `size` gives the pixels of an upright photograph that could be opened.
///
/// `None` where the record names no landmarks, or one of the two could not be opened.
pub fn alignment(
    pairing: &Pairing,
    size: impl Fn(&Photograph) -> Option<(u32, u32)>,
) -> Option<Result<Alignment, Unfit>> {
    let entry = pairing.entry.as_ref().filter(|entry| !entry.landmarks.is_empty())?;
    let landmarks: Vec<Landmark> = entry.landmarks.iter().map(|landmark| landmark.value).collect();
    let (before, after) = (size(&pairing.before)?, size(&pairing.after)?);
    Some(Alignment::from_landmarks(&landmarks, before, after))
}

/// How the photograph before is to be laid onto the one after, where that can be done.
pub fn overlay(pairing: &Pairing, alignment: Option<&Result<Alignment, Unfit>>) -> Option<Overlay> {
    let alignment = alignment?.as_ref().ok()?;
    let said = pairing.entry.as_ref().and_then(|entry| entry.match_tone.as_ref());
    Some(Overlay {
        before: alignment.before,
        after: alignment.after,
        map: alignment.map,
        crop: alignment.crop,
        piece: alignment.landmarks.clone(),
        match_tone: said.is_none_or(|said| said.value),
    })
}
