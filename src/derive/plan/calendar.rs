//! When each task of a plan may be done.

use chrono::{Datelike, Days as DayCount, NaiveDate};

use super::super::finish::cure::{last_coat, times};
use super::super::finish::stratigraphy::coating;
use super::task::{Task, lays};
use crate::fields::{Row, Said};
use crate::record::{Planned, Step, Surface, Tin, Week};
use crate::trade::Trade;

/// The hours of a day on which nobody said how many there are at the bench.
///
/// # Source
/// Our own choice: a working day of twelve hours.
const WHOLE_DAY: f64 = 12.0;

/// How many days ahead a plan looks.
const FARTHEST: u64 = 3 * 366;

/// One sitting at a task.
#[derive(Debug, Clone, PartialEq)]
pub struct Session {
    /// The task, by its place in the plan.
    pub task: usize,
    /// The day.
    pub on: NaiveDate,
    /// Which coat of how many, where it is one of several.
    pub coat: Option<(u32, u32)>,
    /// The hours of that day that it takes, where they are known.
    pub hours: Option<f64>,
    /// The hours that have to pass before what follows, where a coat has to dry.
    pub dries: Option<f64>,
}

/// Why a task has no day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Undated {
    /// Neither label nor table says how long the coat before it dries.
    Times,
    /// It waits for a task that has no day.
    Waits,
    /// There are too few hours at the bench.
    TooFar,
}

/// When each task may be done.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Calendar {
    /// The sittings, the earliest first.
    pub sessions: Vec<Session>,
    /// The tasks that have no day.
    pub undated: Vec<(usize, Undated)>,
}

impl Calendar {
    /// The day on which a task is begun.
    pub fn begins(&self, task: usize) -> Option<NaiveDate> {
        self.sessions.iter().filter(|session| session.task == task).map(|session| session.on).min()
    }

    /// The day of the last sitting.
    pub fn ends(&self) -> Option<NaiveDate> {
        self.sessions.iter().map(|session| session.on).max()
    }
}

/// A task while the days go by.
struct Doing {
    /// Hours that it still takes, of each coat; `None` where they are not known.
    hours: Option<f64>,
    /// How many coats of how many are laid.
    coats: (u32, u32),
    /// Hours left of the coat, or of the whole.
    left: f64,
    /// The hours each coat dries before another, or before what follows; `None` where it lays none.
    dries: Option<f64>,
    /// The hour from which it may go on, counted from the first day; `None` for one that has no day.
    from: Option<f64>,
    /// For how many tasks it still waits.
    waits_for: usize,
}

/// When each task may be done from a day on, one after another by one person, in the order of the tasks as far as waiting
/// allows: while a coat dries, what comes later and waits for nothing is done.
///
/// A coat waits for the long end of the time that the tin's label, or else the table, gives for 20 °C. `hours` are those
/// of each task; one whose hours are not known takes none. Where `week` is not told, every day has twelve.
///
/// # Source
/// The times are those of the tins and of the table of finishes; the rest is arithmetic.
pub(super) fn calendar(
    tasks: &[Task],
    from: NaiveDate,
    week: Option<&Week>,
    (tins, trade): (&[Said<Tin>], &Trade),
    hours: &[Option<f64>],
) -> Calendar {
    let mut calendar = Calendar::default();
    let mut doing: Vec<Doing> = tasks
        .iter()
        .enumerate()
        .map(|(at, task)| {
            begun(task, hours.get(at).copied().flatten(), from, (tins, trade), &mut calendar, at)
        })
        .collect();
    let capacity = |day: NaiveDate| match week {
        Some(week) => week.on(day.weekday()).map_or(0.0, |hours| hours.count().try_into().unwrap_or(0.0)),
        None => WHOLE_DAY,
    };
    let mut next: Vec<Vec<usize>> = vec![Vec::new(); tasks.len()];
    for (at, task) in tasks.iter().enumerate() {
        task.after.iter().for_each(|(before, _)| next[*before].push(at));
        doing[at].waits_for = task.after.len();
    }
    let mut open: Vec<usize> = (0..tasks.len()).filter(|at| doing[*at].from.is_some()).collect();
    let mut days = 0;
    while !open.is_empty() && days <= FARTHEST {
        let Some(day) = from.checked_add_days(DayCount::new(days)) else { break };
        let begin = days as f64 * 24.0;
        let end = begin + capacity(day).min(24.0);
        let mut now = begin;
        // A day without an hour at the bench has no sitting, not even one of a task whose hours are not known.
        while now < end {
            let ready = |at: &usize| doing[*at].from.filter(|_| doing[*at].waits_for == 0);
            let Some(at) = open.iter().copied().find(|at| ready(at).is_some_and(|from| from <= now)) else {
                // Nothing can be done until something has dried.
                let soonest = open.iter().filter_map(ready).fold(f64::INFINITY, f64::min);
                now = soonest;
                continue;
            };
            let task = &mut doing[at];
            let spent = task.left.min(end - now);
            task.left -= spent;
            now += spent;
            let is_done = task.left <= 1e-9;
            calendar.sessions.push(Session {
                task: at,
                on: day,
                coat: (task.coats.1 > 1).then_some((task.coats.0 + 1, task.coats.1)),
                hours: task.hours.map(|_| spent),
                dries: task.dries.filter(|_| is_done),
            });
            if !is_done {
                continue;
            }
            task.coats.0 += 1;
            let dry = now + task.dries.unwrap_or(0.0);
            if task.coats.0 < task.coats.1 {
                task.left = task.hours.unwrap_or(0.0);
                task.from = Some(dry);
                continue;
            }
            open.retain(|other| *other != at);
            for later in &next[at] {
                let later = &mut doing[*later];
                later.waits_for -= 1;
                later.from = later.from.map(|from| from.max(dry));
            }
        }
        days += 1;
    }
    let mut has_day = vec![true; tasks.len()];
    calendar.undated.iter().for_each(|(at, _)| has_day[*at] = false);
    for at in open {
        // A task of which only some coats have a day has none as a whole.
        let waits = tasks[at].after.iter().any(|(before, _)| !has_day[*before]);
        calendar.undated.push((at, if waits { Undated::Waits } else { Undated::TooFar }));
        has_day[at] = false;
    }
    calendar
}

/// A task before its first day; one whose coats dry nobody knows how long is noted as having none.
fn begun(
    task: &Task,
    hours: Option<f64>,
    from: NaiveDate,
    (tins, trade): (&[Said<Tin>], &Trade),
    calendar: &mut Calendar,
    at: usize,
) -> Doing {
    // A day that the record sets is one before which it is not to be done.
    let set = task.set_for().map_or(0.0, |day| ((day - from).num_days() as f64 * 24.0).max(0.0));
    let left = hours.unwrap_or(0.0);
    let mut doing = Doing { hours, coats: (0, 1), left, dries: None, from: Some(set), waits_for: 0 };
    let Some((surface, step)) = task.step() else { return doing };
    doing.from = before_the_plan(surface, step, from, (tins, trade)).map(|from| from.max(set));
    if doing.from.is_none() {
        calendar.undated.push((at, Undated::Times));
        return doing;
    }
    if !lays(step, trade) {
        return doing;
    }
    let coats = step.coat_count().clamp(1, 100);
    doing.coats = (0, coats);
    doing.hours = hours.map(|hours| hours / f64::from(coats));
    doing.left = doing.hours.unwrap_or(0.0);
    doing.dries = dries(step, (tins, trade));
    if doing.dries.is_none() && (coats > 1 || follows(surface, step)) {
        calendar.undated.push((at, Undated::Times));
        doing.from = None;
    }
    doing
}

/// Hours until the next coat, at the long end: as the step says, or else tin or family.
fn dries(step: &Step, (tins, trade): (&[Said<Tin>], &Trade)) -> Option<f64> {
    let said = step.every_hours.as_ref().map(|every| every.high);
    said.or_else(|| {
        let coating = coating(step.apply.as_ref()?, tins, trade)?;
        Some(times(coating).recoat?.range.high)
    })
}

/// Whether another step follows on the surface.
fn follows(surface: &Surface, step: &Row<Step>) -> bool {
    surface.steps.last().is_some_and(|last| !last.is(step))
}

/// The hour, counted from the first day, at which what was laid before the plan lets it go on; `None` where nobody knows.
fn before_the_plan(
    surface: &Surface,
    step: &Row<Step>,
    from: NaiveDate,
    (tins, trade): (&[Said<Tin>], &Trade),
) -> Option<f64> {
    let before = surface.steps.iter().take_while(|other| !other.is(step));
    let Some(last) = before.filter(|other| lays(other, trade)).last() else { return Some(0.0) };
    if last.is_planned() {
        return Some(0.0);
    }
    let coating = coating(last.apply.as_ref()?, tins, trade)?;
    let times = times(coating);
    let laid = last_coat(last, &times).ok()?.last;
    let hours = times.recoat?.range.high;
    Some(((laid - from).num_days() as f64 * 24.0 + WHOLE_DAY + hours).max(0.0))
}
