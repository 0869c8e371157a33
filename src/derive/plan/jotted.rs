//! Plans that were only jotted, as rows that a record may plan: as far as the reader of the day book knows their words.

use std::collections::BTreeMap;

use crate::daybook::{Bench, Kind, Proposal};
use crate::diag::Place;
use crate::fields::{OneOrMore, Private, Row, Said, Text};
use crate::record::{Folder, Jotting, PartId, Piece, Planned, Record, Step, rows_of};
use crate::trade::Trade;

/// Where the places of such rows begin: beyond every place of a record. Each line of the day book has one.
const JOTTED: usize = 1 << 29;

/// A record with what its day book plans.
#[derive(Debug)]
pub struct WithJotted {
    /// The record, with planned rows for the lines that could be read.
    pub record: Record,
    /// Where the line of each of these rows stands, by where the row itself begins.
    pub lines: BTreeMap<usize, Place>,
}

/// Adds to a record what its day book plans and no row of it does: steps on a surface that is beyond doubt, and works of
/// which the trade's tables know the deed. Every other line stays one.
pub fn with_jotted(folder: &Folder, piece: &Piece, record: &Record, trade: &Trade) -> WithJotted {
    let mut with = WithJotted { record: record.clone(), lines: BTreeMap::new() };
    let bench = Bench::of(trade, Some(record)).stocked(&folder.stock.items);
    let plans = piece.jotted(record).into_iter().filter(|(_, kind)| *kind == Kind::Plan);
    for (line, (jotting, _)) in plans.enumerate() {
        let at = JOTTED + line;
        if with.add(&bench.planned(jotting), jotting, at) {
            with.lines.insert(at, Place::at(&jotting.path, &jotting.span));
        }
    }
    with
}

impl WithJotted {
    /// Adds the rows of one line, and says whether there were any.
    fn add(&mut self, proposals: &[Proposal], jotting: &Jotting, at: usize) -> bool {
        let mut added = false;
        let mut unplaced = false;
        for proposal in proposals.iter().filter(|proposal| proposal.table == "surface.steps") {
            match self.step(proposal, jotting, at) {
                Some(()) => added = true,
                None => unplaced = true,
            }
        }
        let works =
            proposals.iter().filter(|proposal| proposal.table == "work" && !proposal.deeds.is_empty());
        for proposal in works.filter(|_| !unplaced) {
            added |= self.work(proposal, jotting, at).is_some();
        }
        added
    }

    /// Puts a step at the end of the one surface that it may be on, unless that plans such a step already.
    fn step(&mut self, proposal: &Proposal, jotting: &Jotting, at: usize) -> Option<()> {
        let parts = ids(proposal)?;
        let has_all = |place: &usize| {
            let surface = &self.record.surfaces[*place];
            parts.iter().all(|part| surface.parts.iter().any(|own| own.value.0 == *part))
        };
        let mut may_be = (0..self.record.surfaces.len()).filter(has_all);
        let (Some(place), None) = (may_be.next(), may_be.next()) else { return None };
        let read = rows_of(&format!("[[surface]]\nsteps = [{}]\n", proposal.toml().trim()), at)?;
        let mut step = read.surfaces.first()?.steps.first()?.value.clone();
        let surface = &self.record.surfaces[place];
        let is_planned =
            |known: &Row<Step>| known.is_planned() && !is_jotted(known.span.start) && is_alike(known, &step);
        if surface.steps.iter().any(is_planned) {
            return None;
        }
        // A step on some of the surface's parts is not on the others.
        if parts.len() < surface.parts.len() {
            step.only = named(&parts, at);
        }
        step.planned = Some(said(true, at));
        step.from_daybook = line_of(jotting, at);
        let mut value = surface.value.clone();
        // Lines stand in the order in which they came to mind; a line of its own goes on as it says.
        let comes_before = |known: &Row<Step>| {
            is_jotted(known.span.start) && known.span.start != at && rank(&step) < rank(known)
        };
        let before = value.steps.iter().position(comes_before).unwrap_or(value.steps.len());
        value.steps.insert(before, Row::new(said(step, at)));
        self.record.surfaces[place] = Row::new(Said { value, span: surface.span.clone() });
        Some(())
    }

    fn work(&mut self, proposal: &Proposal, jotting: &Jotting, at: usize) -> Option<()> {
        let read = rows_of(&proposal.toml(), at)?;
        let mut work = read.works.first()?.value.clone();
        let known = proposal.parts.iter().filter_map(|part| match &part.ids[..] {
            [id] => Some(id.clone()),
            _ => None,
        });
        work.part = named(&known.collect::<Vec<_>>(), at);
        work.did = said(Text(jotting.words.for_archive().clone()), at);
        work.planned = Some(said(true, at));
        work.from_daybook = line_of(jotting, at);
        work.mends = OneOrMore::default();
        self.record.works.push(Row::new(said(work, at)));
        Some(())
    }
}

/// Whether a row begins where those do that stand for a line of the day book.
pub fn is_jotted(start: usize) -> bool {
    (JOTTED..2 * JOTTED).contains(&start)
}

/// The finest grit with which bare wood is made ready for a first coat; what is finer is for between coats and after them.
///
/// # Source
/// common practice, no source.
const READY: u32 = 240;

/// When in the making of a surface a step usually comes.
///
/// # Source
/// common practice, no source: cleaned, tested, taken off, rubbed down, coated.
fn rank(step: &Step) -> usize {
    let grit = |grit: &Said<Text>| grit.value.0.trim_start_matches(['P', 'p']).parse::<u32>().ok();
    let is_ready = step.abrade.iter().all(|said| grit(said).is_some_and(|grit| grit <= READY));
    match () {
        () if step.clean.is_some() => 0,
        () if step.test.is_some() => 1,
        () if step.remove.is_some() => 2,
        () if !step.abrade.is_empty() && is_ready => 3,
        () if step.apply.is_some() => 4,
        () => 5,
    }
}

/// Whether two steps do the same, so that a line which speaks of one need not mean another.
fn is_alike(one: &Step, other: &Step) -> bool {
    match (&one.apply, &other.apply) {
        (Some(one), Some(other)) => one.value == other.value,
        (None, None) => {
            let act = |step: &Step| {
                [step.clean.is_some(), step.test.is_some(), step.remove.is_some(), !step.abrade.is_empty()]
            };
            act(one) == act(other)
        }
        _ => false,
    }
}

/// The parts of a proposal; `None` where the record has none of that name, or several.
fn ids(proposal: &Proposal) -> Option<Vec<String>> {
    let id = |ids: &[String]| match ids {
        [id] => Some(id.clone()),
        _ => None,
    };
    proposal.parts.iter().map(|part| id(&part.ids)).collect()
}

fn said<T>(value: T, at: usize) -> Said<T> {
    Said { value, span: at..at + 1 }
}

fn named(parts: &[String], at: usize) -> OneOrMore<PartId> {
    OneOrMore(parts.iter().map(|part| said(PartId(part.clone()), at)).collect())
}

fn line_of(jotting: &Jotting, at: usize) -> Private<OneOrMore<Text>> {
    Private::new(OneOrMore(vec![said(Text(jotting.name_of_line()), at)]))
}
