//! What comes first, and when.

use super::{Told, dated, hours, number};
use crate::cli::plan::past::Expected;
use crate::cli::sheet::{Cell, Row, Table};
use crate::cli::words::count;
use crate::derive::plan::{Deed, Reason, Session, Task, TestFor, Undated};
use crate::diag::line_and_column;
use crate::fields;
use crate::record::{Part, PartId};
use crate::unit::legible::one_line;

impl Told<'_> {
    pub(super) fn order(&self) -> Table {
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
            let line = self.jotted(task);
            told.extend(line.as_ref().map(|line| format!("\tfrom the day book: {line}")));
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
                    Cell::maybe(line, Cell::Text),
                ],
                told,
            }
        });
        Table {
            name: "order",
            heading: "In this order".to_owned(),
            columns: &["no", "task", "after", "hours", "begins", "jotted"],
            rows: rows.collect(),
            shown: &[],
        }
    }

    /// The file and line of the day book that a task is taken from.
    fn jotted(&self, task: &Task) -> Option<String> {
        let start = match &task.deed {
            Deed::Work(work) => work.span.start,
            Deed::Step(_, step) => step.span.start,
            _ => return None,
        };
        let place = self.planned.jotted.get(&start)?;
        let text = self.tree.text(&place.path).and_then(Result::ok)?;
        Some(format!("{}, line {}", place.path, line_and_column(text, place.span?.0).0))
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

    pub(super) fn calendar(&self) -> Table {
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
}

fn no_day(why: Undated) -> &'static str {
    match why {
        Undated::Times => "neither tin nor table says how long the coat takes to dry",
        Undated::Waits => "it waits for a task that has none",
        Undated::TooFar => "the hours of `[week]` do not suffice within three years",
    }
}
