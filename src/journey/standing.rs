//! Papers that stand: what a writing leaves for the next one, which may find a record that it cannot read.
//!
//! A printed label leads to a buyer's folder for as long as the piece lives. So a mistake in a record takes no papers
//! away: those that were last written stay, with the piece's lines on the front pages, until the record is mended. The
//! papers of a sealed piece stay even when its folder is gone.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

use super::Error;
use crate::record::Piece;
use crate::render::{ARCHIVE, PieceEntries, SHOWROOM};
use crate::unit::legible::escaped_json;
use crate::view::archive;
use crate::words::Words;
use crate::write::Stage;

/// Where the papers of each piece are noted, in the tree that only the workshop sees.
const NOTES: &str = "archive/standing";

/// The folder of the buyers' papers.
const BUYERS: &str = "buyers";

/// The papers of one piece, as a writing put them in place.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct Standing {
    /// The piece's folder below `pieces/`.
    pub(super) folder: String,
    /// Its title and number.
    pub(super) title: String,
    /// Its folder in the showroom and in the archive.
    pub(super) slug: String,
    /// The folder of its buyer's papers.
    pub(super) buyers: String,
    /// Whether it is sealed.
    pub(super) sealed: bool,
    /// The first day on which they could not be written anew.
    pub(super) since: Option<NaiveDate>,
    /// What the front pages tell of it.
    pub(super) entries: PieceEntries,
}

/// Papers that stay as they were before a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stands {
    /// The piece's title and number.
    pub title: String,
    /// Its folder in the showroom and in the archive.
    pub slug: String,
    /// The folder of its buyer's papers, in the written tree.
    pub buyers: String,
    /// The first day on which they could not be written anew.
    pub since: NaiveDate,
}

impl Stands {
    /// That they are from before, in words.
    pub fn words(&self) -> String {
        archive::from_before(&Words::for_diagnostics(), self.since)
    }
}

impl Standing {
    /// Where these papers are noted.
    pub(super) fn path(&self) -> String {
        note(&self.buyers)
    }

    /// The note as a file.
    pub(super) fn bytes(&self) -> Vec<u8> {
        let json = serde_json::to_string(self).expect("text, numbers and dates are always JSON");
        format!("{}\n", escaped_json(&json)).into_bytes()
    }

    /// The notes of the old tree on papers that the new one does not have.
    pub(super) fn of_old(stage: &Stage) -> Vec<Standing> {
        let gone = |name: &String| !stage.has_within(&format!("{BUYERS}/{name}"));
        let gone: BTreeSet<String> = stage.names_before(BUYERS).into_iter().filter(gone).collect();
        gone.into_iter().filter_map(|name| Standing::before(stage, &format!("{BUYERS}/{name}"))).collect()
    }

    /// The note of the old tree on the papers in a buyer's folder.
    pub(super) fn before(stage: &Stage, buyers: &str) -> Option<Standing> {
        let standing: Standing = serde_json::from_slice(&stage.before(&note(buyers))?).ok()?;
        (standing.buyers == buyers).then_some(standing)
    }

    /// Takes these papers over as they are, and says so on the front pages; `None` where the new tree has other pages of
    /// this piece, which then are on the front pages.
    ///
    /// # Errors
    /// [`Error`] where the system refuses.
    pub(super) fn carry(
        mut self,
        stage: &Stage,
        piece: Option<&Piece>,
        words: &Words,
        today: NaiveDate,
    ) -> Result<(Stands, Option<PieceEntries>), Error> {
        let since = *self.since.get_or_insert(today);
        // Whoever takes a piece out of the showroom must not wait until the rest of its record is mended, nor see it come
        // back when less of the record can be read.
        if piece.and_then(|piece| piece.record.as_ref()?.publish.as_ref()).is_some_and(|said| !said.value) {
            self.entries.card = None;
        }
        stage.carry(&self.buyers)?;
        stage.put(&self.path(), &self.bytes())?;
        let stands =
            Stands { title: self.title.clone(), slug: self.slug.clone(), buyers: self.buyers.clone(), since };
        let page = |tree: &str| format!("{tree}/pieces/{}", self.slug);
        if stage.has_within(&page(ARCHIVE)) {
            return Ok((stands, None));
        }
        stage.carry(&page(ARCHIVE))?;
        if self.entries.card.is_some() {
            stage.carry(&page(SHOWROOM))?;
        }
        Ok((stands, Some(self.entries.from_before(words, since))))
    }
}

/// Where the papers in a buyer's folder are noted.
pub(super) fn note(buyers: &str) -> String {
    let name = buyers.strip_prefix(BUYERS).and_then(|rest| rest.strip_prefix('/')).unwrap_or(buyers);
    format!("{NOTES}/{name}.json")
}
