//! What pages ask the archive while somebody types or picks: lines that have some words, and the recipes whose colour comes
//! nearest to a place on a photograph.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};

use chrono::NaiveDate;
use serde::Serialize;

use super::address::Address;
use super::shown::Shown;
use crate::archive::{
    self, Archive, ArchiveFault, Asking, ColourQuestion, FILE, MeasuredColour, RecipeStep, WordsAnswer,
};
use crate::derive::colour::Lab;
use crate::derive::swatch;
use crate::photo;
use crate::render::ARCHIVE;
use crate::source::open_database;
use crate::trade::Trade;
use crate::unit::{Fraction, Point, Rectangle};

/// How many pieces a search shows, and how many lines of each.
const SHOWN: (usize, usize) = (20, 4);

/// How many recipes are offered.
const OFFERED: usize = 4;

/// The archive as it was last written, opened once for each writing.
#[derive(Debug)]
pub(super) struct Written {
    place: PathBuf,
    opened: Mutex<Option<Opened>>,
}

#[derive(Debug)]
struct Opened {
    /// The turn in which it was written.
    turn: u64,
    archive: Archive,
    trade: Trade,
}

impl Written {
    /// The archive below the folder that papers are written to.
    pub(super) fn below(written: &Path) -> Written {
        Written { place: written.join(ARCHIVE).join(FILE), opened: Mutex::default() }
    }

    /// Asks it; `None` where nothing was written, or it cannot be read.
    fn ask<T>(
        &self,
        shown: &Shown,
        question: impl FnOnce(&Asking<'_>) -> Result<T, ArchiveFault>,
    ) -> Option<T> {
        let mut kept = self.opened.lock().unwrap_or_else(PoisonError::into_inner);
        let opened = match kept.take().filter(|opened| opened.turn == shown.written) {
            Some(opened) => opened,
            None => {
                let database = open_database(&self.place).ok()?;
                let archive = Archive::reading(database.connection, database.length).ok()?;
                let (trade, _) = Trade::with(&shown.sight.tree, None);
                Opened { turn: shown.written, archive, trade }
            }
        };
        // Neither question is about the day on which it is asked.
        let asking = Asking { archive: &opened.archive, trade: &opened.trade, today: NaiveDate::default() };
        let answer = question(&asking).ok();
        // One that could not answer is opened anew the next time.
        if answer.is_some() {
            *kept = Some(opened);
        }
        answer
    }

    /// The lines that have some words, by piece.
    pub(super) fn words(&self, shown: &Shown, typed: &str) -> Option<Found> {
        let (most, of_each) = SHOWN;
        self.ask(shown, |asking| {
            let leads = asking.leads()?;
            let WordsAnswer { pieces, more, hits, found, .. } =
                asking.words(typed, most * of_each, of_each)?;
            let all = !matches!(found, archive::Found::SomeWords | archive::Found::Nothing);
            let mut found = Found { all, pieces, more, hits: Vec::new() };
            for hit in hits {
                let line = FoundLine { sentence: hit.sentence, section: hit.section };
                match found.hits.last_mut().filter(|last| last.folder == hit.piece.folder) {
                    Some(last) => last.lines.push(line),
                    None => {
                        let (kind, page) = leads.get(&hit.piece.folder).cloned().unwrap_or_default();
                        let (title, number, folder) = (hit.piece.title, hit.piece.number, hit.piece.folder);
                        found.hits.push(FoundPiece { folder, title, number, kind, page, lines: vec![line] });
                    }
                }
            }
            found.hits.truncate(most);
            Ok(found)
        })
    }

    /// The recipes whose colour comes nearest to a place on a photograph of a piece, as the address asks.
    ///
    /// # Errors
    /// Why there are none, in words.
    pub(super) fn recipes(&self, shown: &Shown, address: &Address) -> Result<Vec<Near>, &'static str> {
        let asked = |name: &str| address.asked(name).unwrap_or_default();
        let (folder, file) = (asked("piece"), asked("photo"));
        let pieces = &shown.sight.pieces;
        let piece = pieces.iter().find(|piece| piece.folder == folder).ok_or("There is no such piece.")?;
        let known = piece.photographs.iter().find(|known| known.file == file);
        let known = known.ok_or("There is no such photograph.")?;
        let place = rectangle(asked("at")).ok_or("The frame does not lie on the photograph.")?;
        let grey = rectangle(asked("grey"));
        let bytes = shown.sight.tree.bytes(&known.path);
        let bytes = bytes.map_err(|_| "The photograph is gone.")?;
        let places: Vec<Rectangle> = std::iter::once(place).chain(grey).collect();
        let patches = photo::patches(&bytes, shown.sight.max_pixels, &places);
        let patches = patches.map_err(|_| "The photograph cannot be opened.")?;
        let card = patches.get(1).and_then(Option::as_ref);
        let wanted = patches.first().and_then(Option::as_ref);
        let wanted = wanted.and_then(|patch| swatch::read_colour(card, None, patch));
        let wanted = wanted.ok_or("The frame is too small to be measured.")?;
        let surface = asked("surface").parse().ok();
        let near = self.ask(shown, |asking| nearest(asking, folder, surface, wanted));
        near.ok_or("The archive was not written yet.")
    }
}

/// The colours that come nearest, those on the timber of the surface first.
fn nearest(
    asking: &Asking<'_>,
    folder: &str,
    surface: Option<i64>,
    wanted: (Lab, f64),
) -> Result<Vec<Near>, ArchiveFault> {
    let on = match (asking.piece(folder)?.ok(), surface) {
        (Some((piece, _)), Some(surface)) => asking.timber_below(piece, surface)?,
        _ => None,
    };
    let leads = asking.leads()?;
    let answer = asking.colour(ColourQuestion { wanted: Some(wanted), on, ..ColourQuestion::default() })?;
    let coloured = answer.measured.into_iter().filter(|colour| !colour.recipe.steps.is_empty());
    let near = |colour: MeasuredColour| {
        let MeasuredColour { recipe, difference, uncertainty, no, .. } = colour;
        let band = difference.and_then(|difference| asking.trade.colour.band(difference));
        Near {
            page: leads.get(&recipe.piece.folder).map_or_else(String::new, |(_, page)| page.clone()),
            title: recipe.piece.title,
            number: recipe.piece.number,
            swatch: no,
            difference: difference.unwrap_or_default(),
            uncertainty,
            band: band.map_or_else(String::new, |band| band.words.to_string()),
            timbers: recipe.timbers,
            steps: recipe.steps.into_iter().chain(recipe.over).map(Step::of).collect(),
        }
    };
    Ok(coloured.take(OFFERED).map(near).collect())
}

/// A place on a photograph, as an address has it.
fn rectangle(text: &str) -> Option<Rectangle> {
    let numbers: Option<Vec<Fraction>> =
        text.split(',').map(|number| Fraction::new(number.parse().ok()?)).collect();
    let [x, y, width, height]: [Fraction; 4] = numbers?.try_into().ok()?;
    Rectangle::new(Point { x, y }, width, height)
}

/// What has some words.
#[derive(Debug, Serialize)]
pub(super) struct Found {
    /// Whether lines have all of the words, and not merely some of them.
    all: bool,
    /// How many pieces there are, or were counted.
    pieces: usize,
    /// Whether there are more.
    more: bool,
    /// The likeliest of them.
    hits: Vec<FoundPiece>,
}

#[derive(Debug, Serialize)]
struct FoundPiece {
    #[serde(skip)]
    folder: String,
    title: String,
    number: String,
    kind: String,
    /// Its page, from the archive's folder.
    page: String,
    lines: Vec<FoundLine>,
}

#[derive(Debug, Serialize)]
struct FoundLine {
    section: String,
    /// What it says; what was found stands between two characters of private use.
    sentence: String,
}

/// A recipe whose colour comes near.
#[derive(Debug, Serialize)]
pub(super) struct Near {
    /// Its piece's page, from the archive's folder.
    page: String,
    title: String,
    number: String,
    /// The number of the swatch within the piece.
    swatch: usize,
    /// CIEDE2000, and how far it may be off.
    difference: f64,
    uncertainty: Option<f64>,
    /// What people see of it.
    band: String,
    timbers: String,
    /// The steps that colour it, and those that lie over it.
    steps: Vec<Step>,
}

#[derive(Debug, Serialize)]
struct Step {
    name: String,
    mix: String,
    coats: u32,
    means: String,
}

impl Step {
    fn of(step: RecipeStep) -> Step {
        let RecipeStep { name, mix, coats, means, .. } = step;
        Step { name, mix, coats: coats.unwrap_or(1), means: means.unwrap_or_default() }
    }
}

#[cfg(test)]
mod tests {
    use super::rectangle;

    #[test]
    fn a_place_is_four_fractions_within_the_photograph() {
        assert!(rectangle("0.1,0.2,0.3,0.4").is_some());
        for odd in ["", "0.1,0.2,0.3", "0.1,0.2,0.3,0.4,0.5", "a,b,c,d", "0,0,2,1", "NaN,0,1,1", "-1,0,1,1"] {
            assert!(rectangle(odd).is_none(), "{odd}");
        }
    }
}
