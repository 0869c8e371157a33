//! A record as it would stand with its plan done.

use chrono::NaiveDate;

use super::calendar::Calendar;
use super::task::{Deed, Task};
use crate::fields::{Row, Said};
use crate::record::{Planned, Record, Step, Surface, Work};

/// The record with the days of a calendar on what it plans; what has no day stays without.
pub(super) fn dated(intended: &Record, tasks: &[Task], calendar: &Calendar) -> Record {
    let day = |is: &dyn Fn(&Deed) -> bool| {
        let at = tasks.iter().position(|task| is(&task.deed))?;
        calendar.begins(at)
    };
    let work = |work: &Row<Work>| match work.is_planned() {
        false => work.clone(),
        true => {
            let on = day(&|deed| matches!(deed, Deed::Work(own) if own.is(work)));
            let value = Work { on: said(on, work), planned: None, ..work.value.clone() };
            Row::new(Said { value, span: work.span.clone() })
        }
    };
    let step = |step: &Row<Step>| match step.is_planned() {
        false => step.clone(),
        true => {
            let on = day(&|deed| matches!(deed, Deed::Step(_, own) if own.is(step)));
            let value = Step { on: said(on, step), planned: None, ..step.value.clone() };
            Row::new(Said { value, span: step.span.clone() })
        }
    };
    let surface = |surface: &Row<Surface>| {
        let value = Surface { steps: surface.steps.iter().map(step).collect(), ..surface.value.clone() };
        Row::new(Said { value, span: surface.span.clone() })
    };
    Record {
        works: intended.works.iter().map(work).collect(),
        surfaces: intended.surfaces.iter().map(surface).collect(),
        ..intended.clone()
    }
}

/// A day as though the row said it.
fn said<T>(on: Option<NaiveDate>, row: &Row<T>) -> Option<Said<NaiveDate>> {
    on.map(|value| Said { value, span: row.span.clone() })
}
