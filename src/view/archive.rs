//! What the workshop itself sees: everything, across all pieces.

use serde::Serialize;

use super::Source;
use super::amendments::SealView;
use super::build_record::{BuildRecord, Fact, build_record, text};
use super::care::{Care, care};
use super::completeness::{CompletenessView, completeness_view};
use super::coverage::{CoverageView, coverage_view};
use super::disclosure::{Disclosure, disclosure, open_words};
use super::hazards::{BenchSheet, for_bench};
use super::ledger::{LedgerSheet, ledger_sheet};
use super::shown::Sees;
use super::swatch::{ColourView, SwatchView};
use super::words;

/// One row of the front page's table. Numbers stand beside their words so that a table can be sorted.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
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
    /// How many things are open.
    pub open: usize,
    /// How many pieces of work failed.
    pub failures: usize,
}

/// A lesson with the piece it comes from.
#[derive(Debug, Clone, Serialize)]
pub struct LessonRow {
    /// The lesson.
    pub text: String,
    /// What it applies to.
    pub applies_to: String,
    /// The piece's title.
    pub title: String,
    /// Address of its page.
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
#[derive(Debug, Clone, Serialize)]
pub struct UsedIn {
    /// The piece's title and number.
    pub title: String,
    /// Address of its page.
    pub href: String,
    /// For which parts.
    pub parts: String,
}

/// The archive's front page.
#[derive(Debug, Clone, Serialize)]
pub struct Front {
    /// One row a piece.
    pub rows: Vec<Row>,
    /// Totals in words.
    pub totals: Vec<Fact>,
    /// Lessons of all pieces.
    pub lessons: Vec<LessonRow>,
    /// Colours that were matched.
    pub colours: Vec<ColourRow>,
    /// Stock.
    pub stock: Vec<StockRow>,
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

/// The colours that were matched on one piece.
pub(super) fn colours(page: &PiecePage, href: &str) -> Vec<ColourRow> {
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

/// One piece's page in the archive.
#[derive(Debug, Clone, Serialize)]
pub struct PiecePage {
    /// The build record, private photographs included.
    pub record: BuildRecord,
    /// The disclosure sheet.
    pub disclosure: Disclosure,
    /// The care sheet.
    pub care: Care,
    /// The piece's folder in the workshop.
    pub folder: String,
    /// How it was come by, what was asked and paid.
    pub private: Vec<Fact>,
    /// Notes; may be empty.
    pub notes: String,
    /// Lessons.
    pub lessons: Vec<LessonRow>,
    /// Cautions at the bench.
    pub bench: BenchSheet,
    /// How much of the checklist its papers tell.
    pub completeness: CompletenessView,
    /// What it cost, brought in and earned.
    pub ledger: LedgerSheet,
    /// What each coat took out of its tin.
    pub coverage: CoverageView,
    /// What is still open.
    pub open: Vec<String>,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// Address of the buyer's papers, from the written tree's root; may be empty.
    pub buyers_folder: String,
}

/// One piece's page for the archive.
pub(super) fn piece_page(source: &Source<'_>, buyers_folder: &str) -> PiecePage {
    let record = build_record(source, Sees::Everything);
    let ledger = source.facts.ledger.for_archive();
    let money = &source.house.quantities;
    PiecePage {
        disclosure: disclosure(source, &record),
        care: care(source),
        folder: source.piece.folder.clone(),
        private: private(source),
        notes: text(source.record.notes.for_archive().as_ref()),
        lessons: lessons(source, &record.title, ""),
        bench: for_bench(source),
        completeness: completeness_view(&source.facts.completeness),
        ledger: ledger_sheet(ledger, money),
        coverage: coverage_view(source, source.facts.coverage.for_archive()),
        open: source.record.open.iter().map(|open| open_words(open)).collect(),
        seal: source.seal(),
        buyers_folder: buyers_folder.to_owned(),
        record,
    }
}

/// All hours in words, and whether they are an estimate.
fn hours(source: &Source<'_>) -> String {
    let ledger = source.facts.ledger.for_archive();
    match (ledger.hours, ledger.estimated) {
        (Some(hours), true) => format!("{}, by estimate", words::hours(hours)),
        (Some(hours), false) => words::hours(hours),
        (None, _) => String::new(),
    }
}

/// What only the workshop knows about a piece.
fn private(source: &Source<'_>) -> Vec<Fact> {
    let fact = |label: &str, text: String| Fact { label: label.to_owned(), text };
    let mut facts = Vec::new();
    if let Some(found) = source.record.found.for_archive() {
        facts.extend(found.on.as_ref().map(|on| fact("Came on", words::day(on.value))));
        facts.extend(found.from.as_ref().map(|from| fact("Came from", words::said(from))));
        facts.extend(found.note.as_ref().map(|note| fact("Note", words::said(note))));
    }
    let asking = source.record.asking.as_ref();
    facts.extend(asking.map(|asking| fact("Asked", source.house.quantities.money(asking.value))));
    facts.extend(source.piece.handed_over().map(|on| fact("Went on", words::day(on))));
    if let Some(handover) = &source.record.handover {
        facts.extend(handover.to.for_buyer().as_ref().map(|to| fact("Went to", words::said(to))));
        let price = handover.price.for_archive().as_ref();
        facts.extend(price.map(|price| fact("For", source.house.quantities.money(price.value))));
    }
    facts
}

/// The lessons of one piece.
pub(super) fn lessons(source: &Source<'_>, title: &str, href: &str) -> Vec<LessonRow> {
    let row = |lesson: &crate::record::Lesson| LessonRow {
        text: words::sentence(&words::said(&lesson.text)),
        applies_to: words::list(&lesson.r#for.iter().map(|kind| kind.to_string()).collect::<Vec<_>>()),
        title: title.to_owned(),
        href: href.to_owned(),
    };
    source.record.lessons.for_archive().iter().map(|lesson| row(lesson)).collect()
}

/// One piece's row on the front page.
pub(super) fn row(source: &Source<'_>, page: &PiecePage, href: String) -> Row {
    let ledger = source.facts.ledger.for_archive();
    let laid = source
        .facts
        .surfaces
        .iter()
        .flat_map(|build| &build.layers)
        .filter(|layer| layer.film.step.is_some());
    let mut finishes: Vec<String> = laid.map(|layer| layer.film.name.clone()).collect();
    finishes.sort();
    finishes.dedup();
    let fact =
        |label: &str| page.record.facts.iter().find(|fact| fact.label == label).map(|fact| fact.text.clone());
    Row {
        href,
        number: page.record.number.clone(),
        title: page.record.title.clone(),
        kind: page.record.kind.clone(),
        made: page.record.made.clone(),
        made_key: source
            .record
            .made
            .as_ref()
            .and_then(|made| super::earliest_year(made))
            .map_or(String::new(), |year| year.to_string()),
        timbers: fact("Materials").unwrap_or_default(),
        finishes: words::list(&finishes),
        hours: hours(source),
        hours_key: ledger.hours.map_or(String::new(), |hours| hours.count().normalize().to_string()),
        spent: source.house.quantities.money(ledger.spent()),
        spent_key: ledger.spent().0.normalize().to_string(),
        state: state(source),
        open: page.open.len(),
        failures: page.record.works.iter().filter(|work| work.failed).count(),
    }
}

fn state(source: &Source<'_>) -> String {
    match source.piece.handed_over() {
        Some(on) => format!("handed over {}", words::day(on)),
        None if !source.record.open.is_empty() => "open questions".to_owned(),
        None if source.record.asking.is_some() => "to be had".to_owned(),
        None if source.record.works.is_empty() => "as found".to_owned(),
        None => "in the workshop".to_owned(),
    }
}
