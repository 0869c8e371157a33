//! What there is to see at the moment.

use std::fmt;
use std::sync::Arc;

use chrono::NaiveDate;
use serde::Serialize;

use super::address::encoded;
use super::change::Change;
use super::desk::DESK;
use crate::derive::{NoArea, Pairing, PhotographFacts, Workpiece};
use crate::diag::Diagnostic;
use crate::photo;
use crate::record::{Mark, Piece, Record, Shape, Surface};
use crate::render::ARCHIVE;
use crate::source::{Sheets, Tree};
use crate::trade::Trade;
use crate::unit::{Area, Point};
use crate::view::{self, HouseStyle};
use crate::write::Secret;

/// What there is to see, since the latest turn: one reading of the workshop, and one writing where that was possible.
#[derive(Debug, Default, Clone)]
pub struct Shown {
    /// Counts the readings.
    pub turn: u64,
    /// The latest turn in which something was written; 0 where none did.
    pub written: u64,
    /// Whether something is left out because of a mistake, rather than merely doubtful.
    pub grave: bool,
    /// What the terminal says about it; empty where nothing is wrong.
    pub words: String,
    /// The last line of that, which sums up; empty where nothing is wrong.
    pub closing: String,
    /// The workshop as it was last read.
    pub sight: Arc<Sight>,
    /// The written files, with those that are about to be put in place.
    pub sheets: Sheets,
}

/// A workshop as it was read.
#[derive(Debug, Default)]
pub struct Sight {
    /// Its name and habits; `None` where they could not be read.
    pub house: Option<HouseStyle>,
    /// Its pieces.
    pub pieces: Vec<PieceShown>,
    /// The most pixels of a photograph that is opened.
    pub max_pixels: u64,
    /// Its folder.
    pub tree: Arc<Tree>,
    /// The tables of the trade, with its own rows laid over them.
    pub trade: Option<Arc<Trade>>,
    /// Whoever inspected it.
    pub judge: Judge,
}

/// Says what the inspection found of a piece, by its folder, when it is asked for.
#[derive(Default)]
pub struct Judge(Option<Box<Judging>>);

type Judging = dyn Fn(&str) -> Option<Judged> + Send + Sync;

impl Judge {
    /// One who says what this function does; `None` of a piece that is not known.
    pub fn by(judging: impl Fn(&str) -> Option<Judged> + Send + Sync + 'static) -> Judge {
        Judge(Some(Box::new(judging)))
    }

    /// What is said of a piece.
    pub(super) fn of(&self, folder: &str) -> Option<Judged> {
        self.0.as_ref()?(folder)
    }
}

impl fmt::Debug for Judge {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_tuple("Judge").field(&self.0.is_some()).finish()
    }
}

/// What the inspection said of a piece.
#[derive(Debug)]
pub struct Judged {
    /// The fingerprint of the record that was inspected.
    pub print: String,
    /// Whether it may be handed over.
    pub verdict: String,
    /// What keeps it, in the order of the command that says it.
    pub keeps: Vec<Todo>,
    /// What stands before what would help; empty where nothing does.
    pub besides: String,
    /// What would improve its papers most.
    pub helps: Vec<Todo>,
    /// What is wrong with its record.
    pub found: Vec<Diagnostic>,
}

/// Something that is to be done.
#[derive(Debug)]
pub struct Todo {
    /// What, without a full stop.
    pub say: String,
    /// What to write, as TOML to paste or the path of a file to add; empty where nothing is to be written.
    pub write: String,
}

impl Sight {
    /// The workshop's name; empty where it could not be read.
    pub(super) fn name(&self) -> &str {
        self.house.as_ref().map_or("", |house| &house.view().name)
    }

    /// What the papers would say of the size of each mark of a change; `None` for a mark that says nothing of it.
    pub(super) fn sizes(&self, piece: &PieceShown, change: &Change) -> Vec<Option<String>> {
        let Change::Marks { photo, marks } = change else { return Vec::new() };
        let known = piece.photographs.iter().find(|known| known.file == *photo && known.width > 0);
        let (Some(photograph), Some(house)) = (known, &self.house) else { return Vec::new() };
        let said = |area: Result<Area, NoArea>| match area {
            Ok(area) => house.area(area),
            Err(why) => format!("no size can be given: {why}; {}", why.cure()),
        };
        marks.iter().map(|mark| mark.area((photograph.width, photograph.height)).map(said)).collect()
    }
}

/// One piece, as the front page and the picker need it.
#[derive(Debug, Serialize)]
pub struct PieceShown {
    /// Its folder's name.
    pub folder: String,
    /// What it is; its folder where the record could not be read.
    pub title: String,
    /// The workshop's number for it; empty where the record could not be read.
    pub number: String,
    /// Below the front page, the address of its page in the archive, if that was written.
    pub archive: String,
    /// Below the front page, the address of its page in the showroom, if that was written.
    pub showroom: String,
    /// Below the front page, the address of its buyer's papers, if they were written.
    pub buyers: String,
    /// That its papers are from before a day; empty where they are of today.
    pub before: String,
    /// Its record, as a path from the workshop's root.
    pub record: String,
    /// Below the front page, the address of the record's page.
    pub desk: String,
    /// Whether the record could be read.
    pub readable: bool,
    /// Whether it is no piece, but what the pieces of a set share.
    pub is_set: bool,
    /// Whether it was sealed, so that changes of it are amendments.
    pub sealed: bool,
    /// Its photographs, in the order of the work.
    pub photographs: Vec<PhotographShown>,
    /// Before and after of one view, with the landmarks that the record has.
    pub pairs: Vec<PairShown>,
    /// Findings that a mark may point at.
    pub findings: Vec<Meant>,
    /// Parts that a mark may point at.
    pub parts: Vec<Meant>,
    /// Work that a mark may point at.
    pub works: Vec<Meant>,
    /// Surfaces that a swatch may be for; their ids are numbers counted from 1.
    pub surfaces: Vec<Meant>,
}

/// Papers of an earlier writing that stand because the record is mistaken now.
#[derive(Debug)]
pub struct PapersBefore {
    /// The piece's folder in the showroom and in the archive.
    pub slug: String,
    /// The folder of its buyer's papers, from the root of the written tree.
    pub buyers: String,
    /// That they are from before a day.
    pub words: String,
}

/// A photograph that can be picked on.
#[derive(Debug, Serialize)]
pub struct PhotographShown {
    /// The file's name.
    pub file: String,
    /// The file's path from the workshop's root.
    #[serde(skip)]
    pub path: String,
    /// Below the front page, the address of its large picture.
    pub address: String,
    /// Below the front page, the address of the picker with this photograph.
    pub picker: String,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Width of the upright photograph in pixels; 0 where it cannot be read.
    pub width: u32,
    /// Height of the upright photograph in pixels.
    pub height: u32,
    /// The day on which it was taken, by the camera's clock.
    pub taken: Option<NaiveDate>,
    /// Where its smallest picture stands in the written folder, where it was developed in the usual sizes.
    #[serde(skip)]
    pub small: String,
    /// Marks that it has already, each as its points.
    pub marks: Vec<Vec<[f64; 2]>>,
}

/// Two photographs of one view.
#[derive(Debug, Serialize)]
pub struct PairShown {
    /// The file before.
    pub before: String,
    /// The file after.
    pub after: String,
    /// The same points in both, as x and y before, then x and y after.
    pub landmarks: Vec<[f64; 4]>,
}

/// Something that can be pointed at.
#[derive(Debug, Serialize)]
pub struct Meant {
    /// Its id in the record.
    pub id: String,
    /// What it is.
    pub words: String,
}

impl PieceShown {
    /// What is shown of a piece; `workpiece` is what follows from its record, where that could be read, `before` are its
    /// papers of an earlier writing, where these stand, and `has` tells which files were written.
    pub fn of(
        piece: &Piece,
        workpiece: Option<&Workpiece>,
        before: Option<&PapersBefore>,
        secret: &Secret,
        has: impl Fn(&str) -> bool,
    ) -> PieceShown {
        let record = piece.record.as_deref();
        let page = |folder: &str| {
            if has(&format!("{folder}/index.html")) { format!("{folder}/index.html") } else { String::new() }
        };
        let (slug, buyers) = match before {
            Some(before) => (before.slug.clone(), before.buyers.clone()),
            None => {
                let slug = record.map_or_else(String::new, |record| view::slug(&record.number));
                let buyers = format!("buyers/{}", secret.folder(&slug, &piece.folder));
                (slug, buyers)
            }
        };
        let page_of = |tree: &str| page(&format!("{tree}/pieces/{slug}"));
        let photographs = workpiece.map_or(&[][..], |workpiece| &workpiece.photographs.all);
        let photographs = photographs.iter().map(|facts| PhotographShown::of(piece, &slug, facts));
        let pairs = workpiece.map_or(&[][..], |workpiece| &workpiece.facts.photographs.pairs);
        PieceShown {
            folder: piece.folder.clone(),
            title: record.map_or_else(|| piece.folder.clone(), |record| record.title.to_string()),
            number: record.map_or_else(String::new, |record| record.number.to_string()),
            archive: page_of("archive"),
            showroom: page_of("showroom"),
            buyers: page(&buyers),
            before: before.map_or_else(String::new, |before| before.words.clone()),
            record: piece.record_path(),
            desk: format!("{DESK}?piece={}", encoded(&piece.folder)),
            readable: record.is_some(),
            is_set: piece.is_set(),
            sealed: !piece.seals.is_empty(),
            photographs: photographs.collect(),
            pairs: pairs.iter().map(PairShown::of).collect(),
            findings: meant(record, |record| {
                record
                    .findings
                    .iter()
                    .map(|finding| (finding.id.0.clone(), finding.seen.to_string()))
                    .collect()
            }),
            parts: meant(record, |record| {
                record.parts.iter().map(|part| (part.id.0.clone(), part.name.to_string())).collect()
            }),
            works: meant(record, |record| {
                let works = record.works.iter();
                works.filter_map(|work| Some((work.id.as_ref()?.0.clone(), work.did.to_string()))).collect()
            }),
            surfaces: meant(record, |record| {
                record.surfaces.iter().zip(1..).map(|(surface, number)| named(surface, number)).collect()
            }),
        }
    }
}

impl PhotographShown {
    fn of(piece: &Piece, slug: &str, facts: &PhotographFacts) -> PhotographShown {
        let photograph = &facts.photograph;
        let (width, height) = facts.size().unwrap_or((0, 0));
        let named = format!("piece={}&photo={}", encoded(&piece.folder), encoded(&photograph.file));
        let smallest = photo::sizes(width, height, &view::WIDTHS).last().map(|(width, _)| *width);
        let name = smallest.map(|width| view::picture_name(photograph, width)).unwrap_or_default();
        PhotographShown {
            small: format!("{ARCHIVE}/pieces/{slug}/pictures/{name}"),
            file: photograph.file.clone(),
            path: piece.photo_path(&photograph.file),
            address: format!("viewing/photograph?{named}"),
            picker: format!("viewing/picker?{named}"),
            alt: photograph.alt.clone().unwrap_or_default(),
            width,
            height,
            taken: facts.checked().and_then(|checked| checked.header.taken).map(|taken| taken.date()),
            marks: photograph.marks().iter().map(|mark| points(mark)).collect(),
        }
    }
}

/// The points of a mark's shape.
pub(super) fn points(mark: &Mark) -> Vec<[f64; 2]> {
    let points: Vec<&Point> = match mark.shape() {
        Some(Shape::Point(point)) => vec![point],
        Some(Shape::Line(line)) => vec![&line.from, &line.to],
        Some(Shape::Area(outline)) => outline.0.iter().collect(),
        None => Vec::new(),
    };
    points.into_iter().map(|point| [point.x.value(), point.y.value()]).collect()
}

impl PairShown {
    fn of(pair: &Pairing) -> PairShown {
        let landmarks = pair.entry.as_ref().map_or(&[][..], |entry| &entry.landmarks);
        let numbers = landmarks.iter().map(|landmark| {
            [landmark.before.x, landmark.before.y, landmark.after.x, landmark.after.y]
                .map(|fraction| fraction.value())
        });
        PairShown {
            before: pair.before.file.clone(),
            after: pair.after.file.clone(),
            landmarks: numbers.collect(),
        }
    }
}

/// A surface by its number, counted from 1, with its name or its parts.
fn named(surface: &Surface, number: usize) -> (String, String) {
    let parts = || surface.parts.0.iter().map(|part| part.0.as_str()).collect::<Vec<_>>().join(", ");
    (number.to_string(), surface.name.as_ref().map_or_else(parts, |name| name.to_string()))
}

fn meant(record: Option<&Record>, of: impl Fn(&Record) -> Vec<(String, String)>) -> Vec<Meant> {
    record.map(of).into_iter().flatten().map(|(id, words)| Meant { id, words }).collect()
}
