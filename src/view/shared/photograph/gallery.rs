//! The photographs that one reader sees, and where each has its place on the page.

use chrono::NaiveDate;

use super::pair::{PairView, laid, pair_pictures, pair_view};
use super::patch::patches;
use super::picture::{PhotoView, StageView, photo_view, picture_name, stage_word};
use super::sees::Sees;
use crate::derive::{PairFacts, Pairing, Photograph, PhotographFacts};
use crate::fields::Row;
use crate::photo;
use crate::record::{PhotoStage, Swatch};
use crate::view::context::PieceContext;

/// The photographs of a piece that one reader may see, as views.
pub(crate) struct Gallery<'a> {
    context: &'a PieceContext<'a>,
    /// Those that the reader may see, in the order of the work.
    shown: Vec<GalleryPhoto<'a>>,
}

/// A photograph that a reader sees.
struct GalleryPhoto<'a> {
    photograph: &'a Photograph,
    view: PhotoView,
}

impl<'a> Gallery<'a> {
    pub(crate) fn of(context: &'a PieceContext<'a>, sees: Sees) -> Gallery<'a> {
        let seen = context.photographs.all.iter().filter(|facts| sees.photograph(&facts.photograph));
        let shown = seen
            .map(|facts| GalleryPhoto { photograph: &facts.photograph, view: photo_view(context, facts) });
        Gallery { context, shown: shown.collect() }
    }

    /// The photograph that stands for the piece.
    pub(crate) fn cover(&self) -> Option<PhotoView> {
        let cover = self.covering()?;
        let mut view = cover.view.clone();
        // Its marks are explained once more where the photograph has its own place, and an id stands once on a page.
        if self.placed().contains(&cover.photograph.number) {
            view.marks.iter_mut().for_each(|mark| mark.id.clear());
        }
        // Of what marks lead to, findings alone have a place in the build record as it is read.
        view.marks.iter_mut().filter(|mark| mark.finding().is_none()).for_each(|mark| mark.anchor.clear());
        Some(view)
    }

    /// The photograph that stands for the piece, with what follows from it; `None` where it cannot be shown.
    pub(super) fn covered(&self) -> Option<(&PhotographFacts, &PhotoView)> {
        let number = self.covering()?.photograph.number;
        self.seen().find(|(facts, view)| facts.photograph.number == number && view.fault.is_empty())
    }

    /// Before and after of the same views.
    pub(crate) fn pairs(&self) -> Vec<PairView> {
        self.context.photographs.pairs.iter().filter_map(|pair| self.pair_of(pair)).collect()
    }

    /// The photographs that have no other place on the page, by stage.
    pub(crate) fn stages(&self) -> Vec<StageView> {
        let mut stages: Vec<(Option<PhotoStage>, Vec<PhotoView>)> = Vec::new();
        for shown in self.rest() {
            match stages.last_mut().filter(|(last, _)| *last == shown.photograph.stage) {
                Some((_, photographs)) => photographs.push(shown.view.clone()),
                None => stages.push((shown.photograph.stage, vec![shown.view.clone()])),
            }
        }
        let words = self.context.house.words();
        let view =
            |(stage, photographs)| StageView { stage: words.word("stage", stage_word(stage)), photographs };
        stages.into_iter().map(view).collect()
    }

    /// The photograph of a file.
    pub(crate) fn named(&self, file: &str) -> Option<&PhotoView> {
        Some(&self.file(file)?.view)
    }

    /// The photographs that were taken on a day by the camera's clock, without their marks.
    pub(crate) fn taken_on(&self, on: NaiveDate) -> Vec<PhotoView> {
        let taken = |facts: &PhotographFacts| facts.checked()?.header.taken.map(|taken| taken.date());
        let of_day = self.seen().filter(|(facts, _)| taken(facts) == Some(on));
        of_day.map(|(_, view)| PhotoView { marks: Vec::new(), ..view.clone() }).collect()
    }

    /// The photograph of a swatch with its patches outlined, for the first swatch that names it with its marks.
    pub(crate) fn measured(&self, swatch: &Row<Swatch>) -> Option<PhotoView> {
        let file: &str = &swatch.photo;
        let shown = self.file(file)?;
        let mut view = shown.view.clone();
        view.patches = patches(self.context.house.words(), swatch, view.width, view.height);
        let first = self.context.record.swatches.iter().find(|swatch| **swatch.photo == *file);
        if !first.is_some_and(|first| first.is(swatch)) || self.paired().contains(&shown.photograph.number) {
            view.marks.clear();
        }
        Some(view)
    }

    /// Every photograph that the reader sees, in the order of the work.
    pub(super) fn seen(&self) -> impl DoubleEndedIterator<Item = (&PhotographFacts, &PhotoView)> {
        let facts = |shown: &GalleryPhoto<'_>| {
            self.context
                .photographs
                .all
                .iter()
                .find(|facts| facts.photograph.number == shown.photograph.number)
        };
        self.shown.iter().filter_map(move |shown| Some((facts(shown)?, &shown.view)))
    }

    pub(super) fn context(&self) -> &'a PieceContext<'a> {
        self.context
    }

    /// The number of the photograph that stands for the piece.
    pub(super) fn cover_number(&self) -> Option<usize> {
        Some(self.covering()?.photograph.number)
    }

    /// The two photographs of a pair that the reader sees, laid onto each other where they were.
    pub(super) fn pair_of(&self, pair: &PairFacts) -> Option<PairView> {
        let view = |photograph: &Photograph| Some(&self.shown(photograph)?.view);
        let (before, after) = (view(&pair.pairing.before)?, view(&pair.pairing.after)?);
        Some(pair_view(self.context, pair, before, after))
    }

    /// The first colour match that was measured on a photograph.
    pub(super) fn swatch_on(&self, facts: &PhotographFacts) -> Option<&Row<Swatch>> {
        self.context.record.swatches.iter().find(|swatch| **swatch.photo == *facts.photograph.file)
    }

    /// The photograph that stands for the piece.
    fn covering(&self) -> Option<&GalleryPhoto<'a>> {
        let chosen = self.context.facts.photographs.cover.as_ref().and_then(|cover| self.shown(cover));
        chosen.or_else(|| self.shown.iter().find(|shown| shown.view.fault.is_empty()))
    }

    /// The numbers of photographs that have a place of their own on the page, apart from the cover's and the gallery.
    fn placed(&self) -> Vec<usize> {
        let swatches = self.context.record.swatches.iter().filter_map(|swatch| self.file(&swatch.photo));
        self.paired().into_iter().chain(swatches.map(|shown| shown.photograph.number)).collect()
    }

    /// The numbers of photographs that stand side by side as before and after. A pair that is laid onto each other shows
    /// a part of each photograph, changed and without its marks, so the whole ones have their places as if there were no
    /// pair.
    fn paired(&self) -> Vec<usize> {
        let whole = |pair: &&PairFacts| {
            let Pairing { before, after, .. } = &pair.pairing;
            laid(pair).is_none() && self.shown(before).is_some() && self.shown(after).is_some()
        };
        let pairs = self.context.photographs.pairs.iter().filter(whole);
        pairs.flat_map(|pair| [pair.pairing.before.number, pair.pairing.after.number]).collect()
    }

    /// Photographs that have no other place on the page, in the order of the work.
    fn rest(&self) -> impl Iterator<Item = &GalleryPhoto<'a>> {
        let mut elsewhere = self.placed();
        elsewhere.extend(self.covering().map(|shown| shown.photograph.number));
        self.shown.iter().filter(move |shown| !elsewhere.contains(&shown.photograph.number))
    }

    fn shown(&self, photograph: &Photograph) -> Option<&GalleryPhoto<'a>> {
        self.shown.iter().find(|shown| shown.photograph.number == photograph.number)
    }

    fn file(&self, file: &str) -> Option<&GalleryPhoto<'a>> {
        self.shown.iter().find(|shown| shown.photograph.file == file)
    }
}

/// The names of all developed pictures of a piece, as they stand in its `pictures/` folders.
pub fn all_pictures(context: &PieceContext<'_>) -> Vec<String> {
    pictures(context, Sees::Everything)
}

/// The names of those that are not for the archive alone.
pub fn public_pictures(context: &PieceContext<'_>) -> Vec<String> {
    pictures(context, Sees::Public)
}

fn pictures(context: &PieceContext<'_>, sees: Sees) -> Vec<String> {
    let widths = &context.house.widths;
    let seen =
        |pair: &&PairFacts| sees.photograph(&pair.pairing.before) && sees.photograph(&pair.pairing.after);
    let laid = context.photographs.pairs.iter().filter(seen).flat_map(|pair| pair_pictures(pair, widths));
    let photographs = context.photographs.all.iter().filter(|facts| sees.photograph(&facts.photograph));
    let pictures = photographs.flat_map(|facts| {
        let sizes = facts.size().map_or(Vec::new(), |(width, height)| photo::sizes(width, height, widths));
        sizes.into_iter().map(|(width, _)| picture_name(&facts.photograph, width))
    });
    pictures.chain(laid).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::photographed;

    const FILES: [&str; 6] = [
        "before-front.jpg",
        "after-front.jpg",
        "during-a.jpg",
        "hidden-inside.jpg",
        "hidden-back.jpg",
        "handover-home.jpg",
    ];

    fn stages(record: &str, sees: Sees) -> Vec<(String, usize)> {
        photographed(&FILES, record, |context| {
            let stages = Gallery::of(context, sees).stages();
            stages.into_iter().map(|stage| (stage.stage, stage.photographs.len())).collect()
        })
    }

    #[test]
    fn what_has_no_other_place_stands_by_stage() {
        // A view before and after is a pair, and stands as one.
        assert_eq!(
            stages("", Sees::Public),
            [("At work".to_owned(), 1), ("Now hidden".to_owned(), 2), ("At handover".to_owned(), 1)]
        );
    }

    #[test]
    fn private_photographs_are_for_the_archive_alone() {
        let private = "photo = [{ file = \"hidden-back.jpg\", private = true }]";
        let hidden = |sees| {
            let stages = stages(private, sees);
            stages.into_iter().find(|(stage, _)| stage == "Now hidden").map(|(_, photographs)| photographs)
        };
        assert_eq!((hidden(Sees::Public), hidden(Sees::Everything)), (Some(1), Some(2)));
    }
}
