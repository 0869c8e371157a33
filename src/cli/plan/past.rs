//! What the archive knows of the tasks of a plan.

use std::collections::BTreeSet;

use chrono::NaiveDate;
use rust_decimal::prelude::ToPrimitive;

use crate::archive::{ArchiveFault, Asking, Lesson, PastWork, PieceName};
use crate::derive::plan::{Deed, Plan, Task};
use crate::journey::OpenedArchive;
use crate::record::{Act, Record, Removal};
use crate::unit::fold::folded_word;

/// How long a task will take, and who says so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Expected {
    /// The record.
    Said(f64),
    /// Past works of its task: the median of so many pieces.
    Past(f64, usize),
    /// Nobody.
    NotKnown,
}

impl Expected {
    /// The hours.
    pub(super) fn hours(self) -> Option<f64> {
        match self {
            Expected::Said(hours) | Expected::Past(hours, _) => Some(hours),
            Expected::NotKnown => None,
        }
    }
}

/// What the archive knows of the tasks of a plan.
#[derive(Default)]
pub(super) struct Past {
    /// How long each task will take, by its place.
    pub(super) expected: Vec<Expected>,
    /// The same of each way of the decisions, by its place.
    pub(super) of_ways: Vec<Vec<Expected>>,
    /// Works like a task that failed.
    pub(super) failed: Vec<(usize, PastWork)>,
    /// Lessons that apply to the kind of piece, or to the words of a task.
    pub(super) lessons: Vec<(Option<usize>, Lesson)>,
    /// The pieces that the hours come from.
    pub(super) pieces: Vec<PieceName>,
}

impl Past {
    /// What is known of a plan's tasks; of no archive only what the record says.
    pub(super) fn of(
        plan: &Plan,
        record: &Record,
        archive: Option<&OpenedArchive>,
        today: NaiveDate,
    ) -> Past {
        let said = |task: &Task| task.hours().map_or(Expected::NotKnown, Expected::Said);
        let mut past = Past { expected: plan.tasks.iter().map(said).collect(), ..Past::default() };
        if let Some(opened) = archive {
            let asking = Asking { archive: &opened.archive, trade: &opened.trade, today };
            // A plan stands without the archive, too, where that cannot answer.
            let _ = past.ask(&asking, plan, record);
        }
        past
    }

    fn ask(&mut self, asking: &Asking<'_>, plan: &Plan, record: &Record) -> Result<(), ArchiveFault> {
        for (at, task) in plan.tasks.iter().enumerate() {
            let Some(named) = task.work().and_then(|work| work.task.as_ref()) else { continue };
            let answer = asking.time(named)?;
            if let (Expected::NotKnown, Some(row)) = (self.expected[at], answer.rows.first()) {
                let median = row.hours.median.to_f64().unwrap_or(0.0);
                self.expected[at] = Expected::Past(median, row.hours.count);
                self.pieces.extend(answer.works.iter().map(|work| work.piece.clone()));
            }
            let failed = answer.works.into_iter().filter(|work| work.turned_out.as_deref() == Some("failed"));
            self.failed.extend(failed.map(|work| (at, work)));
        }
        let of_kind = asking.lessons_for(&record.kind, &record.title)?;
        for lesson in asking.lessons(None)?.lessons {
            let words = |text: &str| text.split_whitespace().map(folded_word).collect::<BTreeSet<_>>();
            let speaks_of = |task: &Task| {
                let said = words(&words_of(task));
                lesson.words.iter().any(|word| !word.trim().is_empty() && words(word).is_subset(&said))
            };
            if let Some(at) = plan.tasks.iter().position(speaks_of) {
                self.lessons.push((Some(at), lesson));
            } else if of_kind.contains(&lesson) {
                self.lessons.push((None, lesson));
            }
        }
        self.lessons.sort_by_key(|(at, _)| (at.is_none(), *at));
        Ok(())
    }
}

/// The words of a task as the record has them.
fn words_of(task: &Task) -> String {
    let said: Vec<&str> = match &task.deed {
        Deed::TakeOff(part) | Deed::PutBack(part) | Deed::Make(part) => vec![&part.name],
        Deed::Test(..) => Vec::new(),
        Deed::Work(work) => {
            let others = [work.by.as_ref(), work.task.as_ref()].into_iter().flatten();
            std::iter::once(&work.did).chain(others).map(|text| text.value.0.as_str()).collect()
        }
        Deed::Step(_, step) => {
            let by = step.by.as_ref().map(|by| by.value.0.as_str());
            let what: Option<&str> = match step.act() {
                Some(Act::Clean(with)) => Some(with),
                Some(Act::Test(of)) => Some(of),
                Some(Act::Remove(what)) => what.layer().map(|layer| &**layer),
                Some(Act::Apply(what)) => Some(what),
                Some(Act::Abrade(_)) | None => None,
            };
            let deed = match step.act() {
                Some(Act::Remove(removal)) if removal.value == Removal::All => Some("strip"),
                Some(Act::Abrade(_)) => Some("abrade"),
                _ => None,
            };
            [by, what, deed].into_iter().flatten().collect()
        }
    };
    said.join(" ")
}
