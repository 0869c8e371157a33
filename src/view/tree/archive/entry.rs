//! What the archive's pages tell of one piece by its own page: its row in the list, with a picture.

use chrono::{Datelike, NaiveDate};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::ledger::spent_words;
use super::linked::linked;
use super::piece::ArchivePiece;
use crate::claim::says;
use crate::derive::OfferState;
use crate::unit::edtf::Bound;
use crate::unit::{Edtf, Hours, Money};
use crate::view::context::PieceContext;
use crate::view::shared::identity;
use crate::view::shared::photograph::{Gallery, Sees};
use crate::words::Words;

/// One piece in the lists of the archive. Numbers stand beside their words so that a list can be sorted, and words by
/// themselves beside those that are listed so that it can be filtered.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct ArchiveRow {
    /// Address of its page, from the archive's root.
    pub href: String,
    /// Folder of its pictures, from there, with a slash at its end.
    pub folder: String,
    /// The workshop's number for it.
    pub number: String,
    /// What it is.
    pub title: String,
    /// Type of piece.
    pub kind: String,
    /// The first level of its kind.
    pub sort: String,
    /// Years of making.
    pub made: String,
    /// The earliest year of making; empty where not known.
    pub made_key: String,
    /// The year in which it left, or else was last worked on; empty where no day says.
    pub year: String,
    /// The day of that, as sorted.
    pub last: String,
    /// Timbers, listed.
    pub timbers: String,
    /// Each timber.
    pub timber_words: Vec<String>,
    /// Finishes laid, listed.
    pub finishes: String,
    /// Each finish.
    pub finish_words: Vec<String>,
    /// Hours; may be empty.
    pub hours: String,
    /// Hours as a bare number; may be empty.
    pub hours_key: String,
    /// What was spent.
    pub spent: String,
    /// The same as a bare number.
    pub spent_key: String,
    /// What each hour earned, or would at the price asked; empty where that is not known.
    pub earned: String,
    /// The same as a bare number.
    pub earned_key: String,
    /// Found, at work, open questions, handed over.
    pub state: String,
    /// The same without its day.
    pub state_word: String,
    /// How many things are open.
    pub open: usize,
    /// How many pieces of work failed.
    pub failures: usize,
    /// A small picture of it.
    pub thumb: Option<Thumb>,
    /// That its papers are from before a day; empty where they are today's.
    pub from_before: String,
}

/// A small picture of a piece.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Thumb {
    /// Address, from the piece's folder.
    pub src: String,
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
}

/// What the archive's pages tell of one piece, taken from it while its own page is made. It can be kept for a day on which
/// that page cannot be made.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ArchiveEntry {
    pub(super) row: ArchiveRow,
    pub(super) hours: Option<Hours>,
    pub(super) spent: Money,
    /// The piece as linked data.
    #[serde(default)]
    pub(super) linked: Value,
}

/// What the archive's pages tell of one piece.
pub fn entry(context: &PieceContext<'_>, page: &ArchivePiece<'_>) -> ArchiveEntry {
    let ledger = context.facts.ledger.for_archive();
    let row = row(context, page);
    let linked = linked(context, &row.folder);
    ArchiveEntry { row, hours: ledger.hours, spent: ledger.spent(), linked }
}

impl ArchiveEntry {
    /// The same for a piece whose papers are from before a day.
    pub fn from_before(mut self, words: &Words, day: NaiveDate) -> ArchiveEntry {
        self.row.from_before = from_before(words, day);
        self
    }
}

/// That papers are from before a day, in words.
pub fn from_before(words: &Words, day: NaiveDate) -> String {
    words.say(&says!("papers-from-before", day = day))
}

fn row(context: &PieceContext<'_>, page: &ArchivePiece<'_>) -> ArchiveRow {
    let (ledger, words) = (context.facts.ledger.for_archive(), context.house.words());
    let finish_words = finishes(context);
    let (state_word, state) = state(context);
    let found = context.record.found.for_archive().as_ref().and_then(|found| Some(found.on.as_ref()?.value));
    let last = context.last_day().or(found);
    let earned = ledger.earned_per_hour().ok();
    ArchiveRow {
        href: super::address(context.number()),
        folder: format!("pieces/{}/", context.slug()),
        number: page.record.number.clone(),
        title: page.record.title.clone(),
        kind: page.record.kind.clone(),
        sort: context.record.kind.split('/').next().unwrap_or_default().to_owned(),
        made: page.record.made.clone(),
        made_key: context
            .record
            .made
            .as_ref()
            .and_then(|made| earliest_year(made))
            .map_or(String::new(), |year| year.to_string()),
        year: last.map_or(String::new(), |last| last.year().to_string()),
        last: last.map_or(String::new(), |last| last.to_string()),
        timbers: identity::materials(context),
        timber_words: super::made_of::timbers(context),
        finishes: words.list(&finish_words),
        finish_words,
        hours: page.ledger.hours.clone(),
        hours_key: ledger.hours.map_or(String::new(), |hours| hours.count().normalize().to_string()),
        spent: spent_words(ledger, words),
        spent_key: ledger.spent().0.normalize().to_string(),
        earned: earned.map_or(String::new(), |earned| words.money(earned)),
        earned_key: earned.map_or(String::new(), |earned| earned.0.normalize().to_string()),
        state,
        state_word,
        open: page.open.len(),
        failures: page.record.works.iter().filter(|work| work.failed).count(),
        thumb: thumb(context),
        from_before: String::new(),
    }
}

/// The finishes that the workshop laid and that are there today, by name.
fn finishes(context: &PieceContext<'_>) -> Vec<String> {
    let layers = context.facts.surfaces.iter().flat_map(|facts| &facts.today.layers);
    let laid = layers.filter(|layer| layer.coat.step.is_some());
    let mut finishes: Vec<String> = laid.map(|layer| layer.coat.name.clone()).collect();
    finishes.sort();
    finishes.dedup();
    finishes
}

/// The smallest size of the photograph that stands for the piece.
fn thumb(context: &PieceContext<'_>) -> Option<Thumb> {
    let cover = Gallery::of(context, Sees::Everything).cover()?;
    let file = cover.files.last()?;
    Some(Thumb { src: file.src.clone(), width: file.width, height: file.height })
}

/// The earliest year of making, where there is one.
fn earliest_year(made: &Edtf) -> Option<i32> {
    match made.years().earliest {
        Bound::Year(year) => Some(year),
        _ => None,
    }
}

/// Where it is on its way, and the same with its day.
fn state(context: &PieceContext<'_>) -> (String, String) {
    let offer = context.offer();
    let words = context.house.words();
    let said = words.say(&offer.claim.message).to_lowercase();
    let said = match (offer.state, context.piece.handed_over()) {
        (OfferState::Sold | OfferState::ToBeCollected, Some(on)) => {
            let dated = words.say(&says!("state-on", state = said.as_str(), day = on));
            return (said, dated);
        }
        (OfferState::Reserved, _) => said,
        _ if !context.record.open.is_empty() => words.say(&says!("state-open-questions")),
        (OfferState::NotForSale, _) if context.record.works.is_empty() => words.say(&says!("state-as-found")),
        _ => said,
    };
    (said.clone(), said)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;
    use crate::view::tree::archive::piece_page;
    use crate::view::tree::buyer::papers;

    #[test]
    fn a_piece_s_row_tells_its_materials_and_what_was_laid() {
        let record = "made = \"1920/1930\"\npart = [{ id = \"top\", name = \"Top\", standing = \"original\", timber = \"white-oak\" }, \
                      { id = \"old\", name = \"Old top\", standing = \"removed\", timber = \"european-beech\" }]\n\
                      surface = [{ parts = [\"top\"], found = \"shellac\", steps = [{ apply = \"paste-wax\" }] }]\n\
                      found = { on = 2025-02-03 }\ncost = [{ what = \"wax\", amount = 2.50 }, { what = \"a jar\" }]\n";
        let row = shown(record, "", |context| {
            let papers = papers(context);
            row(context, &piece_page(context, &papers, ""))
        });
        assert_eq!((row.timbers.as_str(), row.finishes.as_str()), ("white oak", "Paste wax"));
        assert_eq!(
            (row.timber_words, row.finish_words),
            (vec!["white oak".to_owned()], vec!["Paste wax".to_owned()])
        );
        assert_eq!(
            (row.made_key.as_str(), row.state.as_str(), row.year.as_str()),
            ("1920", "as found", "2025")
        );
        assert_eq!(row.href, "pieces/t-1/index.html");
        assert!(
            row.spent.starts_with("at least ") && row.spent_key == "2.5",
            "{} {}",
            row.spent,
            row.spent_key
        );
    }

    #[test]
    fn a_row_that_an_older_program_kept_is_read_as_far_as_it_goes() {
        let kept =
            r#"{"row":{"href":"a","title":"Old","open":2},"hours":null,"spent":"1","lessons":[],"uses":{}}"#;
        let entry: ArchiveEntry = serde_json::from_str(kept).unwrap();
        assert_eq!((entry.row.title.as_str(), entry.row.open, entry.row.state.as_str()), ("Old", 2, ""));
    }
}
