//! Photographs as a page shows them: sizes, words, marks and measured patches.

use serde::{Deserialize, Serialize};

use crate::claim::{Message, says};

use super::mark::{Canvas, MarkView};
use super::patch::PatchView;
use crate::derive::{Photograph, PhotographFacts};
use crate::photo;
use crate::record::{PhotoStage, Record};
use crate::unit::Point;
use crate::view::context::PieceContext;
use crate::words::{Words, sentence};

/// One developed size of a photograph.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PictureFile {
    /// Address, relative to the piece's own folder.
    pub src: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
}

/// One photograph on a page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotoView {
    /// Its number in the piece's order.
    pub number: usize,
    /// Developed sizes, widest first; empty where the photograph could not be read.
    pub files: Vec<PictureFile>,
    /// The `srcset` attribute, addresses relative to the piece's folder.
    pub srcset: String,
    /// The middle size, for browsers that know no `srcset`.
    pub src: String,
    /// Width of the widest size in pixels.
    pub width: u32,
    /// Height of the widest size in pixels.
    pub height: u32,
    /// Whether it is taller than wide.
    pub upright: bool,
    /// What it shows, for those who cannot see it; never empty.
    pub alt: String,
    /// Words under it; empty where there are none.
    pub caption: String,
    /// When in the work it was taken, in words.
    pub stage: String,
    /// What it is a view of; may be empty.
    pub view: String,
    /// Numbered marks, in the order of reading.
    pub marks: Vec<MarkView>,
    /// Measured patches, where the photograph stands for a colour match.
    pub patches: Vec<PatchView>,
    /// Why it cannot be shown; empty where it can.
    pub fault: String,
}

/// Photographs of one stage of the work.
#[derive(Debug, Clone, Serialize)]
pub struct StageView {
    /// The stage, in words.
    pub stage: String,
    /// Its photographs.
    pub photographs: Vec<PhotoView>,
}

/// The name of a developed picture: stage, number in the piece's order, width. It tells nothing else.
pub fn picture_name(photograph: &Photograph, width: u32) -> String {
    let stage = photograph.stage.map_or("photo", PhotoStage::word);
    format!("{stage}-{:02}-{width}.jpg", photograph.number)
}

/// A photograph with its sizes, words and marks.
pub(super) fn photo_view(context: &PieceContext<'_>, facts: &PhotographFacts) -> PhotoView {
    let words = context.house.words();
    let (record, widths) = (context.record, &context.house.widths);
    let photograph = &facts.photograph;
    let (files, fault) = match &facts.check {
        Some(Ok(checked)) => {
            (files(photograph, checked.header.width, checked.header.height, widths), String::new())
        }
        Some(Err(_)) => (Vec::new(), words.say(&says!("photograph-not-readable"))),
        None => (Vec::new(), words.say(&says!("photograph-not-found"))),
    };
    let (width, height) = size(&files);
    let alt = photograph.alt.clone().unwrap_or_else(|| unsaid(words, photograph, record));
    let view = PhotoView {
        number: photograph.number,
        files: Vec::new(),
        srcset: String::new(),
        src: String::new(),
        width,
        height,
        upright: false,
        alt,
        caption: photograph.caption.as_deref().map_or(String::new(), sentence),
        stage: words.word("stage", stage_word(photograph.stage)),
        view: photograph.view.clone(),
        marks: marks(context, facts, width, height),
        patches: Vec::new(),
        fault,
    };
    view.with_files(files)
}

impl PhotoView {
    /// Whether it shows the same photograph as another, whole or cut.
    pub(crate) fn shows(&self, other: &PhotoView) -> bool {
        self.number == other.number
    }

    /// The same photograph by other files.
    pub(super) fn with_files(self, files: Vec<PictureFile>) -> PhotoView {
        let (width, height) = size(&files);
        PhotoView {
            srcset: srcset(&files),
            src: middle(&files),
            width,
            height,
            upright: height > width,
            files,
            ..self
        }
    }
}

fn size(files: &[PictureFile]) -> (u32, u32) {
    files.first().map_or((4, 3), |file| (file.width, file.height))
}

fn srcset(files: &[PictureFile]) -> String {
    files.iter().map(|file| format!("{} {}w", file.src, file.width)).collect::<Vec<_>>().join(", ")
}

fn middle(files: &[PictureFile]) -> String {
    files.get(files.len() / 2).map_or(String::new(), |file| file.src.clone())
}

fn marks(context: &PieceContext<'_>, facts: &PhotographFacts, width: u32, height: u32) -> Vec<MarkView> {
    let pixels = |point: Point| (point.x.value() * f64::from(width), point.y.value() * f64::from(height));
    let canvas = Canvas { place: &pixels, radius: Canvas::radius(width, height) };
    facts.marks.iter().filter_map(|marked| canvas.mark(context, &facts.photograph, marked)).collect()
}

/// What can be said of a photograph for which the record has no alternative text.
fn unsaid(words: &Words, photograph: &Photograph, record: &Record) -> String {
    let (title, taken) = (record.title.0.as_str(), Message::word("taken", stage_word(photograph.stage)));
    words.say(&match photograph.view.as_str() {
        "" => says!("photograph-of", title = title, taken = taken),
        view => says!("photograph-of-view", title = title, taken = taken, view = view),
    })
}

/// The word of a stage in messages.
pub(super) fn stage_word(stage: Option<PhotoStage>) -> &'static str {
    stage.map_or("none", PhotoStage::word)
}

fn files(photograph: &Photograph, width: u32, height: u32, widths: &[u32]) -> Vec<PictureFile> {
    photo::sizes(width, height, widths)
        .into_iter()
        .map(|(width, height)| PictureFile {
            src: format!("pictures/{}", picture_name(photograph, width)),
            width,
            height,
        })
        .collect()
}
