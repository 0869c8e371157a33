//! Everything that the archive keeps of one piece, made from its facts.

use std::collections::BTreeMap;

use pulldown_cmark::{Event, Tag};
use rusqlite::types::Value;
use sha2::{Digest, Sha256};

use super::entry::{
    AfterEntry, AmendmentEntry, CallBackEntry, ColourEntry, CostEntry, DayBookEntry, DecisionEntry,
    FaceEntry, FindingEntry, FixingEntry, LayerEntry, LessonEntry, LessonForEntry, MendEntry, MixEntry,
    OpenEntry, OptionEntry, PartEntry, PatchEntry, PhotographEntry, PieceEntry, ReceiptEntry, SealEntry,
    StepEntry, StockUseEntry, SurfaceEntry, TestEntry, TinUseEntry, UndoneEntry, UndoneFindingEntry,
    UpkeepEntry, WorkEntry,
};
use super::table::Entry;
use crate::daybook::{Bench, waiting};
use crate::derive::face::{Lying, Soundness};
use crate::derive::plan::stock_used;
use crate::derive::{
    Coat, CostOrigin, Mending, SurfaceFacts, UpkeepTask, Workpiece, coating, coverage, mending, said_area,
    seen,
};
use crate::fields::{Range, Row, Said};
use crate::record::{Act, FindingId, Folder, Part, PartId, Record, Story, Surface, Tin, WorkId};
use crate::trade::{Agent, BARE_WOOD, Rating, Trade};
use crate::unit::edtf::Bound;
use crate::unit::hexadecimal;
use crate::words::Words;

/// What the archive is told of a piece besides its facts.
#[derive(Debug, Clone, Default)]
pub struct Beside {
    /// Its page, from the archive's folder.
    pub page: String,
    /// A fingerprint of the files that it was read from.
    pub source: String,
}

/// A line that is searched.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it tells of: the name of a table, or `summary`, `story` and the like.
    pub section: &'static str,
    /// The number of the row that it tells of; 0 where it tells of the piece.
    pub no: usize,
    /// What it says.
    pub text: String,
}

/// Everything that the archive keeps of one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Entries {
    /// Its folder.
    pub(super) folder: String,
    /// The fingerprint of the files that it was read from.
    pub(super) source: String,
    /// What tells whether any of it changed.
    pub(super) content: String,
    /// Its own row.
    pub(super) piece: Vec<Value>,
    /// The rows of all other tables, by the table's name.
    pub(super) rows: BTreeMap<&'static str, Vec<Vec<Value>>>,
    /// The lines that are searched.
    pub(super) lines: Vec<Line>,
}

impl Entries {
    /// Everything that the archive keeps of a piece.
    pub fn of(folder: &Folder, workpiece: &Workpiece, trade: &Trade, beside: Beside) -> Entries {
        let tins = folder.workshop.as_ref().map_or(&[][..], |workshop| &workshop.tins);
        let gathering = Gathering { folder, workpiece, record: &workpiece.record, trade, tins };
        let mut entries = Entries {
            folder: workpiece.piece.folder.clone(),
            source: beside.source,
            content: String::new(),
            piece: gathering.piece(beside.page).values(),
            rows: BTreeMap::new(),
            lines: Vec::new(),
        };
        gathering.head(&mut entries);
        gathering.parts(&mut entries);
        gathering.findings(&mut entries);
        gathering.decisions(&mut entries);
        gathering.works(&mut entries);
        gathering.day_book(&mut entries);
        gathering.surfaces(&mut entries);
        gathering.tests(&mut entries);
        gathering.fixings(&mut entries);
        gathering.money(&mut entries);
        gathering.left(&mut entries);
        gathering.receipts(&mut entries);
        gathering.after(&mut entries);
        gathering.learnt(&mut entries);
        gathering.photographs(&mut entries);
        gathering.seals(&mut entries);
        gathering.tell_once(&mut entries);
        entries.content =
            content(&[&[entries.source.clone().into()], &entries.piece], &entries.rows, &entries.lines);
        entries
    }

    /// Adds a row, and says its number, counted from 1.
    fn add<E: Entry>(&mut self, entry: E) -> usize {
        let rows = self.rows.entry(E::TABLE.name).or_default();
        rows.push(entry.values());
        rows.len()
    }

    /// Adds a line that is searched, where it says anything.
    fn line(&mut self, section: &'static str, no: usize, told: &[Option<&str>]) {
        let told: Vec<&str> =
            told.iter().copied().flatten().map(str::trim).filter(|text| !text.is_empty()).collect();
        if !told.is_empty() {
            self.lines.push(Line { section, no, text: told.join("; ") });
        }
    }
}

/// What entries are made from.
struct Gathering<'a> {
    folder: &'a Folder,
    workpiece: &'a Workpiece,
    record: &'a Record,
    trade: &'a Trade,
    tins: &'a [Said<Tin>],
}

impl<'a> Gathering<'a> {
    fn piece(&self, page: String) -> PieceEntry {
        let (record, piece) = (self.record, &self.workpiece.piece);
        let ledger = self.workpiece.facts.ledger.for_archive();
        let found = record.found.for_archive().as_ref();
        let reserved = record.reserved.as_ref();
        let handover = piece.handover();
        let size = record.size.as_ref();
        let years = record.made.as_ref().map(|made| made.years());
        let year = |bound: Bound| if let Bound::Year(year) = bound { Some(i64::from(year)) } else { None };
        let days = record.works.iter().filter_map(|work| Some(work.on.as_ref()?.value));
        let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
        let days: Vec<_> = days.chain(steps.filter_map(|step| Some(step.on.as_ref()?.value))).collect();
        let timbers = record.parts.iter().filter(|part| part.present());
        PieceEntry {
            folder: piece.folder.clone(),
            number: record.number.to_string(),
            title: record.title.to_string(),
            kind: record.kind.to_string(),
            sort: record.kind.split('/').next().unwrap_or_default().trim().to_owned(),
            of_set: piece.set.as_ref().map(|set| set.folder().to_owned()),
            made: record.made.as_ref().map(|made| made.to_string()),
            made_from: years.and_then(|years| year(years.earliest)),
            made_until: years.and_then(|years| year(years.latest)),
            basis: text(&record.basis),
            maker: text(&record.maker),
            level: record.level.as_ref().map(|level| level.word().to_owned()),
            summary: text(&record.summary),
            stance: text(&record.stance),
            told_by: text(&record.told_by),
            inscriptions: text(&record.inscriptions),
            notes: text(record.notes.for_archive()),
            width: size.map(|size| size.width.mm()),
            depth: size.map(|size| size.depth.mm()),
            height: size.map(|size| size.height.mm()),
            weighs: record.weighs.as_ref().map(|mass| mass.kg()),
            timbers: listed(
                timbers.filter_map(|part| self.timber(part)).map(|(id, said)| id.unwrap_or(said)),
            ),
            published: record.publish.as_ref().is_none_or(|said| said.value),
            page,
            found_on: found.and_then(|found| Some(found.on.as_ref()?.value)),
            found_from: found.and_then(|found| text(&found.from)),
            paid: ledger.paid,
            asking: record.asking.as_ref().map(|asking| asking.value),
            for_sale_since: record.for_sale_since.as_ref().map(|day| day.value),
            reserved_on: reserved.and_then(|kept| Some(kept.on.as_ref()?.value)),
            reserved_until: reserved.and_then(|kept| Some(kept.until.as_ref()?.value)),
            reserved_for: reserved
                .map(|kept| text(kept.to.for_archive()).unwrap_or_else(|| "somebody".to_owned())),
            deposit: reserved.and_then(|kept| Some(kept.deposit.for_archive().as_ref()?.value)),
            handed_over: piece.handed_over(),
            came_back: piece.came_back(),
            buyer: handover.and_then(|handover| text(handover.to.for_buyer())),
            price: handover.and_then(|handover| Some(handover.price.for_archive().as_ref()?.value)),
            hours: ledger.hours,
            estimated: ledger.estimated,
            spent: ledger.spent(),
            spent_is_all: ledger.missing().is_empty(),
            cost: ledger.cost().ok(),
            margin: ledger.margin().ok(),
            earned_per_hour: ledger.earned_per_hour().ok(),
            first_work: days.iter().min().copied(),
            last_work: days.iter().max().copied(),
            seals: piece.seals.len(),
        }
    }

    /// Whether what stands at a place of the record is told by another piece of the set already.
    fn is_told_before(&self, span: &std::ops::Range<usize>) -> bool {
        self.workpiece.piece.shared_between(span).is_some_and(|(_, place)| place > 0)
    }

    /// Leaves out lines that another piece of the set has.
    fn tell_once(&self, entries: &mut Entries) {
        let (record, piece) = (self.record, &self.workpiece.piece);
        let Some(set) = &piece.set else { return };
        fn spans<'r, T: 'r>(rows: &'r [Row<T>]) -> Vec<&'r std::ops::Range<usize>> {
            rows.iter().map(|row| &row.span).collect()
        }
        // A step is one of the set where its surface is.
        let surface = |surface: &'a Row<Surface>| surface.steps.iter().map(move |_| &surface.span);
        let steps: Vec<_> = record.surfaces.iter().flat_map(surface).collect();
        let head = |section: &str| match section {
            "made" => record.made.as_ref().map(|said| &said.span),
            "summary" => record.summary.as_ref().map(|said| &said.span),
            "stance" => record.stance.as_ref().map(|said| &said.span),
            "told-by" => record.told_by.as_ref().map(|said| &said.span),
            "notes" => record.notes.for_archive().as_ref().map(|said| &said.span),
            "found" => record.found.for_archive().as_ref().map(|said| &said.span),
            "use" => record.r#use.as_ref().map(|said| &said.span),
            _ => None,
        };
        let rows: BTreeMap<&str, Vec<&std::ops::Range<usize>>> = BTreeMap::from([
            ("part", spans(&record.parts)),
            ("patch", spans(&record.patches)),
            ("finding", spans(&record.findings)),
            ("decision", spans(&record.decisions)),
            ("work", spans(&record.works)),
            ("surface", spans(&record.surfaces)),
            ("step", steps),
            ("test", spans(&record.tests)),
            ("fixing", spans(&record.fixings)),
            ("undone", spans(&record.undone)),
            ("open", spans(&record.open)),
        ]);
        entries.lines.retain(|line| {
            let span = match line.no {
                0 => head(line.section),
                no => rows.get(line.section).and_then(|rows| rows.get(no - 1)).copied(),
            };
            let told = match line.section {
                "story" => piece.story_is_of_set() && set.place > 0,
                "day_book" => {
                    piece.jottings.get(line.no.wrapping_sub(1)).is_some_and(|line| line.is_told_before())
                }
                _ => span.is_some_and(|span| self.is_told_before(span)),
            };
            !told
        });
    }

    /// The lines that tell of the piece as a whole.
    fn head(&self, entries: &mut Entries) {
        let record = self.record;
        let found = record.found.for_archive().as_ref();
        entries.line("title", 0, &[Some(&record.title), Some(&record.number), Some(&record.kind)]);
        let made = record.made.as_ref().map(|made| made.to_string());
        entries.line("made", 0, &[made.as_deref(), said(&record.basis), said(&record.maker)]);
        entries.line("summary", 0, &[said(&record.summary)]);
        entries.line("stance", 0, &[said(&record.stance)]);
        entries.line(
            "told-by",
            0,
            &[said(&record.told_by), said(&record.inscriptions), said(&record.subject)],
        );
        entries.line("notes", 0, &[said(record.notes.for_archive())]);
        if let Some(found) = found {
            entries.line("found", 0, &[said(&found.from), said(&found.note)]);
        }
        if let Some(used) = &record.r#use {
            entries.line("use", 0, &[said(&used.r#for)]);
            for text in used.assembly.iter().chain(&used.moving).chain(&used.cautions) {
                entries.line("use", 0, &[Some(text)]);
            }
        }
        if let Some(reserved) = &record.reserved {
            entries.line("reserved", 0, &[said(reserved.to.for_archive())]);
        }
        if let Some(handover) = &record.handover {
            entries.line("handover", 0, &[said(handover.to.for_buyer())]);
            for given in &handover.given {
                entries.line("handover", 0, &[Some(given)]);
            }
        }
        for paragraph in paragraphs(&self.workpiece.piece.story) {
            entries.line("story", 0, &[Some(&paragraph)]);
        }
    }

    fn parts(&self, entries: &mut Entries) {
        for facts in &self.workpiece.facts.parts {
            let part = &facts.part;
            let timber = self.timber(part);
            let mass = facts.mass.as_ref().ok().map(|mass| mass.all);
            let size = part.size.as_ref();
            let mm = |of: fn(&crate::record::PartSize) -> &Option<Said<crate::unit::Length>>| {
                size.and_then(|size| Some(of(size).as_ref()?.mm()))
            };
            let entry = PartEntry {
                id: part.id.0.clone(),
                name: part.name.to_string(),
                standing: part.standing.word(),
                how_known: text(&part.how_known),
                present: part.present(),
                timber: timber.as_ref().and_then(|(id, _)| id.clone()),
                timber_said: timber.as_ref().map(|(_, said)| said.clone()),
                build: part.build.as_ref().map(|build| build.word()),
                material: text(&part.material),
                count: part.how_many(),
                length: mm(|size| &size.length),
                width: mm(|size| &size.width),
                thick: mm(|size| &size.thick),
                diameter: mm(|size| &size.diameter),
                mass_least: mass.map(|mass| mass.low.kg()),
                mass_most: mass.map(|mass| mass.high.kg()),
                from_stock: part.from_stock.as_ref().map(|id| id.0.clone()),
                instead_of: text(&part.instead_of),
                undo: text(&part.undo),
                note: text(&part.note),
            };
            let no = entries.add(entry);
            let told = [
                Some(&**part.name),
                Some(part.standing.word()),
                timber.as_ref().map(|(_, said)| said.as_str()),
                said(&part.material),
                said(&part.how_known),
                said(&part.instead_of),
                said(&part.undo),
                said(&part.note),
                part.from_stock.as_ref().map(|id| &***id),
            ];
            entries.line("part", no, &told);
        }
        for patch in &self.record.patches {
            let measured = self.workpiece.photographs.patches.iter().find(|facts| facts.patch.is(patch));
            let area = measured.and_then(|facts| facts.area).or_else(|| said_area(patch));
            let part = self.part(&patch.part);
            let no = entries.add(PatchEntry {
                part: part.clone(),
                what: patch.what.to_string(),
                standing: patch.standing.word(),
                area: area.map(|area| area.m2() * 10_000.0),
                made_with: text(&patch.with),
                instead_of: text(&patch.instead_of),
                undo: text(&patch.undo),
                note: text(&patch.note),
            });
            let told = [
                Some(&**patch.what),
                Some(&part),
                said(&patch.with),
                said(&patch.instead_of),
                said(&patch.note),
            ];
            entries.line("patch", no, &told);
        }
    }

    fn findings(&self, entries: &mut Entries) {
        for finding in &self.record.findings {
            let (_, mended) = mending(self.record, finding);
            let left = self.record.undone.iter().flat_map(|undone| undone.leaves.iter());
            let remains = left.map(|left| &left.value).any(|left| *left == finding.id.value);
            let parts = self.parts_named(&finding.part);
            let cause = finding.cause.as_ref();
            let no = entries.add(FindingEntry {
                id: finding.id.0.clone(),
                parts: parts.clone(),
                seen: finding.seen.to_string(),
                term: self.trade.term(&finding.seen).map(|term| term.id.0.clone()),
                extent: text(&finding.extent),
                severity: finding.severity.as_ref().map(|severity| severity.word()),
                cause: cause.map(|cause| cause.guess.to_string()),
                confidence: cause.map(|cause| cause.confidence.word()),
                outcome: mended.map(|mended| match mended {
                    Mending::Held => "held",
                    Mending::Partly => "partly",
                    Mending::Failed => "failed",
                }),
                remains,
            });
            let told = [
                Some(seen(&finding.seen, self.trade)),
                Some(parts),
                text(&finding.extent),
                cause.map(|cause| cause.guess.to_string()),
            ];
            entries.line("finding", no, &told.each_ref().map(|text| text.as_deref()));
        }
    }

    fn decisions(&self, entries: &mut Entries) {
        for decision in &self.record.decisions {
            let no = entries.add(DecisionEntry {
                question: decision.ask.to_string(),
                chose: decision.chose.to_string(),
                because: text(&decision.because),
            });
            entries.line(
                "decision",
                no,
                &[Some(&decision.ask), Some(&decision.chose), said(&decision.because)],
            );
            for option in &decision.options {
                entries.add(OptionEntry {
                    decision: no,
                    plan: option.plan.to_string(),
                    pro: text(&option.r#for),
                    contra: text(&option.against),
                });
                entries.line(
                    "decision",
                    no,
                    &[Some(&option.plan), said(&option.r#for), said(&option.against)],
                );
            }
        }
    }

    fn works(&self, entries: &mut Entries) {
        for work in &self.record.works {
            let parts = self.parts_named(&work.part);
            let no = entries.add(WorkEntry {
                id: work.id.as_ref().map(|id| id.0.clone()),
                on_day: work.on.as_ref().map(|on| on.value),
                parts: parts.clone(),
                did: work.did.to_string(),
                why: text(&work.why),
                means: text(&work.by),
                task: text(&work.task),
                hours: work.hours.for_archive().as_ref().map(|hours| hours.value),
                of_pieces: self.workpiece.piece.shared_between(&work.span).map(|(between, _)| between),
                counted: !self.is_told_before(&work.span),
                turned_out: work.turned_out.as_ref().map(|outcome| outcome.word()),
                redoes: work.redoes.as_ref().and_then(|id| self.work(id)),
                undo: text(&work.undo),
                undoable: work.undoable.as_ref().map(|undoable| undoable.word()),
            });
            let told = [
                Some(&**work.did),
                Some(&parts),
                said(&work.by),
                said(&work.why),
                said(&work.task),
                said(&work.undo),
            ];
            entries.line("work", no, &told);
            for finding in work.mends.iter().filter_map(|id| self.finding(id)) {
                entries.add(MendEntry { work: no, finding });
            }
        }
    }

    fn day_book(&self, entries: &mut Entries) {
        let piece = &self.workpiece.piece;
        if piece.jottings.is_empty() {
            return;
        }
        let gone = piece.handed_over().is_some();
        let bench = Bench::of(self.trade, Some(self.record));
        let waiting = if gone { Vec::new() } else { waiting(piece, self.record, &bench) };
        for jotting in &piece.jottings {
            let name = jotting.name.for_archive();
            let waits = waiting.iter().find(|line| line.jotting.name.for_archive() == name);
            let line = jotting.words.for_archive();
            let no = entries.add(DayBookEntry {
                on_day: jotting.on,
                line: line.clone(),
                minutes: *jotting.minutes.for_archive(),
                private: jotting.said.is_err(),
                waits: waits.map_or(0, |line| line.proposals.len()),
            });
            entries.line("day_book", no, &[Some(line)]);
        }
    }

    fn surfaces(&self, entries: &mut Entries) {
        // A layer and a colour name steps by their numbers within the piece.
        let steps: Vec<&Row<crate::record::Step>> =
            self.record.surfaces.iter().flat_map(|surface| &surface.steps).collect();
        let number =
            |step: &Row<crate::record::Step>| steps.iter().position(|known| known.is(step)).map(|at| at + 1);
        for facts in &self.workpiece.facts.surfaces {
            let surface = &facts.surface;
            let parts = self.parts_named(&surface.parts);
            let name = surface.name.as_ref().map_or_else(|| parts.clone(), |name| name.to_string());
            let top = facts.today.layers.last().map(|stratum| stratum.coat.name.clone());
            let found = listed(surface.found.iter().map(|found| found.to_string()));
            let area = facts.consumption.for_archive().iter().find_map(|used| used.quantity.as_ref().ok());
            let area = area.map(|quantity| quantity.area).or_else(|| self.area(surface));
            let no = entries.add(SurfaceEntry {
                name: name.clone(),
                parts,
                timbers: self.timbers(&surface.parts),
                found: found.clone(),
                top,
                area_least: area.map(|area| area.least.m2()),
                area_most: area.map(|area| area.most.m2()),
            });
            entries.line("surface", no, &[Some(&name), Some(&found)]);
            self.steps(entries, facts, &name);
            self.layers(entries, facts, number);
            self.faces(entries, facts);
        }
        for facts in &self.workpiece.photographs.swatches {
            let colours = facts.colours.as_ref().ok();
            let numbers = |rows: &[Row<crate::record::Step>]| {
                listed(rows.iter().filter_map(number).map(|number| number.to_string()))
            };
            let parts: &[Said<PartId>] = match &facts.surface {
                Some(surface) => &surface.parts,
                None => &facts.swatch.part,
            };
            let (target, result) = (colours.map(|m| m.target.lab), colours.map(|m| m.result.lab));
            let no = entries.add(ColourEntry {
                photograph: facts.swatch.photo.to_string(),
                surface: facts.surface.as_ref().and_then(|surface| self.surface(surface)),
                timbers: self.timbers(parts),
                recipe: numbers(&facts.recipe),
                over: numbers(&facts.over),
                target_l: target.map(|lab| lab.l),
                target_a: target.map(|lab| lab.a),
                target_b: target.map(|lab| lab.b),
                result_l: result.map(|lab| lab.l),
                result_a: result.map(|lab| lab.a),
                result_b: result.map(|lab| lab.b),
                difference: colours.map(|colours| colours.difference),
                uncertainty: colours.map(|colours| colours.uncertainty),
                grey_card: colours.is_some_and(|colours| colours.grey.is_some()),
                note: text(&facts.swatch.note),
            });
            entries.line("colour", no, &[said(&facts.swatch.note)]);
        }
        for due in &self.workpiece.facts.upkeep.due {
            let (task, surface) = match &due.task {
                UpkeepTask::LightUse(surface) => ("light-use", Some(surface)),
                UpkeepTask::FullCure(surface) => ("full-cure", Some(surface)),
                UpkeepTask::Renewing(surface) => ("renewing", Some(surface)),
                UpkeepTask::Fixings => ("fixings", None),
            };
            entries.add(UpkeepEntry {
                task,
                surface: surface.and_then(|surface| self.surface(surface)),
                on_day: due.on,
                every_months: due.every_months,
            });
        }
    }

    fn steps(&self, entries: &mut Entries, facts: &SurfaceFacts, name: &str) {
        for step in &facts.surface.steps {
            let (act, what) = match step.act() {
                Some(Act::Clean(what)) => (Some("clean"), what.to_string()),
                Some(Act::Test(what)) => (Some("test"), what.to_string()),
                Some(Act::Remove(what)) => (Some("remove"), what.to_string()),
                Some(Act::Abrade(grits)) => {
                    (Some("abrade"), listed(grits.iter().map(|grit| grit.to_string())))
                }
                Some(Act::Apply(what)) => (Some("apply"), what.to_string()),
                None => (None, listed(step.acts().into_iter().map(act_words))),
            };
            let applied = step.apply.as_ref().map(|name| &name.value);
            let named = match step.act() {
                Some(Act::Remove(what)) => what.value.layer(),
                _ => applied,
            };
            let known = named.and_then(|name| coating(name, self.tins, self.trade));
            let every = step.every_hours.as_ref().map(|every| every.value);
            let only = (!step.only.is_empty()).then(|| self.parts_named(&step.only));
            let no = entries.add(StepEntry {
                surface: facts.number,
                on_day: step.on.as_ref().map(|on| on.value),
                act,
                what: what.clone(),
                finish: known.map(|known| known.finish.id.0.clone()),
                tin: named.and_then(|name| name.tin()).map(|id| id.0.clone()),
                means: text(&step.by),
                coats: applied.map(|_| step.coat_count()),
                every_least: every.map(|every: Range| every.low),
                every_most: every.map(|every: Range| every.high),
                result: step.result.as_ref().map(|result| result.to_string()),
                only_on: only.clone(),
                undone: facts.today.undone.iter().any(|coat| coat.laid_by(step)),
                why: text(&step.why),
                note: text(&step.note),
            });
            let mut mixed = Vec::new();
            for ingredient in &step.mix {
                let Range { low, high } = ingredient.parts.value;
                entries.add(MixEntry {
                    step: no,
                    ingredient: ingredient.of.to_string(),
                    parts_least: low,
                    parts_most: high,
                });
                mixed.push(format!("{} {}", parts_words(ingredient.parts.value), ingredient.of.value));
            }
            let called = known.map(|known| match known.tin.and_then(|tin| tin.name.as_ref()) {
                Some(name) => format!("{}, {}", name.value, known.finish.name.value),
                None => known.finish.name.to_string(),
            });
            let told = [
                act.map(str::to_owned),
                Some(what),
                called,
                (!mixed.is_empty()).then(|| mixed.join(" : ")),
                step.result.as_ref().map(|result| result.to_string()),
                text(&step.by),
                only.or_else(|| Some(name.to_owned())),
                text(&step.why),
                text(&step.note),
            ];
            entries.line("step", no, &told.each_ref().map(|text| text.as_deref()));
        }
    }

    fn layers(
        &self,
        entries: &mut Entries,
        facts: &SurfaceFacts,
        number: impl Fn(&Row<crate::record::Step>) -> Option<usize>,
    ) {
        let there =
            facts.today.layers.iter().zip(1..).map(|(stratum, place)| (&stratum.coat, "there", Some(place)));
        let undone = facts.today.undone.iter().map(|coat| (coat, "undone", None));
        let removed = facts.today.removed.iter().map(|coat| (coat, "removed", None));
        for (coat, state, place) in there.chain(undone).chain(removed) {
            let Coat { name, finish, coats, on, step, .. } = coat;
            entries.add(LayerEntry {
                surface: facts.number,
                place,
                state,
                name: name.clone(),
                finish: finish.clone(),
                coats: *coats,
                on_day: *on,
                step: step.as_ref().and_then(&number),
            });
        }
    }

    fn faces(&self, entries: &mut Entries, facts: &SurfaceFacts) {
        for face in &facts.faces {
            let name = |layer: &Lying| match layer.place {
                Some(place) => facts.today.layers[place].coat.name.clone(),
                None => "not recorded".to_owned(),
            };
            // What gets through to the wood marks that, too.
            let wood = self.trade.finish(BARE_WOOD).map(|wood| self.trade.resistance([wood]));
            let wood = |agent: Agent| wood.filter(|_| face.reaches_wood(agent)).map(|wood| wood.marks(agent));
            let worst = |agent: Agent| face.worst(agent).max(wood(agent).unwrap_or(Rating::None)).word();
            let named: Vec<String> = face.parts.iter().map(|part| self.part(part)).collect();
            entries.add(FaceEntry {
                surface: facts.number,
                parts: listed(named),
                layers: listed(face.layers.iter().map(name)),
                sure: face
                    .layers
                    .iter()
                    .all(|layer| layer.soundness == Soundness::Whole && layer.place.is_some()),
                water: worst(Agent::Water),
                alcohol: worst(Agent::Alcohol),
                hydrocarbon: worst(Agent::Hydrocarbon),
                dry_heat: worst(Agent::DryHeat),
                wet_heat: worst(Agent::WetHeat),
                alkali: worst(Agent::Alkali),
                acid: worst(Agent::Acid),
                abrasion: worst(Agent::Abrasion),
                light: worst(Agent::Light),
                damp_cloth: face.damp_cloth().word(),
                brush_only: face.brush_only(),
                may_hold_lead: face.may_hold_lead,
            });
        }
    }

    fn tests(&self, entries: &mut Entries) {
        for test in &self.record.tests {
            let parts = self.parts_named(&test.part);
            let no = entries.add(TestEntry {
                tested: test.of.to_string(),
                parts: parts.clone(),
                on_day: test.on.as_ref().map(|on| on.value),
                means: text(&test.by),
                result: test.result.to_string(),
                made: test.result.made(),
                surface: None,
            });
            entries.line("test", no, &[Some(&test.of), Some(&test.result), said(&test.by), Some(&parts)]);
        }
        for facts in &self.workpiece.facts.surfaces {
            for step in &facts.surface.steps {
                let Some(Act::Test(tested)) = step.act() else { continue };
                let on = if step.only.is_empty() { &facts.surface.parts } else { &step.only };
                // Its line is that of the step.
                entries.add(TestEntry {
                    tested: tested.to_string(),
                    parts: self.parts_named(on),
                    on_day: step.on.as_ref().map(|on| on.value),
                    means: text(&step.by),
                    result: step.result.as_ref().map_or_else(String::new, |result| result.to_string()),
                    made: step.result.as_ref().is_none_or(|result| result.made()),
                    surface: Some(facts.number),
                });
            }
        }
    }

    fn fixings(&self, entries: &mut Entries) {
        for fixing in &self.record.fixings {
            let parts = self.parts_named(&fixing.part);
            let known = self.trade.fixing(&fixing.kind);
            let no = entries.add(FixingEntry {
                parts: parts.clone(),
                kind: fixing.kind.to_string(),
                fixing: known.map(|known| known.id.0.clone()),
                count: fixing.count.as_ref().map(|count| count.0),
                standing: fixing.standing.word(),
                instead_of: text(&fixing.instead_of),
                why: text(&fixing.why),
                undo: text(&fixing.undo),
                note: text(&fixing.note),
            });
            let called = known.map(|known| known.label.to_string());
            let told = [
                Some(&**fixing.kind),
                called.as_deref(),
                Some(&parts),
                said(&fixing.instead_of),
                said(&fixing.why),
                said(&fixing.undo),
                said(&fixing.note),
            ];
            entries.line("fixing", no, &told);
        }
    }

    fn money(&self, entries: &mut Entries) {
        let ledger = self.workpiece.facts.ledger.for_archive();
        let costs = self.record.costs.for_archive();
        let mut used_stock: Vec<&str> = Vec::new();
        for part in &self.record.parts {
            if let Some(id) = part.from_stock.as_ref().filter(|id| !used_stock.contains(&id.0.as_str())) {
                used_stock.push(&id.0);
            }
        }
        // Materials are the costs in their order, the items of stock in theirs, and what came after the sale.
        for (at, material) in ledger.materials.iter().enumerate() {
            let cost = costs.get(at);
            let (origin, tin, share) = match &material.origin {
                CostOrigin::Said => {
                    ("said", cost.and_then(|cost| cost.tin.as_ref()).map(|id| id.0.clone()), None)
                }
                CostOrigin::Tin { tin, share, .. } => ("tin", Some(tin.clone()), Some(*share)),
                CostOrigin::Stock { .. } => ("stock", None, None),
                CostOrigin::After { refunded: false, .. } => ("after", None, None),
                CostOrigin::After { refunded: true, .. } => ("refunded", None, None),
            };
            let stock = match origin {
                "stock" => used_stock.get(at - costs.len()).map(|id| (*id).to_owned()),
                _ => None,
            };
            let no = entries.add(CostEntry {
                what: material.what.clone(),
                on_day: match &material.origin {
                    CostOrigin::After { on, .. } => Some(*on),
                    _ => cost.and_then(|cost| cost.on.as_ref()).map(|on| on.value),
                },
                origin,
                tin,
                share,
                stock,
                amount: material.amount.as_ref().ok().copied(),
            });
            entries.line("cost", no, &[Some(&material.what)]);
        }
        for tin in self.tins {
            if let Some(used) = self.tin_use(tin) {
                entries.add(used);
            }
        }
        for (part, at) in self.record.parts.iter().zip(1..) {
            let Some(id) = &part.from_stock else { continue };
            let item = self.folder.stock.items.iter().find(|item| item.id.value == id.value);
            entries.add(StockUseEntry {
                stock: id.0.clone(),
                part: at,
                used: stock_used(part, item.map(|item| &item.value)),
            });
        }
    }

    /// What the piece took out of a tin: what its costs say, and where they say nothing of this tin, what its steps come to.
    fn tin_use(&self, tin: &Tin) -> Option<TinUseEntry> {
        let id = &tin.id.0;
        let costs = self.record.costs.for_archive().iter();
        let named: Vec<_> =
            costs.filter(|cost| cost.tin.as_ref().is_some_and(|named| named.0 == *id)).collect();
        if !named.is_empty() {
            let shares: Option<Vec<_>> =
                named.iter().map(|cost| Some(cost.share.as_ref()?.value.0)).collect();
            let share = shares.and_then(|shares| {
                rust_decimal::prelude::ToPrimitive::to_f64(&shares.into_iter().sum::<rust_decimal::Decimal>())
            });
            return Some(TinUseEntry {
                tin: id.clone(),
                share_least: share,
                share_most: share,
                known_by: "cost",
            });
        }
        let surfaces = self.workpiece.facts.surfaces.iter();
        let taken = surfaces.flat_map(|facts| facts.consumption.for_archive()).filter(|used| {
            let applied = used.step.apply.as_ref().and_then(|name| name.tin());
            applied.is_some_and(|applied| applied.0 == *id)
        });
        let shares: Vec<Option<Range>> =
            taken.map(|used| used.quantity.as_ref().ok().and_then(|quantity| quantity.share)).collect();
        if shares.is_empty() {
            return None;
        }
        let all: Option<Vec<Range>> = shares.into_iter().collect();
        let sum = |of: fn(&Range) -> f64| all.as_ref().map(|all| all.iter().map(of).sum());
        Some(TinUseEntry {
            tin: id.clone(),
            share_least: sum(|share| share.low),
            share_most: sum(|share| share.high),
            known_by: "coverage",
        })
    }

    fn left(&self, entries: &mut Entries) {
        for undone in &self.record.undone {
            let no = entries.add(UndoneEntry {
                what: undone.what.to_string(),
                why: undone.why.word(),
                effect: text(&undone.effect),
            });
            entries.line("undone", no, &[Some(&undone.what), said(&undone.effect)]);
            for finding in undone.leaves.iter().filter_map(|id| self.finding(id)) {
                entries.add(UndoneFindingEntry { undone: no, finding });
            }
        }
        for open in &self.record.open {
            let no = entries.add(OpenEntry {
                what: open.what.to_string(),
                before: text(&open.before),
                due: open.due.for_archive().as_ref().map(|due| due.value),
            });
            entries.line("open", no, &[Some(&open.what), said(&open.before)]);
        }
        for call in self.record.call_backs.for_archive() {
            let no = entries.add(CallBackEntry {
                what: call.what.to_string(),
                on_day: call.on.as_ref().map(|on| on.value),
                done: call.done.as_ref().map(|done| done.value),
            });
            entries.line("call_back", no, &[Some(&call.what)]);
        }
    }

    /// Receipts that were given for it.
    fn receipts(&self, entries: &mut Entries) {
        for receipt in self.record.receipts.for_archive() {
            let no = entries.add(ReceiptEntry {
                number: receipt.number.value.0,
                on_day: receipt.on.value,
                what: receipt.what.word(),
                amount: receipt.amount.value,
                means: text(&receipt.by),
            });
            let number = format!("receipt {}", receipt.number.value.0);
            entries.line("receipt", no, &[Some(&number), Some(receipt.what.word()), said(&receipt.by)]);
        }
    }

    /// What happened after the piece had left.
    fn after(&self, entries: &mut Entries) {
        for after in self.record.after.for_archive() {
            let parts = self.parts_named(&after.part);
            let findings = after.finding.iter().filter_map(|id| self.finding(id));
            let findings = listed(findings.map(|no| seen(&self.record.findings[no - 1].seen, self.trade)));
            let no = entries.add(AfterEntry {
                on_day: after.on.value,
                what: after.what.word(),
                said: text(&after.said),
                parts: parts.clone(),
                findings: findings.clone(),
                hours: after.hours.as_ref().map(|hours| hours.value),
                cost: after.cost.as_ref().map(|cost| cost.value),
                refunded: after.refunded.as_ref().map(|refunded| refunded.value),
                note: text(&after.note),
            });
            let told = [
                Some(after.what.word()),
                said(&after.said),
                Some(&*parts),
                Some(&*findings),
                said(&after.note),
            ];
            entries.line("after", no, &told);
        }
    }

    fn learnt(&self, entries: &mut Entries) {
        for lesson in self.record.lessons.for_archive() {
            let no = entries.add(LessonEntry { lesson: lesson.text.to_string() });
            let words: Vec<&str> = lesson.r#for.iter().map(|word| &***word).collect();
            entries.line("lesson", no, &[Some(&lesson.text), Some(&words.join(", "))]);
            for word in &*lesson.r#for {
                entries.add(LessonForEntry { lesson: no, word: word.to_string() });
            }
        }
    }

    fn photographs(&self, entries: &mut Entries) {
        for photograph in &self.workpiece.facts.photographs.all {
            let no = entries.add(PhotographEntry {
                file: photograph.file.clone(),
                stage: photograph.stage.map(|stage| stage.word()),
                view: photograph.view.clone(),
                alt: photograph.alt.clone(),
                caption: photograph.caption.clone(),
                private: photograph.private,
            });
            entries.line("photograph", no, &[photograph.caption.as_deref(), photograph.alt.as_deref()]);
            for note in photograph.marks().iter().filter_map(|mark| mark.note.as_ref()) {
                entries.line("photograph", no, &[Some(note)]);
            }
        }
    }

    fn seals(&self, entries: &mut Entries) {
        for seal in &self.workpiece.piece.seals {
            entries.add(SealEntry {
                on_day: seal.on,
                handed_over: seal.handed_over,
                digest: seal.digest.clone(),
            });
        }
        for amended in &self.record.amendments {
            let (on_day, said) = (Some(amended.on.value), amended.because.to_string());
            let no = entries.add(AmendmentEntry { on_day, said: said.clone(), sort: "reason" });
            entries.line("amendment", no, &[Some(&said)]);
        }
        let currency = self.folder.workshop.as_ref().and_then(|workshop| workshop.currency.as_ref());
        let words = Words::with_currency(currency.map_or("", |currency| &currency.0));
        for change in &self.workpiece.facts.amendments {
            let said = words.say(&change.message);
            entries.add(AmendmentEntry { on_day: None, said, sort: "change" });
        }
    }

    /// The number of a finding, counted from 1.
    fn finding(&self, id: &FindingId) -> Option<usize> {
        self.record.findings.iter().position(|finding| finding.id.value == *id).map(|at| at + 1)
    }

    /// The number of a work, counted from 1.
    fn work(&self, id: &WorkId) -> Option<usize> {
        let named =
            |work: &Row<crate::record::Work>| work.id.as_ref().is_some_and(|known| known.value == *id);
        self.record.works.iter().position(named).map(|at| at + 1)
    }

    /// The number of a surface, counted from 1.
    fn surface(&self, surface: &Row<Surface>) -> Option<usize> {
        self.workpiece.facts.surfaces.iter().find(|facts| facts.surface.is(surface)).map(|facts| facts.number)
    }

    /// The name of a part; its id where there is no such part.
    fn part(&self, id: &PartId) -> String {
        self.row(id).map_or_else(|| id.0.clone(), |part| part.name.to_string())
    }

    fn row(&self, id: &PartId) -> Option<&'a Row<Part>> {
        self.record.parts.iter().find(|part| part.id.value == *id)
    }

    fn parts_named(&self, ids: &[Said<PartId>]) -> String {
        listed(ids.iter().map(|id| self.part(id)))
    }

    /// A part's timber, or that of its veneer, which is what shows: by id where a table knows it, and as written.
    fn timber(&self, part: &Part) -> Option<(Option<String>, String)> {
        let said =
            part.veneer.as_ref().or(part.timber.as_ref()).and_then(|answer| answer.known().cloned())?;
        let known = self.trade.timber(&said).map(|timber| timber.id.0.clone());
        Some((known, said.0))
    }

    fn timbers(&self, ids: &[Said<PartId>]) -> String {
        let parts = ids.iter().filter_map(|id| self.row(id));
        listed(parts.filter_map(|part| self.timber(part)).map(|(id, said)| id.unwrap_or(said)))
    }

    /// The area of a surface, where no step said it.
    fn area(&self, surface: &Surface) -> Option<coverage::CoveredArea> {
        let parts: Option<Vec<&Part>> = surface.parts.iter().map(|id| Some(&self.row(id)?.value)).collect();
        coverage::area(&parts?, surface.faces.as_ref().map_or(1, |faces| faces.0)).ok()
    }
}

/// The paragraphs, headings and items of a story as plain words.
fn paragraphs(story: &Story) -> Vec<String> {
    let mut paragraphs = vec![String::new()];
    for (event, _) in story.events() {
        let last = paragraphs.last_mut().expect("there is one from the start");
        match event {
            Event::Text(text) | Event::Code(text) => last.push_str(text),
            Event::SoftBreak | Event::HardBreak => last.push(' '),
            Event::Start(
                Tag::Paragraph
                | Tag::Heading { .. }
                | Tag::Item
                | Tag::TableRow
                | Tag::TableHead
                | Tag::CodeBlock(_),
            ) => paragraphs.push(String::new()),
            Event::Start(Tag::TableCell) => last.push(' '),
            _ => {}
        }
    }
    paragraphs.retain(|text| !text.trim().is_empty());
    paragraphs
}

/// An act of a step that says several.
fn act_words(act: Act<'_>) -> String {
    match act {
        Act::Clean(what) => format!("clean {}", what.value),
        Act::Test(what) => format!("test {}", what.value),
        Act::Remove(what) => format!("remove {}", what.value),
        Act::Abrade(grits) => format!("abrade {}", listed(grits.iter().map(|grit| grit.to_string()))),
        Act::Apply(what) => format!("apply {}", what.value),
    }
}

/// Parts of an ingredient, such as `2` or `2 to 3`.
pub(super) fn parts_words(parts: Range) -> String {
    match parts.low == parts.high {
        true => format!("{}", parts.low),
        false => format!("{} to {}", parts.low, parts.high),
    }
}

/// Each of them once, joined by commas.
fn listed(words: impl IntoIterator<Item = String>) -> String {
    let mut listed: Vec<String> = Vec::new();
    for word in words {
        if !listed.contains(&word) {
            listed.push(word);
        }
    }
    listed.join(", ")
}

fn text<T: std::ops::Deref<Target = str>>(text: &Option<Said<T>>) -> Option<String> {
    said(text).map(str::to_owned)
}

fn said<T: std::ops::Deref<Target = str>>(text: &Option<Said<T>>) -> Option<&str> {
    text.as_ref().map(|text| &*text.value)
}

/// What tells whether anything of a piece changed.
fn content(own: &[&[Value]], rows: &BTreeMap<&'static str, Vec<Vec<Value>>>, lines: &[Line]) -> String {
    let mut sum = Sha256::new();
    own.iter().for_each(|row| feed(&mut sum, row));
    for (table, rows) in rows {
        sum.update(table);
        rows.iter().for_each(|row| feed(&mut sum, row));
    }
    for Line { section, no, text } in lines {
        sum.update(section);
        sum.update(no.to_le_bytes());
        sum.update(text.len().to_le_bytes());
        sum.update(text);
    }
    hexadecimal(&sum.finalize())
}

/// Every value with its kind and its length, so that no two rows are one.
fn feed(sum: &mut Sha256, row: &[Value]) {
    sum.update([b'r']);
    for value in row {
        match value {
            Value::Null => sum.update([0]),
            Value::Integer(number) => {
                sum.update([1]);
                sum.update(number.to_le_bytes());
            }
            Value::Real(number) => {
                sum.update([2]);
                sum.update(number.to_le_bytes());
            }
            Value::Text(text) => {
                sum.update([3]);
                sum.update(text.len().to_le_bytes());
                sum.update(text);
            }
            Value::Blob(bytes) => {
                sum.update([4]);
                sum.update(bytes.len().to_le_bytes());
                sum.update(bytes);
            }
        }
    }
}
