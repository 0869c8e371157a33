//! A plan in words.

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::past::{Expected, Past};
use crate::archive::{Asking, StockAnswer};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::derive::cure::Milestone;
use crate::derive::plan::{Deed, Lasting, Need, Reason, Session, Task, TestFor, Undated};
use crate::diag::{Diagnostic, line_and_column};
use crate::fields;
use crate::journey::{OpenedArchive, PlannedPiece};
use crate::record::{Act, Part, PartId, Planned, Record, Step, Surface, Undoable};
use crate::trade::Trade;
use crate::unit::legible::one_line;

/// A plan with all that its words are made from.
pub(super) struct Told<'a> {
    pub(super) trade: &'a Trade,
    /// The record as it is intended.
    pub(super) record: &'a Record,
    pub(super) planned: &'a PlannedPiece,
    pub(super) past: &'a Past,
    /// The first day.
    pub(super) from: NaiveDate,
    /// The text of the record.
    pub(super) source: &'a str,
}

impl Told<'_> {
    /// The whole plan; `archive` tells what is left of stock and tins.
    pub(super) fn sheet(&self, name: &str, archive: Option<&OpenedArchive>) -> Sheet {
        let stock = archive.and_then(|opened| {
            Asking { archive: &opened.archive, trade: &opened.trade, today: self.from }.stock(None).ok()
        });
        let pieces = self.past.pieces.clone();
        Sheet {
            asked: format!("Plan of {name}, from {}", dated(self.from)),
            said: self.said(),
            tables: vec![
                self.cautions(),
                self.order(),
                self.calendar(),
                self.needs(stock.as_ref()),
                self.lasting(),
                self.against(),
                self.remembered(),
                self.loose(),
            ],
            answered: !pieces.is_empty(),
            pieces,
        }
    }

    fn said(&self) -> Vec<String> {
        let mut said = Vec::new();
        for circle in &self.planned.plan.circles {
            let names: Vec<String> =
                circle.iter().chain(circle.first()).map(|task| self.name(task)).collect();
            said.push(format!(
                "These wait for each other in a circle, so that none can be begun: {}. Change `under`, `behind`, \
                 `fixed-by` or `follows` of one of them.",
                names.join(" → ")
            ));
        }
        let known: f64 = self.past.expected.iter().filter_map(|expected| expected.hours()).sum();
        let silent = self.past.expected.iter().filter(|expected| **expected == Expected::NotKnown).count();
        let all = self.past.expected.len();
        if all > 0 {
            said.push(match silent {
                0 => format!("{} for {}.", hours(known), count(all, "task", "tasks")),
                _ if silent == all => {
                    "No hours are known for any task, so the days below are those of waiting alone."
                        .to_owned()
                }
                _ => format!(
                    "{} for {}; those of {} are not known, and count as none in the days below.",
                    hours(known),
                    count(all - silent, "task", "tasks"),
                    count(silent, "task", "tasks")
                ),
            });
        }
        match (self.planned.calendar.ends(), self.planned.calendar.undated.is_empty()) {
            (Some(end), true) => said.push(format!("All is done on {} at the earliest.", dated(end))),
            (Some(_), false) | (None, _) if all > 0 => {
                said.push("No last day can be given: some task has no day.".to_owned());
            }
            _ => {}
        }
        let milestone = |milestone: &Milestone<fields::Row<Surface>>| dated(milestone.days.last);
        match (&self.planned.light_use, &self.planned.full_cure) {
            (Some(light), Some(full)) => said.push(format!(
                "Earliest handover, for light use: {}; hard on {}. Times hold for 20 °C; cold and damp lengthen them.",
                milestone(light),
                milestone(full)
            )),
            (Some(light), None) => said.push(format!(
                "Earliest handover, for light use: {}. Times hold for 20 °C; cold and damp lengthen them.",
                milestone(light)
            )),
            _ => {}
        }
        said
    }

    /// The usual cautions of the hazards that the plan brings.
    fn cautions(&self) -> Table {
        let rows = self.planned.hazards.iter().filter_map(|implied| {
            let row = self.trade.hazards.rows.iter().find(|row| implied.rows.contains(&row.id.0))?;
            let caution = row.r#do.to_string();
            let name = row.name.to_string();
            Some(Row {
                cells: vec![Cell::Text(name.clone()), Cell::Text(caution.clone())],
                told: vec![format!("{name}: {caution}")],
            })
        });
        Table {
            name: "cautions",
            heading: "Before you begin".to_owned(),
            columns: &["hazard", "caution"],
            rows: rows.collect(),
            shown: &[],
        }
    }

    fn order(&self) -> Table {
        let rows = self.planned.plan.tasks.iter().enumerate().map(|(at, task)| {
            let name = self.name(task);
            let begins = self.planned.calendar.begins(at);
            let (took, whose) = match self.past.expected[at] {
                Expected::Said(took) => (Some(took), hours(took)),
                Expected::Past(took, pieces) => {
                    (Some(took), format!("{} as {} before", hours(took), count(pieces, "piece", "pieces")))
                }
                Expected::NotKnown => (None, String::new()),
            };
            let mut told = vec![format!(
                "{}\t{name}{}",
                at + 1,
                if whose.is_empty() { String::new() } else { format!(", {whose}") }
            )];
            told.extend(self.why(at, task).map(|why| format!("\t{why}")));
            let undated = self.planned.calendar.undated.iter().find(|(undated, _)| *undated == at);
            told.extend(undated.map(|(_, why)| format!("\tno day: {}", no_day(*why))));
            if let Some(day) = task.set_for().filter(|day| *day < self.from) {
                told.push(format!("\tthe record sets {}, which has passed", dated(day)));
            }
            let after = task.after.iter().map(|(before, _)| (before + 1).to_string()).collect::<Vec<_>>();
            Row {
                cells: vec![
                    Cell::Count(at + 1),
                    Cell::Text(name),
                    Cell::Text(after.join(" ")),
                    Cell::maybe(took, number),
                    Cell::maybe(begins, Cell::Day),
                ],
                told,
            }
        });
        Table {
            name: "order",
            heading: "In this order".to_owned(),
            columns: &["no", "task", "after", "hours", "begins"],
            rows: rows.collect(),
            shown: &[],
        }
    }

    /// Why a task that nobody planned is there.
    fn why(&self, at: usize, task: &Task) -> Option<String> {
        let later = |reason: Reason| {
            self.planned
                .plan
                .tasks
                .iter()
                .position(|other| other.after.contains(&(at, reason)))
                .map(|later| later + 1)
        };
        match &task.deed {
            Deed::TakeOff(cover) => {
                let id = &cover.id.value;
                let covers = |part: &&fields::Row<Part>| {
                    let lists = [&part.under, &part.behind, &part.fixed_by];
                    lists.iter().any(|list| list.iter().any(|over| over.value == *id))
                };
                let below = self.record.parts.iter().find(covers)?;
                let how = |list: &[fields::Said<PartId>]| list.iter().any(|over| over.value == *id);
                let name = one_line(&below.name);
                Some(match (how(&below.under), how(&below.behind)) {
                    (true, _) => format!("{name} lies under it"),
                    (_, true) => format!("{name} stands behind it"),
                    _ => format!("it holds {name}"),
                })
            }
            Deed::Test(TestFor::Lead, _) => {
                Some(format!("before task {} makes dust or flakes of it", later(Reason::Tested)?))
            }
            Deed::Test(TestFor::Solubility, _) => {
                Some(format!("before task {}, which needs to know", later(Reason::Tested)?))
            }
            _ => None,
        }
    }

    fn calendar(&self) -> Table {
        let row = |session: &Session| {
            let task = &self.planned.plan.tasks[session.task];
            let took = session.hours.map_or(String::new(), |took| format!(", {}", hours(took)));
            let dries =
                session.dries.map_or(String::new(), |dries| format!("; then {} to dry", hours(dries)));
            let name = match (task.step(), session.coat) {
                (Some((surface, step)), Some((coat, of))) => {
                    format!("{}, coat {coat} of {of}: {}", self.coating(step), self.surface(surface))
                }
                _ => self.name(task),
            };
            Row {
                cells: vec![
                    Cell::Day(session.on),
                    Cell::Count(session.task + 1),
                    Cell::Text(name.clone()),
                    Cell::maybe(session.coat, |(coat, _)| Cell::Count(coat as usize)),
                    Cell::maybe(session.hours, number),
                    Cell::maybe(session.dries, number),
                ],
                told: vec![format!("{}\t{name}{took}{dries}", session.on.format("%a %-d %b"))],
            }
        };
        Table {
            name: "days",
            heading: "Day by day".to_owned(),
            columns: &["day", "no", "task", "coat", "hours", "dries-hours"],
            rows: self.planned.calendar.sessions.iter().map(row).collect(),
            shown: &[],
        }
    }

    fn needs(&self, stock: Option<&StockAnswer>) -> Table {
        let row = |need: &Need| {
            let (what, low, high, unit, note) = match need {
                Need::Coating { surface, step, quantity } => {
                    let what = format!("{} for {}", self.coats(step), self.surface(surface));
                    let litres = quantity.as_ref().map(|quantity| quantity.litres);
                    let note = match litres {
                        None => "how much cannot be said: it takes a tin with `covers`, and the sizes of the parts".to_owned(),
                        Some(_) => self.left_in_tin(step, stock).unwrap_or_default(),
                    };
                    (what, litres.map(|litres| litres.low), litres.map(|litres| litres.high), "l", note)
                }
                Need::Fixing(fixing) => {
                    let known = self
                        .trade
                        .fixing_words()
                        .called(&fixing.kind)
                        .map(|kind| kind.label_plural.to_string());
                    let many = fixing.count.as_ref().map(|count| f64::from(count.0));
                    (known.unwrap_or_else(|| one_line(&fixing.kind)), many, many, "pieces", String::new())
                }
                Need::Part(part) => {
                    let many = f64::from(part.how_many());
                    (self.part(part), Some(many), Some(many), "pieces", self.left_in_stock(part, stock))
                }
            };
            let amount = match (low, high) {
                (Some(low), Some(high)) if unit == "l" => format!(": {low:.2} to {high:.2} l"),
                (Some(many), _) if many != 1.0 => format!(", {many:.0} of them"),
                _ => String::new(),
            };
            let note_shown = if note.is_empty() { String::new() } else { format!("; {note}") };
            let told = vec![format!("{what}{amount}{note_shown}")];
            let number = |amount| Cell::maybe(amount, number);
            Row {
                cells: vec![
                    Cell::Text(what),
                    number(low),
                    number(high),
                    Cell::Text(unit.to_owned()),
                    Cell::Text(note),
                ],
                told,
            }
        };
        Table {
            name: "needs",
            heading: "What it takes".to_owned(),
            columns: &["what", "least", "most", "unit", "note"],
            rows: self.planned.needs.iter().map(row).collect(),
            shown: &[],
        }
    }

    /// What is left in the tin of a step, by what is on record.
    fn left_in_tin(&self, step: &Step, stock: Option<&StockAnswer>) -> Option<String> {
        let id = step.apply.as_ref()?.tin()?;
        let tin = stock?.tins.iter().find(|tin| tin.id == id.0)?;
        let (full, (_, used, is_all)) = (tin.litres?, tin.used());
        let left = (full * (Decimal::ONE - used)).max(Decimal::ZERO).round_dp(2).normalize();
        Some(match is_all {
            true => format!(
                "of a full tin of {} l, about {left} l are left by what is on record",
                full.normalize()
            ),
            false => format!(
                "of a full tin of {} l, at most {left} l are left by what is on record",
                full.normalize()
            ),
        })
    }

    fn left_in_stock(&self, part: &Part, stock: Option<&StockAnswer>) -> String {
        let Some(id) = &part.from_stock else { return "from no stock".to_owned() };
        let line = stock.and_then(|stock| stock.stock.iter().find(|line| line.id == id.value.0));
        match line.map(|line| (line.left(), line.unit.clone())) {
            Some((Some(left), unit)) => {
                let unit = unit.unwrap_or_else(|| "pieces".to_owned());
                format!("from `{}`, of which {} {unit} are left", id.value.0, left.normalize())
            }
            Some((None, _)) => format!("from `{}`; how much of it is left is not on record", id.value.0),
            None => format!("from `{}`, which is not in stock.toml", id.value.0),
        }
    }

    fn lasting(&self) -> Table {
        let row = |lasting: &Lasting| {
            let said = match lasting {
                Lasting::Work(work, Undoable::Partly) => format!("{} (in part)", one_line(&work.did)),
                Lasting::Work(work, Undoable::Unknown) => format!("{} (not known)", one_line(&work.did)),
                Lasting::Work(work, _) => one_line(&work.did),
                Lasting::Removed(surface, step) | Lasting::Abraded(surface, step) => self.step(surface, step),
            };
            Row { cells: vec![Cell::Text(said.clone())], told: vec![said] }
        };
        Table {
            name: "lasting",
            heading: "Cannot be undone afterwards: is it all wanted?".to_owned(),
            columns: &["what"],
            rows: self.planned.lasting.iter().map(row).collect(),
            shown: &[],
        }
    }

    fn against(&self) -> Table {
        let row = |found: &Diagnostic| {
            let line = found.place.span.map(|(start, _)| line_and_column(self.source, start).0);
            let place = line.map_or(String::new(), |line| format!("line {line}"));
            let mut told = vec![format!("{place}\t{} ({})", found.message, found.code.name)];
            if !found.help.is_empty() {
                told.push(format!("\t{}", one_line(&found.help)));
            }
            Row {
                cells: vec![
                    Cell::Text(found.code.name.to_owned()),
                    Cell::maybe(line, Cell::Count),
                    Cell::Text(found.message.clone()),
                    Cell::Text(found.help.clone()),
                ],
                told,
            }
        };
        Table {
            name: "against",
            heading: "What would be wrong if it were done so".to_owned(),
            columns: &["code", "line", "what", "help"],
            rows: self.planned.against.iter().map(row).collect(),
            shown: &[],
        }
    }

    /// Lessons and failures that the tasks call to mind.
    fn remembered(&self) -> Table {
        let place = |at: Option<usize>| at.map_or(String::new(), |at| format!("task {}", at + 1));
        let lessons = self.past.lessons.iter().map(|(at, lesson)| Row {
            cells: vec![
                Cell::Text("lesson".to_owned()),
                Cell::maybe(*at, |at| Cell::Count(at + 1)),
                Cell::Text(lesson.lesson.clone()),
                Cell::Text(lesson.piece.number.clone()),
            ],
            told: vec![format!(
                "{}\t{} ({})",
                place(*at),
                one_line(&lesson.lesson),
                one_line(&lesson.piece.number)
            )],
        });
        let failed = self.past.failed.iter().map(|(at, work)| Row {
            cells: vec![
                Cell::Text("failed".to_owned()),
                Cell::Count(at + 1),
                Cell::Text(work.did.clone()),
                Cell::Text(work.piece.number.clone()),
            ],
            told: vec![format!(
                "{}\tfailed before: {} ({})",
                place(Some(*at)),
                one_line(&work.did),
                one_line(&work.piece.number)
            )],
        });
        Table {
            name: "remembered",
            heading: "What was learnt before".to_owned(),
            columns: &["as", "no", "what", "from"],
            rows: lessons.chain(failed).collect(),
            shown: &[],
        }
    }

    /// What is still to be done and has no place in the order.
    fn loose(&self) -> Table {
        let (open, lines) = &self.planned.plan.loose;
        let open = open.iter().map(|open| {
            let before =
                open.before.as_ref().map_or(String::new(), |before| format!(", before {}", one_line(before)));
            let what = format!("{}{before}", one_line(&open.what));
            Row { cells: vec![Cell::Text("open".to_owned()), Cell::Text(what.clone())], told: vec![what] }
        });
        let lines = lines.iter().map(|line| {
            let what = one_line(line);
            Row { cells: vec![Cell::Text("day-book".to_owned()), Cell::Text(what.clone())], told: vec![what] }
        });
        Table {
            name: "loose",
            heading: "Also to do, in no order that the record tells".to_owned(),
            columns: &["from", "what"],
            rows: open.chain(lines).collect(),
            shown: &[],
        }
    }

    /// A task in a few words.
    fn name(&self, task: &Task) -> String {
        match &task.deed {
            Deed::TakeOff(part) => format!("Take off {}", one_line(&part.name)),
            Deed::PutBack(part) if part.is_planned() => format!("Fit {}", one_line(&part.name)),
            Deed::PutBack(part) => format!("Put back {}", one_line(&part.name)),
            Deed::Make(part) => format!("Make or get {}", self.part(part)),
            Deed::Test(TestFor::Lead, surface) => {
                format!("Test the old coat for lead: {}", self.surface(surface))
            }
            Deed::Test(TestFor::Solubility, surface) => {
                format!("Try on a hidden spot what dissolves the old coat: {}", self.surface(surface))
            }
            Deed::Work(work) => one_line(&work.did),
            Deed::Step(surface, step) => self.step(surface, step),
        }
    }

    fn step(&self, surface: &Surface, step: &Step) -> String {
        let by = step.by.as_ref().map_or(String::new(), |by| format!(", {}", one_line(by)));
        let what = match step.act() {
            Some(Act::Clean(with)) => format!("Clean with {}", one_line(with)),
            Some(Act::Test(of)) => format!("Test for {}", one_line(of)),
            Some(Act::Remove(what)) => match what.layer() {
                Some(layer) => format!("Take off {}", self.trade.finish_name(layer).to_lowercase()),
                None => "Strip to the wood".to_owned(),
            },
            Some(Act::Abrade(grits)) => {
                let grits: Vec<String> = grits.iter().map(|grit| one_line(grit)).collect();
                format!("Rub down, {}", grits.join(", "))
            }
            Some(Act::Apply(_)) => self.coats(step),
            None => "A step that says nothing".to_owned(),
        };
        format!("{what}{by}: {}", self.surface(surface))
    }

    fn coats(&self, step: &Step) -> String {
        let what = self.coating(step);
        match step.coat_count() {
            1 => format!("One coat of {what}"),
            several => format!("{several} coats of {what}"),
        }
    }

    /// What a step applies.
    fn coating(&self, step: &Step) -> String {
        match &step.apply {
            Some(name) => match name.tin() {
                Some(tin) => format!("{} (tin)", tin.0),
                None => self.trade.finish_name(name).to_lowercase(),
            },
            None => String::new(),
        }
    }

    fn surface(&self, surface: &Surface) -> String {
        if let Some(name) = &surface.name {
            return one_line(name);
        }
        let name = |id: &fields::Said<PartId>| {
            let part = self.record.parts.iter().find(|part| part.id.value == id.value);
            part.map_or_else(|| id.value.0.clone(), |part| one_line(&part.name))
        };
        match surface.parts.is_empty() {
            true => "a surface without parts".to_owned(),
            false => surface.parts.iter().map(name).collect::<Vec<_>>().join(", "),
        }
    }

    fn part(&self, part: &Part) -> String {
        let name = one_line(&part.name);
        let size = part.size.as_ref().map(|size| {
            let sides = [&size.length, &size.width, &size.thick, &size.diameter];
            let sides: Vec<String> =
                sides.into_iter().flatten().map(|side| format!("{:.0}", side.mm())).collect();
            format!(" {} mm", sides.join(" × "))
        });
        format!("{name}{}", size.unwrap_or_default())
    }
}

fn no_day(why: Undated) -> &'static str {
    match why {
        Undated::Times => "neither tin nor table says how long the coat takes to dry",
        Undated::Waits => "it waits for a task that has none",
        Undated::TooFar => "the hours of `[week]` do not suffice within three years",
    }
}

fn dated(day: NaiveDate) -> String {
    day.format("%a %-d %b %Y").to_string()
}

/// Hours to a quarter's hundredth, as people say them.
fn hours(hours: f64) -> String {
    let shown = Decimal::from_f64(hours).unwrap_or_default().round_dp(2).normalize();
    format!("{shown} h")
}

fn number(number: f64) -> Cell {
    Cell::Measure(number, 2)
}
