//! Pictures that are cut from the photographs a piece shows, to shapes that others prescribe: for sharing, and for posts.

use serde::{Deserialize, Serialize};

use super::gallery::Gallery;
use super::picture::PhotoView;
use super::sees::Sees;
use crate::derive::PhotographFacts;
use crate::photo::{Frame, Keep};
use crate::record::{PhotoStage, Shape};
use crate::view::context::PieceContext;

/// Where a link to a page shows a picture of it.
const SHARED: Frame = Frame { width: 1200, height: 630, quality: 82 };

/// The shapes of posts, by name.
const POSTED: [(&str, Frame); 2] = [
    ("square", Frame { width: 1080, height: 1080, quality: 84 }),
    ("upright", Frame { width: 1080, height: 1350, quality: 84 }),
];

/// How far around the outlined parts of a piece there is room, as a share of the picture.
const AROUND: f64 = 0.03;

/// The least share of a picture that outlined parts take up where they are taken for the piece.
const MOST_OF_IT: f64 = 0.2;

/// A picture to be cut from others.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// Its own name.
    pub name: String,
    /// The names of the pictures that it is cut from: one, or before and after.
    pub from: Vec<String>,
    /// Its shape.
    pub frame: Frame,
    /// What must stay in it, where that is known.
    pub keep: Option<Keep>,
    /// What it shows, for those who cannot see it.
    pub alt: String,
}

/// The picture that stands for a page where a link to it is shared.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct SharePicture {
    /// Its address, from the root of the showroom.
    pub path: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// What it shows.
    pub alt: String,
}

impl SharePicture {
    /// A cut picture that lies in a folder of the showroom.
    pub(crate) fn of(cut: &Cut, folder: &str) -> SharePicture {
        let Frame { width, height, .. } = cut.frame;
        SharePicture { path: format!("{folder}pictures/{}", cut.name), width, height, alt: cut.alt.clone() }
    }
}

impl Gallery<'_> {
    /// The picture for sharing: of the photograph that stands for the piece.
    pub(crate) fn share(&self) -> Option<Cut> {
        let (facts, view) = self.covered()?;
        let from = vec![widest(view)?];
        let name = "share.jpg".to_owned();
        Some(Cut { name, from, frame: SHARED, keep: keep(facts), alt: view.alt.clone() })
    }

    /// Pictures for posts: before, after, and both in one, each square and upright. The two of a pair that is laid onto each
    /// other are cut alike.
    pub(crate) fn posts(&self) -> Vec<Cut> {
        let sound = |view: &PhotoView| view.fault.is_empty();
        let pair = self.pairs().into_iter().find(|pair| sound(&pair.before) && sound(&pair.after));
        let at = |stage| {
            let mut seen =
                self.seen().filter(move |(facts, view)| facts.photograph.stage == Some(stage) && sound(view));
            seen.next().map(|(_, view)| view.clone())
        };
        let covered = || self.covered().map(|(_, view)| view.clone());
        let (before, after) = match pair {
            Some(pair) => (Some(pair.before), Some(pair.after)),
            None => (at(PhotoStage::Before), at(PhotoStage::After).or_else(covered)),
        };
        let both = before.clone().zip(after.clone()).map(|(before, after)| vec![before, after]);
        let wanted = [
            ("before", before.map(|view| vec![view])),
            ("after", after.map(|view| vec![view])),
            ("before-and-after", both),
        ];
        let mut cuts = Vec::new();
        for (what, views) in wanted {
            let Some(views) = views else { continue };
            let Some(from) = views.iter().map(widest).collect::<Option<Vec<String>>>() else { continue };
            let alt = views.iter().map(|view| view.alt.as_str()).collect::<Vec<_>>().join("; ");
            cuts.extend(POSTED.iter().map(|(shape, frame)| Cut {
                name: format!("{what}-{shape}.jpg"),
                from: from.clone(),
                frame: *frame,
                keep: None,
                alt: alt.clone(),
            }));
        }
        cuts
    }
}

/// The picture for sharing that is cut from what the public sees; `None` without a photograph.
pub fn share_cut(context: &PieceContext<'_>) -> Option<Cut> {
    Gallery::of(context, Sees::Public).share()
}

/// The pictures for posts, likewise, with the folder beside the piece's page in the archive that they lie in.
pub fn post_cuts(context: &PieceContext<'_>) -> Vec<Cut> {
    Gallery::of(context, Sees::Public).posts()
}

/// The name of a photograph's widest picture.
fn widest(view: &PhotoView) -> Option<String> {
    let name = view.files.first()?.src.rsplit('/').next()?;
    Some(name.to_owned())
}

/// Where on a photograph the outlined parts of the piece lie; `None` where they are none, or too small to be most of it.
fn keep(facts: &PhotographFacts) -> Option<Keep> {
    let outlines = facts.outlines.iter().filter_map(|mark| match mark.shape() {
        Some(Shape::Area(outline)) => Some(&outline.0),
        _ => None,
    });
    let points: Vec<(f64, f64)> =
        outlines.flatten().map(|point| (point.x.value(), point.y.value())).collect();
    let reach = |of: fn(&(f64, f64)) -> f64| {
        let from = points.iter().map(of).fold(f64::INFINITY, f64::min);
        let to = points.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        ((from - AROUND).max(0.0), (to + AROUND).min(1.0))
    };
    let keep = (!points.is_empty())
        .then(|| Keep { across: reach(|point| point.0), down: reach(|point| point.1) })?;
    let share = (keep.across.1 - keep.across.0) * (keep.down.1 - keep.down.0);
    (share >= MOST_OF_IT).then_some(keep)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::photographed;

    #[test]
    fn what_nobody_opened_or_nobody_may_see_is_cut_from_nothing() {
        let cuts = |record: &str| {
            photographed(&["before-front.jpg", "after-front.jpg"], record, |context| {
                let gallery = Gallery::of(context, Sees::Public);
                (gallery.share(), gallery.posts().len())
            })
        };
        assert_eq!(cuts(""), (None, 0));
        assert_eq!(cuts("photo = [{ file = \"after-front.jpg\", private = true }]"), (None, 0));
    }
}
