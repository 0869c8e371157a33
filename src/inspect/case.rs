//! What a rule gets to see: one piece, or the workshop as a whole.

use std::ops::Range;

use chrono::NaiveDate;

use crate::derive::{Facts, PhotoFacts, Photograph, Workpiece};
use crate::diag::{Code, Diagnostic, Place};
use crate::fields::{Said, Text};
use crate::photo::{Checked, Fault};
use crate::record::day_book::Kind;
use crate::record::{Folder, Part, Piece, Record, Tin};
use crate::trade::Trade;

/// One piece as a rule sees it.
pub struct Case<'a> {
    /// The whole workshop.
    pub folder: &'a Folder,
    /// The piece's folder.
    pub piece: &'a Piece,
    /// Its record.
    pub record: &'a Record,
    /// What follows from the record.
    pub facts: &'a Facts,
    /// What follows from its photographs.
    pub photographs: &'a PhotoFacts,
    /// The tables of the trade.
    pub trade: &'a Trade,
    /// The day of the inspection.
    pub today: NaiveDate,
    /// The record's path from the workshop's root.
    pub path: String,
}

/// The workshop as a rule sees it that looks across pieces or at the workshop's own files.
pub struct Shop<'a> {
    /// The whole workshop.
    pub folder: &'a Folder,
    /// The tables of the trade.
    pub trade: &'a Trade,
}

/// Something dated that was done to the piece.
pub(super) struct Dated<'a> {
    /// What it is called in messages.
    pub(super) what: &'static str,
    /// The day.
    pub(super) on: &'a Said<NaiveDate>,
}

impl<'a> Case<'a> {
    /// One piece of a workshop, as a rule sees it.
    pub fn of(folder: &'a Folder, workpiece: &'a Workpiece, trade: &'a Trade, today: NaiveDate) -> Case<'a> {
        let Workpiece { piece, record, facts, photographs, .. } = workpiece;
        Case { folder, piece, record, facts, photographs, trade, today, path: piece.record_path() }
    }

    /// The record with what it plans, which names parts and tins like everything else.
    pub(super) fn intended(&self) -> &'a Record {
        self.piece.intended.as_deref().unwrap_or(self.record)
    }

    /// How each photograph answered that was opened, by its file.
    pub(super) fn checks(&self) -> impl Iterator<Item = (&'a str, &'a Result<Checked, Fault>)> {
        let all = self.photographs.all.iter();
        all.filter_map(|facts| Some((facts.photograph.file.as_str(), facts.check.as_ref()?)))
    }

    /// A diagnostic at a byte range of the piece's record.
    pub fn at(&self, code: &'static Code, span: &Range<usize>, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, Place::at(&self.path, span), message)
    }

    /// A diagnostic at the day of handover, or about the record as a whole where the seal alone tells that day.
    pub fn at_handover(&self, code: &'static Code, message: impl Into<String>) -> Diagnostic {
        match self.record.handover.as_ref().and_then(|handover| handover.on.as_ref()) {
            Some(on) => self.at(code, &on.span, message),
            None => self.whole(code, message),
        }
    }

    /// A diagnostic about the record as a whole.
    pub fn whole(&self, code: &'static Code, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, Place::file(&self.path), message)
    }

    /// A diagnostic about one of the piece's photographs.
    pub fn photo(&self, code: &'static Code, file: &str, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(code, Place::file(&self.piece.photo_path(file)), message)
    }

    /// A diagnostic at the record's entry for a photograph, or at the file where it has none.
    pub(super) fn entry(
        &self,
        code: &'static Code,
        photograph: &Photograph,
        message: impl Into<String>,
    ) -> Diagnostic {
        match &photograph.entry {
            Some(entry) => self.at(code, &entry.file.span, message),
            None => self.photo(code, &photograph.file, message),
        }
    }

    /// A diagnostic at a byte range of the piece's story.
    pub(super) fn story(
        &self,
        code: &'static Code,
        span: &Range<usize>,
        message: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::new(code, Place::at(&self.piece.story_path(), span), message)
    }

    /// The part of this id.
    pub(super) fn part(&self, id: &str) -> Option<&'a Part> {
        self.record.parts.iter().map(|part| &part.value).find(|part| part.id.0 == id)
    }

    /// The workshop's tins.
    pub(super) fn tins(&self) -> &'a [Said<Tin>] {
        self.folder.workshop.as_ref().map_or(&[], |workshop| &workshop.tins)
    }

    /// Everything dated that was done to the piece: works, surface steps, tests.
    pub(super) fn dated(&self) -> impl Iterator<Item = Dated<'a>> {
        let dated = |what, on: &'a Option<Said<NaiveDate>>| on.as_ref().map(|on| Dated { what, on });
        let works = self.record.works.iter().filter_map(move |work| dated("work", &work.on));
        let steps = self.record.surfaces.iter().flat_map(|surface| &surface.steps);
        let steps = steps.filter_map(move |step| dated("a surface step", &step.on));
        let tests = self.record.tests.iter().filter_map(move |test| dated("a test", &test.on));
        works.chain(steps).chain(tests)
    }

    /// Whether what seems to be missing in a table, such as `[[photo]]`, may stand there and could not be read.
    ///
    /// For rules that look at one table and so need not wait until the whole record is sound.
    pub(super) fn lost(&self, table: &str) -> bool {
        self.piece.partial && self.piece.lacks.contains_key(table)
    }

    /// Whether the piece was only just opened: it is unpublished and not handed over, and nothing was done to it.
    pub(super) fn is_just_opened(&self) -> bool {
        let unpublished = self.record.publish.as_ref().is_some_and(|publish| !publish.value);
        unpublished && self.piece.handed_over().is_none() && !self.has_work()
    }

    /// Whether anything was done to the piece.
    pub(super) fn has_work(&self) -> bool {
        !self.record.works.is_empty()
            || !self.facts.day_book.works.is_empty()
            || self.record.surfaces.iter().any(|surface| !surface.steps.is_empty())
    }

    /// How many things are still open in the record or planned last in the day book.
    pub(super) fn still_open(&self) -> usize {
        let jotted = self.piece.jotted(self.record);
        self.record.open.len() + jotted.iter().filter(|(_, kind)| *kind == Kind::Plan).count()
    }

    /// The day the piece left, where it is not in the future.
    pub(super) fn left_on(&self) -> Option<NaiveDate> {
        let on = self.piece.handed_over()?;
        (on <= self.today).then_some(on)
    }

    /// Every name of a photograph's file that the record writes.
    pub(super) fn named_files(&self) -> impl Iterator<Item = &'a Said<Text>> {
        let record = self.record;
        let photos = record.photos.iter().map(|photo| &photo.file);
        let pairs = record.pairs.iter().flat_map(|pair| [&pair.before, &pair.after]);
        let swatches = record.swatches.iter().map(|swatch| &swatch.photo);
        photos.chain(&record.cover).chain(pairs).chain(swatches)
    }
}

/// Whether a piece is still worked on: it has not left, and is not offered with nothing left to do.
pub(super) fn at_the_bench(piece: &Piece, record: &Record) -> bool {
    piece.handed_over().is_none() && (record.asking.is_none() || !record.open.is_empty())
}

impl Shop<'_> {
    /// A diagnostic at a byte range of `workshop.toml`.
    pub(super) fn at(
        &self,
        code: &'static Code,
        span: &Range<usize>,
        message: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic::new(code, Place::at("workshop.toml", span), message)
    }
}
