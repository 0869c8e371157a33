//! The tasks of a plan: what a record plans, and what has to be done before and after it.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use rust_decimal::prelude::ToPrimitive;

use super::super::facts::Facts;
use super::super::finish::stratigraphy::{fold, laid};
use super::super::hazard::result::TestReading;
use crate::fields::{Row, Said};
use crate::record::{
    Act, FinishName, Part, PartId, Planned, Record, Standing, Step, Surface, Tin, Work, WorkId,
};
use crate::trade::{RepairGroup, Telling, Trade, TreatmentGroup};

/// Where in a job a task belongs; the first comes first.
///
/// # Source
/// common practice, no source: off before under, tests before what they decide, structure before surface, inside before
/// outside, fittings last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// What covers others comes off.
    TakeOff,
    /// What decides about the rest is tested.
    Test,
    /// Dirt and pests go.
    Clean,
    /// Parts are made, joints and parts mended.
    Structure,
    /// Old coats come off, and the wood is rubbed down.
    Strip,
    /// Coats where they are seen least.
    Inside,
    /// Coats where they are seen.
    Outside,
    /// Fittings, glass, cloth and the like.
    Fit,
    /// What came off goes back.
    PutBack,
}

/// What a test is to tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TestFor {
    /// Whether the old coat holds lead.
    Lead,
    /// What dissolves it.
    Solubility,
}

/// What is to be done.
#[derive(Debug, Clone, PartialEq)]
pub enum Deed {
    /// A part comes off.
    TakeOff(Row<Part>),
    /// It goes back.
    PutBack(Row<Part>),
    /// A part is made, or bought.
    Make(Row<Part>),
    /// A test.
    Test(TestFor, Row<Surface>),
    /// A planned work.
    Work(Row<Work>),
    /// A planned step on a surface.
    Step(Row<Surface>, Row<Step>),
}

/// Why a task comes after another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reason {
    /// That one takes off what covers the part.
    Covered,
    /// That one puts back what lies below.
    Below,
    /// That one makes the part.
    Made,
    /// That one tests what this one would spoil.
    Tested,
    /// The steps of a surface stand in this order.
    Layer,
    /// The record says so.
    Said,
    /// Joints are mended before the surface is.
    Structure,
}

impl Reason {
    /// Whether the order may be another where it cannot be kept.
    pub(super) fn is_soft(self) -> bool {
        self == Reason::Structure
    }
}

/// One task.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// What is to be done.
    pub deed: Deed,
    /// Where in the job it belongs.
    pub stage: Stage,
    /// The parts that it is done to.
    pub parts: Vec<PartId>,
    /// The tasks that come before it, by their places, with the reason.
    pub after: Vec<(usize, Reason)>,
}

impl Task {
    fn new(deed: Deed, stage: Stage, parts: Vec<PartId>) -> Task {
        Task { deed, stage, parts, after: Vec::new() }
    }

    fn is_on(&self, part: &PartId) -> bool {
        self.parts.contains(part)
    }

    /// The surface and step, where it is one.
    pub fn step(&self) -> Option<(&Row<Surface>, &Row<Step>)> {
        match &self.deed {
            Deed::Step(surface, step) => Some((surface, step)),
            _ => None,
        }
    }

    /// The day that the record sets for it.
    pub fn set_for(&self) -> Option<NaiveDate> {
        let on = match &self.deed {
            Deed::Work(work) => work.on.as_ref(),
            Deed::Step(_, step) => step.on.as_ref(),
            _ => None,
        };
        on.map(|on| on.value)
    }

    /// The hours that the record says it will take.
    pub fn hours(&self) -> Option<f64> {
        self.work()?.hours.for_archive().as_ref().and_then(|hours| hours.count().to_f64())
    }

    /// The work, where it is one.
    pub fn work(&self) -> Option<&Row<Work>> {
        match &self.deed {
            Deed::Work(work) => Some(work),
            _ => None,
        }
    }
}

/// The tasks of a record as it is intended, in the order of the record, each with those that come before it.
pub(super) fn tasks(record: &Record, facts: &Facts, tins: &[Said<Tin>], trade: &Trade) -> Vec<Task> {
    let mut bench = Bench { record, facts, tins, trade, tasks: Vec::new() };
    bench.parts_to_make();
    bench.works();
    bench.steps();
    bench.covers();
    bench.made_first();
    bench.structure_first();
    bench.tasks
}

struct Bench<'a> {
    record: &'a Record,
    facts: &'a Facts,
    tins: &'a [Said<Tin>],
    trade: &'a Trade,
    tasks: Vec<Task>,
}

impl<'a> Bench<'a> {
    fn add(&mut self, task: Task) -> usize {
        self.tasks.push(task);
        self.tasks.len() - 1
    }

    fn follow(&mut self, task: usize, before: usize, why: Reason) {
        let known = self.tasks[task].after.iter().any(|(other, _)| *other == before);
        if task != before && !known {
            self.tasks[task].after.push((before, why));
        }
    }

    fn parts_to_make(&mut self) {
        let record = self.record;
        for part in record.parts.iter().filter(|part| part.is_planned()) {
            self.add(Task::new(Deed::Make(part.clone()), Stage::Structure, vec![part.id.value.clone()]));
        }
    }

    fn works(&mut self) {
        let mut by_id: BTreeMap<&WorkId, usize> = BTreeMap::new();
        let (record, from) = (self.record, self.tasks.len());
        for work in record.works.iter().filter(|work| work.is_planned()) {
            let task = Task::new(Deed::Work(work.clone()), self.stage(work), ids(&work.part));
            let at = self.add(task);
            if let Some(id) = &work.id {
                by_id.insert(&id.value, at);
            }
        }
        for at in from..self.tasks.len() {
            let Deed::Work(work) = self.tasks[at].deed.clone() else { continue };
            for before in work.follows.iter().chain(work.redoes.as_ref()) {
                if let Some(before) = by_id.get(&before.value) {
                    self.follow(at, *before, Reason::Said);
                }
            }
        }
    }

    /// Where a work belongs, by the words of the trade in it.
    fn stage(&self, work: &Work) -> Stage {
        let parts = self.record.parts.iter();
        let parts = parts.filter(|part| work.part.iter().any(|id| id.value == part.id.value));
        let names: Vec<&str> = parts.map(|part| part.name.value.0.as_str()).collect();
        if self.trade.tells_of(Telling::TakeOff, &work.did, &names.join(" ")) {
            return Stage::TakeOff;
        }
        if self.trade.tells_of(Telling::PutBack, &work.did, &names.join(" ")) {
            return Stage::PutBack;
        }
        let said = [work.task.as_ref(), Some(&work.did), work.by.as_ref()];
        let said: Vec<&str> = said.into_iter().flatten().map(|text| text.value.0.as_str()).collect();
        let repair = said.iter().find_map(|text| self.trade.repair(text)).map(|repair| repair.group.value);
        let treatment =
            said.iter().find_map(|text| self.trade.treatment(text)).map(|treatment| treatment.group.value);
        match (repair, treatment) {
            (Some(RepairGroup::Pest), _) => Stage::Clean,
            (Some(RepairGroup::Structure | RepairGroup::Veneer | RepairGroup::Stone), _) => Stage::Structure,
            (Some(RepairGroup::Surface), _) => Stage::Outside,
            (Some(_), _) => Stage::Fit,
            (None, Some(TreatmentGroup::Cleaning | TreatmentGroup::Pest | TreatmentGroup::Odour)) => {
                Stage::Clean
            }
            (None, Some(TreatmentGroup::Removal | TreatmentGroup::Abrading | TreatmentGroup::Bleach)) => {
                Stage::Strip
            }
            (None, Some(TreatmentGroup::Finishing | TreatmentGroup::Colouring | TreatmentGroup::Ageing)) => {
                Stage::Outside
            }
            (
                None,
                Some(TreatmentGroup::Upholstery | TreatmentGroup::Leather | TreatmentGroup::Lubricant),
            ) => Stage::Fit,
            // What no table knows is most often work on joints and parts.
            _ => Stage::Structure,
        }
    }

    fn steps(&mut self) {
        let record = self.record;
        for surface in &record.surfaces {
            let inside = self.is_inside(surface);
            let mut before: Option<usize> = None;
            let mut tested = self.tests_wanted(surface);
            for step in surface.steps.iter().filter(|step| step.is_planned()) {
                let parts = if step.only.is_empty() { ids(&surface.parts) } else { ids(&step.only) };
                let stage = match step.act() {
                    Some(Act::Test(_)) => Stage::Test,
                    Some(Act::Clean(_)) => Stage::Clean,
                    Some(Act::Remove(_) | Act::Abrade(_)) => Stage::Strip,
                    Some(Act::Apply(_)) | None if inside => Stage::Inside,
                    Some(Act::Apply(_)) | None => Stage::Outside,
                };
                let at = self.add(Task::new(Deed::Step(surface.clone(), step.clone()), stage, parts.clone()));
                if let Some(before) = before {
                    self.follow(at, before, Reason::Layer);
                }
                before = Some(at);
                for (wanted, _) in tested.extract_if(.., |(_, spoilt)| spoilt.is(step)) {
                    let deed = Deed::Test(wanted, surface.clone());
                    let test = self.add(Task::new(deed, Stage::Test, parts.clone()));
                    self.follow(at, test, Reason::Tested);
                }
            }
        }
    }

    /// The tests that nobody planned or made, each with the step that it has to come before.
    fn tests_wanted(&self, surface: &Row<Surface>) -> Vec<(TestFor, Row<Step>)> {
        let mut wanted = Vec::new();
        let planned = |step: &Row<Step>| step.is_planned() && surface.steps.iter().any(|own| own.is(step));
        let coats = self.facts.hazards.iter().flat_map(|hazard| hazard.coats());
        let lead = coats.filter(|coat| coat.tests.is_empty() && coat.reading != TestReading::Negative);
        let disturbed = lead.filter_map(|coat| coat.disturbed_by.as_ref()).find(|step| planned(step));
        wanted.extend(disturbed.map(|step| (TestFor::Lead, step.clone())));
        if let Some(step) = self.takes_off_what_nobody_knows(surface) {
            wanted.push((TestFor::Solubility, step));
        }
        wanted
    }

    /// The first planned step that takes off a coat of which nobody said what it is, where no test tells what dissolves it.
    fn takes_off_what_nobody_knows(&self, surface: &Row<Surface>) -> Option<Row<Step>> {
        let mut first = None;
        let mut told = false;
        fold(surface, self.tins, self.trade, |step, before| {
            if let Some(Act::Test(of)) = step.act() {
                let means = step.by.as_ref().map_or("", |by| by.value.0.as_str());
                told |= [of.value.0.as_str(), means]
                    .iter()
                    .any(|text| self.trade.tells(Telling::Solubility, text));
            }
            let unknown = before.layers.last().is_some_and(|stratum| {
                let coat = &stratum.coat;
                let family = coat.finish.as_deref().and_then(|id| self.trade.finish(id));
                let unnamed = matches!(coat.written, FinishName::Old | FinishName::Unknown);
                coat.step.is_none() && (unnamed || family.is_none_or(|family| family.is_generic()))
            });
            let removes = matches!(step.act(), Some(Act::Remove(_)));
            if first.is_none() && !told && step.is_planned() && removes && unknown {
                first = Some(step.clone());
            }
        });
        first
    }

    fn is_inside(&self, surface: &Surface) -> bool {
        let named = surface.name.as_ref().map(|name| name.value.0.clone());
        let names = || {
            let parts = self.record.parts.iter();
            let parts = parts.filter(|part| surface.parts.iter().any(|id| id.value == part.id.value));
            parts.map(|part| part.name.value.0.clone()).collect::<Vec<_>>()
        };
        let names = named.map_or_else(names, |name| vec![name]);
        !names.is_empty() && names.iter().all(|name| self.trade.tells(Telling::Inside, name))
    }

    /// What covers a part that is worked on comes off before, and goes back after.
    fn covers(&mut self) {
        let mut off: BTreeMap<PartId, (Option<usize>, usize)> = BTreeMap::new();
        let record = self.record;
        // Covers that come off are worked on themselves, and may be covered too.
        let mut next = 0;
        while next < self.tasks.len() {
            for part in self.tasks[next].parts.clone() {
                for cover in self.covers_of(&part) {
                    let row = record.parts.iter().find(|row| row.id.value == cover);
                    let Some(row) = row else { continue };
                    if !row.present() && !row.is_planned() {
                        continue;
                    }
                    let (taken, back) = match off.get(&cover) {
                        Some(known) => *known,
                        None => {
                            let found = self.taken_off(row);
                            off.insert(cover.clone(), found);
                            found
                        }
                    };
                    let is_cover = Some(next) == taken || next == back;
                    if let Some(taken) = taken.filter(|_| !is_cover) {
                        self.follow(next, taken, Reason::Covered);
                    }
                    if !is_cover {
                        self.follow(back, next, Reason::Below);
                    }
                }
            }
            next += 1;
        }
        for (cover, (_, back)) in off {
            // It goes back as it is to be: with its own coats on.
            let own: Vec<usize> = (0..self.tasks.len())
                .filter(|at| self.tasks[*at].is_on(&cover) && self.tasks[*at].stage < Stage::Fit)
                .filter(|at| !self.leads_to(back, *at))
                .collect();
            own.into_iter().for_each(|at| self.follow(back, at, Reason::Below));
        }
    }

    /// Whether a task comes, by what is known so far, somewhere before another.
    fn leads_to(&self, from: usize, to: usize) -> bool {
        let mut seen = vec![false; self.tasks.len()];
        let mut waiting = vec![to];
        while let Some(at) = waiting.pop() {
            if at == from {
                return true;
            }
            if !std::mem::replace(&mut seen[at], true) {
                waiting.extend(self.tasks[at].after.iter().map(|(before, _)| *before));
            }
        }
        false
    }

    fn covers_of(&self, part: &PartId) -> Vec<PartId> {
        let row = self.record.parts.iter().find(|row| row.id.value == *part);
        let covers = row
            .into_iter()
            .flat_map(|row| row.under.iter().chain(row.behind.iter()).chain(row.fixed_by.iter()));
        covers.map(|cover| cover.value.clone()).collect()
    }

    /// The tasks that take a part off, where it is not off, and put it back: those that are planned, or else new ones.
    fn taken_off(&mut self, part: &Row<Part>) -> (Option<usize>, usize) {
        let id = &part.id.value;
        let planned = |stage: Stage| {
            let mut own = self.tasks.iter().enumerate().filter(|(_, task)| task.work().is_some());
            own.find(|(_, task)| task.stage == stage && task.is_on(id)).map(|(at, _)| at)
        };
        let (taken, back) = (planned(Stage::TakeOff), planned(Stage::PutBack));
        let taken = match taken {
            Some(at) => Some(at),
            None if self.is_off(part) || part.is_planned() => None,
            None => {
                let task = Task::new(Deed::TakeOff(part.clone()), Stage::TakeOff, vec![id.clone()]);
                Some(self.add(task))
            }
        };
        let back = back.unwrap_or_else(|| {
            self.add(Task::new(Deed::PutBack(part.clone()), Stage::PutBack, vec![id.clone()]))
        });
        if let Some(taken) = taken {
            self.follow(back, taken, Reason::Below);
        }
        (taken, back)
    }

    /// Whether the last that was done to a part was to take it off.
    fn is_off(&self, part: &Part) -> bool {
        if part.standing.value == Standing::Removed {
            return true;
        }
        let done = self.record.works.iter().filter(|work| !work.is_planned());
        let done = done.filter(|work| work.part.iter().any(|id| id.value == part.id.value));
        let mut moves: Vec<(Option<NaiveDate>, bool)> = done
            .filter_map(|work| {
                let off = self.trade.tells_of(Telling::TakeOff, &work.did, &part.name);
                let back = self.trade.tells_of(Telling::PutBack, &work.did, &part.name);
                (off != back).then(|| (work.on.as_ref().map(|on| on.value), off))
            })
            .collect();
        // What has no day stands where the record has it.
        if moves.iter().all(|(on, _)| on.is_some()) {
            moves.sort_by_key(|(on, _)| *on);
        }
        moves.last().is_some_and(|(_, off)| *off)
    }

    /// A part is made before anything is done to it.
    fn made_first(&mut self) {
        let made = (0..self.tasks.len()).filter(|at| matches!(self.tasks[*at].deed, Deed::Make(_)));
        for maker in made.collect::<Vec<_>>() {
            let part = self.tasks[maker].parts[0].clone();
            for at in 0..self.tasks.len() {
                if self.tasks[at].is_on(&part) {
                    self.follow(at, maker, Reason::Made);
                }
            }
        }
    }

    /// Joints and parts are mended before coats come off or go on, where nothing else speaks against it.
    fn structure_first(&mut self) {
        let of = |stage: fn(Stage) -> bool| {
            (0..self.tasks.len()).filter(|at| stage(self.tasks[*at].stage)).collect::<Vec<_>>()
        };
        let mending = of(|stage| stage == Stage::Structure);
        let finishing = of(|stage| (Stage::Strip..=Stage::Outside).contains(&stage));
        for at in finishing {
            for before in &mending {
                if self.tasks[*before].parts.iter().any(|part| self.tasks[at].is_on(part)) {
                    self.tasks[at].after.push((*before, Reason::Structure));
                }
            }
        }
    }
}

fn ids(said: &[Said<PartId>]) -> Vec<PartId> {
    said.iter().map(|id| id.value.clone()).collect()
}

/// Whether a step lays a coat that has to dry.
pub(super) fn lays(step: &Step, trade: &Trade) -> bool {
    laid(step, trade).is_some()
}
