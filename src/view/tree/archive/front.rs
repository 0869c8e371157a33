//! The archive's front page: all pieces in a table, what was learnt, the colours that were matched, and the stock.

use std::collections::{BTreeMap, BTreeSet};

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use super::lesson::lessons;
use super::piece::ArchivePiece;
use crate::claim::says;
use crate::derive::OfferState;
use crate::record::{Stock, StockId};
use crate::unit::edtf::Bound;
use crate::unit::{Edtf, Hours, Money};
use crate::view::context::{HouseStyle, PieceContext};
use crate::view::shared::fact::Fact;
use crate::view::shared::identity;
use crate::view::shared::swatch::{ColourView, SwatchView};
use crate::words::{Words, capital};

/// The archive's front page.
#[derive(Debug, Clone, Serialize)]
pub struct ArchiveFront {
    /// An [`ArchiveRow`] a piece.
    pub rows: Vec<Value>,
    /// Totals in words.
    pub totals: Vec<Fact>,
    /// A [`LessonRow`](super::lesson::LessonRow) each, of all pieces.
    pub lessons: Vec<Value>,
    /// A [`ColourRow`] each, of the colours that were matched.
    pub colours: Vec<Value>,
    /// Stock.
    pub stock: Vec<StockRow>,
}

/// One row of the front page's table. Numbers stand beside their words so that a table can be sorted.
#[derive(Debug, Clone, Serialize)]
pub struct ArchiveRow {
    /// Address of its page, from the front page.
    pub href: String,
    /// The workshop's number for it.
    pub number: String,
    /// What it is.
    pub title: String,
    /// Type of piece.
    pub kind: String,
    /// Years of making.
    pub made: String,
    /// The earliest year of making, for sorting; empty where not known.
    pub made_key: String,
    /// Timbers.
    pub timbers: String,
    /// Finishes laid.
    pub finishes: String,
    /// Hours; may be empty.
    pub hours: String,
    /// Hours as a bare number; may be empty.
    pub hours_key: String,
    /// What was spent.
    pub spent: String,
    /// The same as a bare number.
    pub spent_key: String,
    /// Found, at work, open questions, handed over.
    pub state: String,
    /// The same without its day.
    pub state_word: String,
    /// How many things are open.
    pub open: usize,
    /// How many pieces of work failed.
    pub failures: usize,
    /// That its papers are from before a day; empty where they are today's.
    pub from_before: String,
}

/// A colour that was matched on some piece, with what made it.
#[derive(Debug, Clone, Serialize)]
pub struct ColourRow {
    /// The timber it lies on; may be empty.
    pub timber: String,
    /// What made it, in the order it was laid; may be empty.
    pub recipe: Vec<String>,
    /// What lies over it; may be empty.
    pub over: Vec<String>,
    /// The colour aimed at.
    pub target: ColourView,
    /// The colour reached.
    pub result: ColourView,
    /// How far apart they are.
    pub difference: String,
    /// The same as a bare number.
    pub difference_key: String,
    /// The piece's title.
    pub title: String,
    /// Address of the match on its page.
    pub href: String,
}

/// Stock and the pieces that used it.
#[derive(Debug, Clone, Serialize)]
pub struct StockRow {
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: String,
    /// Where it came from; may be empty.
    pub origin: String,
    /// What it cost; may be empty.
    pub paid: String,
    /// Notes; may be empty.
    pub note: String,
    /// Pieces that used it.
    pub used_in: Vec<UsedIn>,
}

/// A piece that used some stock.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct UsedIn {
    /// The piece's title and number.
    pub title: String,
    /// Address of its page.
    pub href: String,
    /// For which parts.
    pub parts: String,
}

/// What the front page tells of one piece, taken from it while its own page is made. It can be kept for a day on which
/// that page cannot be made: rows are therefore the data that the page prints.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub struct ArchiveEntry {
    row: Value,
    lessons: Vec<Value>,
    colours: Vec<Value>,
    hours: Option<Hours>,
    spent: Money,
    /// The stock that it used, by id.
    uses: BTreeMap<String, UsedIn>,
}

/// What the front page tells of one piece.
pub fn entry(context: &PieceContext<'_>, page: &ArchivePiece<'_>) -> ArchiveEntry {
    let ledger = context.facts.ledger.for_archive();
    let parts = context.record.parts.iter();
    let stock: BTreeSet<&StockId> = parts.filter_map(|part| Some(&part.from_stock.as_ref()?.value)).collect();
    ArchiveEntry {
        row: json!(row(context, page)),
        lessons: data(lessons(context, &href(context))),
        colours: data(colours(page, &href(context))),
        hours: ledger.hours,
        spent: ledger.spent(),
        uses: stock.into_iter().map(|id| (id.0.clone(), used_in(context, id))).collect(),
    }
}

/// Rows as data.
fn data(rows: Vec<impl Serialize>) -> Vec<Value> {
    rows.into_iter().map(|row| json!(row)).collect()
}

impl ArchiveEntry {
    /// The same for a piece whose papers are from before a day.
    pub fn from_before(mut self, words: &Words, day: NaiveDate) -> ArchiveEntry {
        self.row["from_before"] = json!(from_before(words, day));
        self
    }
}

/// That papers are from before a day, in words.
pub fn from_before(words: &Words, day: NaiveDate) -> String {
    words.say(&says!("papers-from-before", day = day))
}

/// The archive's front page, from what it tells of each piece.
pub fn front(entries: Vec<ArchiveEntry>, stock: &Stock, house: &HouseStyle) -> ArchiveFront {
    let (totals, stock) = (totals(&entries, house), stock_rows(&entries, stock, house));
    let mut front =
        ArchiveFront { rows: Vec::new(), totals, lessons: Vec::new(), colours: Vec::new(), stock };
    for entry in entries {
        front.rows.push(entry.row);
        front.lessons.extend(entry.lessons);
        front.colours.extend(entry.colours);
    }
    front
}

/// The address of a piece's page, from the front page.
fn href(context: &PieceContext<'_>) -> String {
    format!("pieces/{}/index.html", context.slug())
}

/// One piece's row on the front page.
fn row(context: &PieceContext<'_>, page: &ArchivePiece<'_>) -> ArchiveRow {
    let ledger = context.facts.ledger.for_archive();
    let laid = context
        .facts
        .surfaces
        .iter()
        .flat_map(|facts| &facts.today.layers)
        .filter(|layer| layer.coat.step.is_some());
    let mut finishes: Vec<String> = laid.map(|layer| layer.coat.name.clone()).collect();
    finishes.sort();
    finishes.dedup();
    let (state_word, state) = state(context);
    ArchiveRow {
        href: href(context),
        number: page.record.number.clone(),
        title: page.record.title.clone(),
        kind: page.record.kind.clone(),
        made: page.record.made.clone(),
        made_key: context
            .record
            .made
            .as_ref()
            .and_then(|made| earliest_year(made))
            .map_or(String::new(), |year| year.to_string()),
        timbers: identity::materials(context),
        finishes: context.house.words().list(&finishes),
        hours: page.ledger.hours.clone(),
        hours_key: ledger.hours.map_or(String::new(), |hours| hours.count().normalize().to_string()),
        spent: context.house.words().money(ledger.spent()),
        spent_key: ledger.spent().0.normalize().to_string(),
        state,
        state_word,
        open: page.open.len(),
        failures: page.record.works.iter().filter(|work| work.failed).count(),
        from_before: String::new(),
    }
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

/// The colours that were matched on one piece.
fn colours(page: &ArchivePiece<'_>, href: &str) -> Vec<ColourRow> {
    let row = |swatch: &SwatchView| {
        Some(ColourRow {
            timber: swatch.timber.clone(),
            recipe: swatch.recipe.clone(),
            over: swatch.over.clone(),
            target: swatch.target.clone()?,
            result: swatch.result.clone()?,
            difference: swatch.difference.clone(),
            difference_key: swatch.difference_key.clone(),
            title: page.record.title.clone(),
            href: format!("{href}#{}", swatch.anchor),
        })
    };
    page.record.swatches.iter().filter_map(row).collect()
}

fn totals(entries: &[ArchiveEntry], house: &HouseStyle) -> Vec<Fact> {
    let hours: Hours = entries.iter().filter_map(|entry| entry.hours).sum();
    let spent: Money = entries.iter().map(|entry| entry.spent).sum();
    let words = house.words();
    vec![
        Fact { label: words.say(&says!("total-pieces")), text: entries.len().to_string() },
        Fact { label: words.say(&says!("total-hours")), text: words.hours(hours) },
        Fact { label: words.say(&says!("total-spent")), text: words.money(spent) },
    ]
}

fn stock_rows(entries: &[ArchiveEntry], stock: &Stock, house: &HouseStyle) -> Vec<StockRow> {
    stock
        .items
        .iter()
        .map(|item| StockRow {
            id: item.id.0.clone(),
            what: capital(&item.what),
            origin: item.origin.as_ref().map_or(String::new(), |origin| origin.to_string()),
            paid: item
                .paid
                .for_archive()
                .as_ref()
                .map_or(String::new(), |paid| house.words().money(paid.value)),
            note: item.note.for_archive().as_ref().map_or(String::new(), |note| note.to_string()),
            used_in: entries.iter().filter_map(|entry| entry.uses.get(&item.id.0).cloned()).collect(),
        })
        .collect()
}

fn used_in(context: &PieceContext<'_>, id: &StockId) -> UsedIn {
    let uses = context.record.parts.iter();
    let uses = uses.filter(|part| part.from_stock.as_ref().is_some_and(|from| from.value == *id));
    let parts: Vec<String> = uses.map(|part| part.name.to_string()).collect();
    UsedIn { title: context.title(), href: href(context), parts: context.house.words().list(&parts) }
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
                      surface = [{ parts = [\"top\"], found = \"shellac\", steps = [{ apply = \"paste-wax\" }] }]\n";
        let row = shown(record, "", |context| {
            let papers = papers(context);
            row(context, &piece_page(context, &papers, ""))
        });
        assert_eq!((row.timbers.as_str(), row.finishes.as_str()), ("white oak", "Paste wax"));
        assert_eq!((row.made_key.as_str(), row.state.as_str()), ("1920", "as found"));
        assert_eq!(row.href, "pieces/t-1/index.html");
    }
}
