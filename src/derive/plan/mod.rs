//! What is to be done to a piece, in an order that takes nothing back: what a record plans, and what has to be done
//! before it.

mod calendar;
mod cutting;
mod dated;
mod jotted;
mod needs;
mod passing;
mod sequence;
mod stock;
mod task;
mod ways;

use chrono::NaiveDate;

use super::facts::Facts;
use crate::fields::Row;
use crate::record::{Folder, Open, Record};
use crate::trade::Trade;

pub use calendar::{Calendar, Session, Undated};
pub use cutting::{Laid, Rectangle};
pub use jotted::{WithJotted, is_jotted, with_jotted};
pub use needs::{Lasting, Need, lasting, needs};
pub use passing::{Opening, Passes, Passing, passages};
pub use stock::{CutBoard, Cutting, Lack, cutting, stock_used};
pub use task::{Deed, Reason, Stage, Task, TestFor};
pub use ways::{Way, chosen, unknown_ways, ways};

/// What is to be done to a piece.
#[derive(Debug)]
pub struct Plan {
    /// The tasks, in the order in which they are to be done; those of a circle are left out.
    pub tasks: Vec<Task>,
    /// Tasks that wait for each other in a circle, each circle by itself.
    pub circles: Vec<Vec<Task>>,
    /// What is still to be done and has no place in the order: rows, and lines of the day book.
    pub loose: (Vec<Row<Open>>, Vec<String>),
}

impl Plan {
    /// The plan of a record as it is intended; `facts` are those that follow from the record in that state.
    pub fn of(folder: &Folder, intended: &Record, facts: &Facts, trade: &Trade) -> Plan {
        let tins = folder.workshop.as_ref().map_or(&[][..], |workshop| &workshop.tins);
        let found = task::tasks(intended, facts, tins, trade);
        let (order, circles) = sequence::sequence(&found);
        let mut found: Vec<Option<Task>> = found.into_iter().map(Some).collect();
        let circles = circles
            .into_iter()
            .map(|circle| circle.into_iter().filter_map(|at| found[at].take()).collect())
            .collect();
        let place = |at: usize| order.iter().position(|ordered| *ordered == at);
        let tasks = order.iter().filter_map(|at| {
            let task = found[*at].take()?;
            // What waits for a circle waits in vain, which is told of the circle.
            let after = task.after.into_iter().filter_map(|(before, why)| Some((place(before)?, why)));
            Some(Task { after: after.collect(), ..task })
        });
        let tasks = tasks.collect();
        let lines = facts.day_book.plans.iter().map(|line| line.words.for_archive().clone());
        Plan { tasks, circles, loose: (intended.open.clone(), lines.collect()) }
    }

    /// When each task may be done from a day on; `hours` says how long each takes, where that is known.
    pub fn calendar(
        &self,
        from: NaiveDate,
        (folder, trade): (&Folder, &Trade),
        hours: &[Option<f64>],
    ) -> Calendar {
        let workshop = folder.workshop.as_ref();
        let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
        let week = workshop.and_then(|workshop| workshop.week.for_archive().as_ref());
        calendar::calendar(&self.tasks, from, week.map(|week| &week.value), (tins, trade), hours)
    }

    /// The record as it would stand with everything done on the days of a calendar.
    pub fn done_by(&self, intended: &Record, calendar: &Calendar) -> Record {
        dated::dated(intended, &self.tasks, calendar)
    }
}

#[cfg(test)]
mod tests;
