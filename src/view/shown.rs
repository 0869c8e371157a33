//! Which photographs one reader sees, and where each has its place on the page.

use super::Source;
use super::pair::{PairView, laid, pair_view};
use super::picture::{PhotoView, StageView, patches, photo_view};
use crate::derive::{Pairing, Photograph};
use crate::record::Swatch;

/// Which photographs a reader may see.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sees {
    /// All but the private ones.
    Public,
    /// All.
    Everything,
}

impl Sees {
    pub(super) fn photograph(self, photograph: &Photograph) -> bool {
        self == Sees::Everything || !photograph.private
    }
}

/// The photographs of a piece that one reader may see, as views.
pub(super) struct Shown {
    views: Vec<Option<PhotoView>>,
}

impl Shown {
    pub(super) fn of(source: &Source<'_>, sees: Sees) -> Shown {
        let view = |(place, photograph): (usize, &Photograph)| {
            sees.photograph(photograph).then(|| photo_view(source, place))
        };
        Shown { views: source.facts.photographs.all.iter().enumerate().map(view).collect() }
    }

    /// The place of the photograph that stands for the piece.
    pub(super) fn covering(&self, source: &Source<'_>) -> Option<usize> {
        let chosen = source.facts.photographs.cover.filter(|cover| self.views[*cover].is_some());
        let sound = |view: &Option<PhotoView>| view.as_ref().is_some_and(|view| view.fault.is_empty());
        chosen.or_else(|| self.views.iter().position(sound))
    }

    /// Photographs that have a place of their own on the page, apart from the cover's and the gallery.
    fn placed(&self, source: &Source<'_>) -> Vec<usize> {
        let swatches = source.record.swatches.iter().filter_map(|swatch| self.place(source, &swatch.photo));
        self.paired(source).into_iter().chain(swatches).collect()
    }

    /// Photographs that stand side by side as before and after. A pair that is laid onto each other shows a part of
    /// each photograph, changed and without its marks, so the whole ones have their places as if there were no pair.
    fn paired(&self, source: &Source<'_>) -> Vec<usize> {
        let whole = |pair: &&Pairing| {
            laid(pair).is_none() && self.views[pair.before].is_some() && self.views[pair.after].is_some()
        };
        let pairs = source.facts.photographs.pairs.iter().filter(whole);
        pairs.flat_map(|pair| [pair.before, pair.after]).collect()
    }

    pub(super) fn cover(&self, source: &Source<'_>) -> Option<PhotoView> {
        let place = self.covering(source)?;
        let mut view = self.views[place].clone()?;
        // Its marks are explained once more where the photograph has its own place, and an id stands once on a page.
        if self.placed(source).contains(&place) {
            view.marks.iter_mut().for_each(|mark| mark.id.clear());
        }
        Some(view)
    }

    /// The photograph of a swatch with its patches outlined, for the first swatch that names it with its marks.
    pub(super) fn measured(&self, source: &Source<'_>, file: &str, swatch: &Swatch) -> Option<PhotoView> {
        let place = self.place(source, file)?;
        let mut view = self.views[place].clone()?;
        view.patches = patches(swatch, view.width, view.height);
        let first = source.record.swatches.iter().find(|swatch| **swatch.photo == *file);
        let first = first.is_some_and(|first| std::ptr::eq(&first.value, swatch));
        if !first || self.paired(source).contains(&place) {
            view.marks.clear();
        }
        Some(view)
    }

    pub(super) fn pairs(&self, source: &Source<'_>) -> Vec<PairView> {
        let pair = |(place, pair): (usize, &Pairing)| {
            let (before, after) = (self.views[pair.before].as_ref()?, self.views[pair.after].as_ref()?);
            Some(pair_view(source, place, pair, before, after))
        };
        source.facts.photographs.pairs.iter().enumerate().filter_map(pair).collect()
    }

    pub(super) fn gallery(&self, source: &Source<'_>) -> Vec<StageView> {
        let mut elsewhere = self.placed(source);
        elsewhere.extend(self.covering(source));
        let mut stages: Vec<StageView> = Vec::new();
        for (place, view) in self.views.iter().enumerate() {
            let Some(view) = view.as_ref().filter(|_| !elsewhere.contains(&place)) else { continue };
            match stages.last_mut().filter(|stage| stage.stage == view.stage) {
                Some(stage) => stage.photographs.push(view.clone()),
                None => stages.push(StageView { stage: view.stage.clone(), photographs: vec![view.clone()] }),
            }
        }
        stages
    }

    pub(super) fn named(&self, source: &Source<'_>, file: &str) -> Option<&PhotoView> {
        self.views[self.place(source, file)?].as_ref()
    }

    fn place(&self, source: &Source<'_>, file: &str) -> Option<usize> {
        source.facts.photographs.all.iter().position(|photograph| photograph.file == file)
    }
}
