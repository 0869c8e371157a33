//! One piece's page in the archive: all its papers, and what only the workshop knows.

use std::borrow::Cow;

use serde::Serialize;

use super::after::{self, AfterRow};
use super::completeness::{CompletenessView, completeness_view};
use super::coverage::{CoverageView, coverage_view};
use super::day_book::{DayBookView, day_book_view};
use super::ledger::{LedgerSheet, ledger_sheet};
use super::lesson::{LessonRow, lessons};
use super::reckoning::{Reckoned, reckoned};
use crate::claim::{Message, says};
use crate::derive::fixing_name;
use crate::record::{OfSet, Planned};
use crate::view::context::PieceContext;
use crate::view::shared::fact::Fact;
use crate::view::shared::hazards::{BenchSheet, for_bench};
use crate::view::shared::photograph::{Gallery, Sees};
use crate::view::shared::row::Rows;
use crate::view::shared::seal::SealView;
use crate::view::shared::surface::surface_name;
use crate::view::sheet::build_record::{BuildRecord, build_record, timeline};
use crate::view::sheet::care::Care;
use crate::view::sheet::disclosure::Disclosure;
use crate::view::tree::buyer::Papers;
use crate::words::Sentence;

/// One piece's page in the archive.
#[derive(Debug, Clone, Serialize)]
pub struct ArchivePiece<'a> {
    /// The build record, private photographs included.
    pub record: Cow<'a, BuildRecord>,
    /// The disclosure sheet.
    pub disclosure: &'a Disclosure,
    /// The care sheet.
    pub care: &'a Care,
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
    /// How the figures of its papers were reckoned.
    pub reckoned: Vec<Reckoned>,
    /// What is still open.
    pub open: Vec<Sentence>,
    /// What is planned, in the record's words.
    pub planned: Vec<String>,
    /// The day book, line by line.
    pub day_book: DayBookView,
    /// What happened after it had left.
    pub after: Vec<AfterRow>,
    /// The seal, and what changed since.
    pub seal: SealView,
    /// What a post about it is made from, as an address beside the page; empty where the public does not see it.
    pub post: String,
    /// Its receipts, as an address beside the page; empty where none was given.
    pub receipts: String,
    /// Address of the buyer's papers, from the written tree's root; may be empty.
    pub buyers_folder: String,
}

/// One piece's page for the archive; `papers` are those of its buyer, `buyers_folder` is their address.
pub fn piece_page<'a>(
    context: &PieceContext<'_>,
    papers: &'a Papers,
    buyers_folder: &str,
) -> ArchivePiece<'a> {
    // Only what leads to private photographs, and what came after the sale, says more here than to the buyer.
    let private_too = context.photographs.all.iter().any(|facts| facts.photograph.private);
    let mut record = match private_too {
        false => Cow::Borrowed(&papers.sheets.record),
        true => {
            let (rows, gallery) =
                (Rows::of(context, Sees::Everything), Gallery::of(context, Sees::Everything));
            Cow::Owned(build_record(context, &gallery, &rows))
        }
    };
    let after = after::after(context);
    if !after.is_empty() {
        record.to_mut().account.timeline = timeline(context, &after::points(context));
    }
    ArchivePiece {
        care: &papers.sheets.care,
        folder: context.piece.folder.clone(),
        private: private(context),
        notes: context.house.words().said_or_nothing(context.record.notes.for_archive().as_ref()),
        lessons: lessons(context, ""),
        bench: for_bench(context),
        completeness: completeness_view(context.house.words(), &context.facts.completeness),
        ledger: ledger_sheet(
            context.facts.ledger.for_archive(),
            context.piece.set.as_ref().map(OfSet::pieces),
            context.house.words(),
        ),
        coverage: coverage_view(context),
        reckoned: reckoned(context),
        open: context.house.words().sentences(&context.claims.open),
        planned: planned(context),
        day_book: day_book_view(context),
        after,
        seal: papers.seal.clone(),
        post: if context.published() { "post.html".to_owned() } else { String::new() },
        receipts: match context.record.receipts.for_archive().is_empty() {
            true => String::new(),
            false => "receipts.html".to_owned(),
        },
        buyers_folder: buyers_folder.to_owned(),
        record,
        disclosure: &papers.sheets.disclosure,
    }
}

/// What the record plans: works, steps by their surface, parts and fixings.
fn planned(context: &PieceContext<'_>) -> Vec<String> {
    let Some(intended) = &context.piece.intended else { return Vec::new() };
    let words = context.house.words();
    let works = intended.works.iter().filter(|row| row.is_planned()).map(|row| words.said(&row.did));
    let steps = intended.surfaces.iter().filter_map(|surface| {
        let count = surface.steps.iter().filter(|step| step.is_planned()).count();
        let steps = says!("planned-steps", count = count, surface = surface_name(context, surface));
        (count > 0).then(|| words.say(&steps))
    });
    let parts = intended.parts.iter().filter(|row| row.is_planned()).map(|row| words.said(&row.name));
    let fixings = intended.fixings.iter().filter(|row| row.is_planned());
    works
        .chain(steps)
        .chain(parts)
        .chain(fixings.map(|row| words.value(&fixing_name(row, context.trade))))
        .collect()
}

/// What only the workshop knows about a piece.
fn private(context: &PieceContext<'_>) -> Vec<Fact> {
    let words = context.house.words();
    let fact = |label: Message, text: String| Fact { label: words.say(&label), text };
    let mut facts = Vec::new();
    if let Some(found) = context.record.found.for_archive() {
        facts.extend(found.on.as_ref().map(|on| fact(says!("private-found-on"), words.day(on.value))));
        facts.extend(found.from.as_ref().map(|from| fact(says!("private-found-from"), words.said(from))));
        facts.extend(found.note.as_ref().map(|note| fact(says!("private-note"), words.said(note))));
    }
    let asking = context.record.asking.as_ref();
    facts.extend(asking.map(|asking| fact(says!("private-asked"), words.money(asking.value))));
    if let Some(kept) = &context.record.reserved {
        facts.extend(kept.on.as_ref().map(|on| fact(says!("private-reserved-on"), words.day(on.value))));
        let to = kept.to.for_archive().as_ref();
        facts.extend(to.map(|to| fact(says!("private-reserved-for"), words.said(to))));
        let deposit = kept.deposit.for_archive().as_ref();
        facts.extend(deposit.map(|deposit| fact(says!("private-paid-down"), words.money(deposit.value))));
    }
    facts.extend(context.piece.handed_over().map(|on| fact(says!("private-went-on"), words.day(on))));
    if let Some(handover) = &context.record.handover {
        let to = handover.to.for_buyer().as_ref();
        facts.extend(to.map(|to| fact(says!("private-went-to"), words.said(to))));
        let price = handover.price.for_archive().as_ref();
        facts.extend(price.map(|price| fact(says!("private-price"), words.money(price.value))));
        let language = handover.language.as_ref();
        facts.extend(language.map(|language| fact(says!("private-language"), words.said(language))));
    }
    facts.extend(context.piece.came_back().map(|on| fact(says!("private-came-back"), words.day(on))));
    for promised in context.record.call_backs.for_archive() {
        let what = words.said(&promised.what);
        let text = match (&promised.on, &promised.done) {
            (_, Some(done)) => says!("call-back-done", what = what, day = done.value),
            (Some(on), None) => says!("call-back-due", what = what, day = on.value),
            (None, None) => says!("own-words", said = what),
        };
        facts.push(fact(says!("private-call-back"), words.say(&text)));
    }
    facts
}
