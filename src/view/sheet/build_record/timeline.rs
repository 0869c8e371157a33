//! The work as one picture: days side by side, a lane for each surface, one for everything else and one for tests.
//!
//! What failed and was done again reads as a loop. Where each word stands is the business of whoever draws it.

use std::collections::{BTreeMap, BTreeSet};

use chrono::{Datelike, NaiveDate};
use serde::Serialize;

use crate::claim::{Message, Value, says};
use crate::derive::{Doing, LogEntry, SurfaceFacts};
use crate::fields::Row;
use crate::record::{Act, Outcome, PartId, Step, Work};
use crate::view::context::PieceContext;
use crate::view::shared::surface::surface_name;
use crate::words;

/// The most columns; where there are more days, the nearest are joined.
const COLUMNS: usize = 12;

/// The most surfaces that have a lane.
const SURFACES: usize = 4;

/// Letters of one thing at a point, and of all that stands there.
const ROOM: (usize, usize) = (36, 70);

/// Letters of a test and of its result, and of all tests at a point.
const TEST: (usize, usize) = (26, 130);

/// The work day by day.
#[derive(Debug, Clone, Serialize)]
pub struct Timeline {
    /// How many days it took, and whether a finish was laid twice.
    pub heading: String,
    /// The days on which something was done, the earliest first.
    pub columns: Vec<Column>,
    /// What was done to what.
    pub lanes: Vec<Lane>,
}

/// A day, or several that lie close together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Column {
    /// The day of the month, or the first and the last.
    pub day: String,
    /// The month, where it is another than that of the column before; else empty.
    pub month: String,
}

/// What was done to one surface, or to everything else.
#[derive(Debug, Clone, Serialize)]
pub struct Lane {
    /// What it is called.
    pub name: String,
    /// What was done, in the order of the columns.
    pub points: Vec<Point>,
    /// What lay on it from column to column.
    pub runs: Vec<Run>,
}

/// What was done in one column.
#[derive(Debug, Clone, Serialize)]
pub struct Point {
    /// The column, counted from 0.
    pub at: usize,
    /// `done`, `lost` for a coat that came off again, `failed`, or `test`.
    pub kind: &'static str,
    /// What was done, in a few words; empty where a lane above says the same.
    pub label: String,
    /// The numbers of the findings that it answers.
    pub findings: Vec<usize>,
    /// What a loop says that starts here; empty where none does.
    pub again: String,
}

/// A stretch of a lane.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Run {
    /// The first column, counted from 0.
    pub from: usize,
    /// The last column.
    pub to: usize,
    /// `thin` while it was worked on, `lost` under a coat that came off again, `thick` under one that lies today.
    pub kind: &'static str,
}

/// The days of the work, joined where there are too many.
struct Days(Vec<(NaiveDate, NaiveDate)>);

impl Days {
    fn of(days: BTreeSet<NaiveDate>) -> Days {
        let mut columns: Vec<(NaiveDate, NaiveDate)> = days.into_iter().map(|day| (day, day)).collect();
        while columns.len() > COLUMNS {
            let gap = |at: &usize| columns[at + 1].0 - columns[*at].1;
            // Of several gaps that are alike the first is closed.
            let Some(nearest) = (0..columns.len() - 1).min_by_key(gap) else { break };
            columns[nearest].1 = columns[nearest + 1].1;
            columns.remove(nearest + 1);
        }
        Days(columns)
    }

    fn column(&self, day: NaiveDate) -> Option<usize> {
        self.0.iter().position(|(first, last)| (*first..=*last).contains(&day))
    }

    fn columns(&self, context: &PieceContext<'_>) -> Vec<Column> {
        let mut before: Option<(i32, u32)> = None;
        let columns = self.0.iter().map(|(first, last)| {
            let (month, known) = ((first.year(), first.month()), before);
            before = Some((last.year(), last.month()));
            let day = match first == last {
                true => first.day().to_string(),
                false => {
                    let message = says!("column-joined", first = first.day(), last = last.day());
                    context.house.words().say(&message)
                }
            };
            Column {
                day,
                month: if known == Some(month) {
                    String::new()
                } else {
                    context.house.words().month_name(*first)
                },
            }
        });
        columns.collect()
    }
}

/// What is known at one point before it is put into words.
#[derive(Default)]
struct Gathered {
    said: Vec<Message>,
    works: Vec<Row<Work>>,
    lost: bool,
    off: bool,
}

/// The work day by day, and what came after the piece had left where its reader may see that; `None` where no day of the
/// work is known.
pub(crate) fn timeline(context: &PieceContext<'_>, after: &[(NaiveDate, Message)]) -> Option<Timeline> {
    let (log, tests) = (&context.claims.log, &context.claims.test_days);
    let worked: BTreeSet<NaiveDate> = log.iter().filter_map(|entry| entry.on).collect();
    if worked.is_empty() {
        return None;
    }
    let others = tests.iter().chain(after).map(|(on, _)| *on);
    let days = Days::of(worked.iter().copied().chain(others).collect());
    let attached = attached(context, log);
    let mut lanes: Vec<Lane> = Vec::new();
    let mut told: BTreeSet<(usize, String)> = BTreeSet::new();
    let surfaces = context.facts.surfaces.iter();
    let mut busy: Vec<(usize, &SurfaceFacts)> = surfaces
        .map(|facts| (steps_of(log, facts.number).count(), facts))
        .filter(|(count, _)| *count > 0)
        .collect();
    busy.sort_by_key(|(count, facts)| (std::cmp::Reverse(*count), facts.number));
    busy.truncate(SURFACES);
    busy.sort_by_key(|(_, facts)| facts.number);
    for (_, facts) in &busy {
        lanes.push(surface_lane(context, &days, facts, &attached, &mut told));
    }
    let others = log.iter().filter(|entry| match &entry.doing {
        Doing::Jotted => true,
        Doing::Work(work) => !attached.iter().any(|(other, _)| other.is(work)),
        Doing::Steps(steps) => {
            !steps.iter().any(|(number, _)| busy.iter().any(|(_, facts)| facts.number == *number))
        }
    });
    let name = if lanes.is_empty() { says!("lane-only-work") } else { says!("lane-work") };
    lanes.extend(work_lane(context, &days, &name, others));
    lanes.extend(lane_of(context, &days, tests, ("test", says!("lane-tests"))));
    lanes.extend(lane_of(context, &days, after, ("done", says!("lane-after"))));
    Some(Timeline { heading: heading(context, worked.len()), columns: days.columns(context), lanes })
}

/// The steps on a surface on known days.
fn steps_of(log: &[LogEntry], number: usize) -> impl Iterator<Item = (NaiveDate, &LogEntry, &Row<Step>)> {
    log.iter().flat_map(move |entry| {
        let steps = match &entry.doing {
            Doing::Steps(steps) => steps.as_slice(),
            Doing::Work(_) | Doing::Jotted => &[],
        };
        let on = steps.iter().filter(move |(of, _)| *of == number);
        on.filter_map(move |(_, step)| Some((entry.on?, entry, step)))
    })
}

/// The works that tell what the steps of a surface tell: done on the same day to no other parts. Each with the number of
/// the surface.
fn attached(context: &PieceContext<'_>, log: &[LogEntry]) -> Vec<(Row<Work>, usize)> {
    let attached = |entry: &LogEntry| {
        let (Doing::Work(work), Some(on)) = (&entry.doing, entry.on) else { return None };
        let surfaces = context.facts.surfaces.iter();
        let that_day: Vec<&SurfaceFacts> =
            surfaces.filter(|facts| steps_of(log, facts.number).any(|(day, ..)| day == on)).collect();
        let has =
            |facts: &SurfaceFacts, part: &PartId| facts.surface.parts.iter().any(|one| one.value == *part);
        let within = !work.part.is_empty()
            && work.part.iter().all(|part| that_day.iter().any(|facts| has(facts, part)));
        let first = that_day.into_iter().find(|facts| work.part.iter().any(|part| has(facts, part)))?;
        within.then(|| (work.clone(), first.number))
    };
    log.iter().filter_map(attached).collect()
}

fn surface_lane(
    context: &PieceContext<'_>,
    days: &Days,
    facts: &SurfaceFacts,
    attached: &[(Row<Work>, usize)],
    told: &mut BTreeSet<(usize, String)>,
) -> Lane {
    let log = &context.claims.log;
    let column = |day: NaiveDate| days.column(day).unwrap_or_default();
    let stays = |step: &Row<Step>| facts.today.layers.iter().any(|layer| layer.coat.laid_by(step));
    let mut points: BTreeMap<usize, Gathered> = BTreeMap::new();
    let mut runs = Vec::new();
    let mut thick: Option<usize> = None;
    let steps: Vec<(NaiveDate, &LogEntry, &Row<Step>)> = steps_of(log, facts.number).collect();
    for (on, entry, step) in &steps {
        let at = column(*on);
        let point = points.entry(at).or_default();
        if !point.said.contains(&entry.short) {
            point.said.push(entry.short.clone());
        }
        if entry.lost {
            point.lost = true;
            let later = steps.iter().find(|(_, _, later)| {
                later.span.start > step.span.start && matches!(later.act(), Some(Act::Remove(_)))
            });
            let off = later.map_or(at, |(off, ..)| column(*off).max(at));
            points.entry(off).or_default().off = true;
            runs.push(Run { from: at, to: off, kind: "lost" });
        }
        if stays(step) {
            thick = Some(thick.map_or(at, |first| first.min(at)));
        }
    }
    for (work, number) in attached {
        if let (true, Some(on)) = (*number == facts.number, &work.on) {
            points.entry(column(on.value)).or_default().works.push(work.clone());
        }
    }
    let (first, last) = (points.keys().next().copied(), points.keys().next_back().copied());
    if let (Some(first), Some(last)) = (first, last) {
        runs.insert(0, Run { from: first, to: thick.unwrap_or(last).max(first), kind: "thin" });
    }
    runs.extend(thick.map(|from| Run { from, to: days.0.len() - 1, kind: "thick" }));
    let points = points.into_iter().map(|(at, gathered)| {
        let mut point = point(context, at, &gathered);
        if gathered.off {
            point.kind = "failed";
            point.again = context.house.words().say(&says!("lane-off-again"));
        } else if gathered.lost {
            // Its loop stands where it came off.
            point.kind = "lost";
            point.again.clear();
        }
        // What was done alike to a surface above is told there.
        if !point.label.is_empty() && !told.insert((at, point.label.clone())) {
            point.label.clear();
            point.findings.clear();
        }
        point
    });
    Lane {
        name: words::shortened(&surface_name(context, &facts.surface), 40),
        points: points.collect(),
        runs,
    }
}

fn work_lane<'a>(
    context: &PieceContext<'_>,
    days: &Days,
    name: &Message,
    others: impl Iterator<Item = &'a LogEntry>,
) -> Option<Lane> {
    let mut points: BTreeMap<usize, Gathered> = BTreeMap::new();
    for entry in others {
        let Some(at) = entry.on.and_then(|on| days.column(on)) else { continue };
        let point = points.entry(at).or_default();
        point.said.push(entry.short.clone());
        if let Doing::Work(work) = &entry.doing {
            point.works.push(work.clone());
        }
    }
    let (first, last) = (points.keys().next().copied()?, points.keys().next_back().copied()?);
    let points = points.into_iter().map(|(at, gathered)| point(context, at, &gathered)).collect();
    let name = context.house.words().heading(name);
    Some(Lane { name, points, runs: vec![Run { from: first, to: last, kind: "thin" }] })
}

/// A lane of points of one kind, on which nothing lies.
fn lane_of(
    context: &PieceContext<'_>,
    days: &Days,
    told: &[(NaiveDate, Message)],
    (kind, name): (&'static str, Message),
) -> Option<Lane> {
    let mut points: BTreeMap<usize, Vec<Message>> = BTreeMap::new();
    for (on, short) in told {
        if let Some(at) = days.column(*on) {
            points.entry(at).or_default().push(short.clone());
        }
    }
    (!points.is_empty()).then(|| {
        let points = points.into_iter().map(|(at, said)| Point {
            at,
            kind,
            label: label(context, &said),
            findings: Vec::new(),
            again: String::new(),
        });
        let name = context.house.words().heading(&name);
        Lane { name, points: points.collect(), runs: Vec::new() }
    })
}

/// A point in words: what was done there, which findings that answers, whether it failed and was done again.
fn point(context: &PieceContext<'_>, at: usize, gathered: &Gathered) -> Point {
    let failed =
        |work: &&Row<Work>| work.turned_out.as_ref().is_some_and(|outcome| outcome.value == Outcome::Failed);
    let again = |work: &Row<Work>| {
        let later = context.record.works.iter().filter_map(|later| later.redoes.as_ref());
        work.id.as_ref().is_some_and(|id| later.into_iter().any(|redone| redone.value == id.value))
    };
    let failures: Vec<&Row<Work>> = gathered.works.iter().filter(failed).collect();
    let mut findings: Vec<usize> = Vec::new();
    for id in gathered.works.iter().flat_map(|work| work.mends.iter()) {
        let number = context.names.finding(id).filter(|number| !findings.contains(number));
        findings.extend(number);
    }
    findings.sort_unstable();
    let redone = failures.iter().any(|work| again(work));
    Point {
        at,
        kind: if failures.is_empty() { "done" } else { "failed" },
        label: label(context, &gathered.said),
        findings,
        again: if redone { context.house.words().say(&says!("lane-done-again")) } else { String::new() },
    }
}

/// So many things as have room, each in so many letters as it has.
fn label(context: &PieceContext<'_>, said: &[Message]) -> String {
    let is_test = said.iter().any(|message| message.name == "test-short");
    let most = if is_test { TEST.1 } else { ROOM.1 };
    let cut = |message: &Message| {
        // A test's result counts as much as what was tested.
        match (&message.name[..], message.values.as_slice()) {
            ("test-short", [(_, Value::Text(of)), (_, Value::Text(result))]) => {
                let parts = [of, result].map(|part| words::clause(&context.house.words().said(part), TEST.0));
                context.house.words().say(&says!(
                    "test-short",
                    of = parts[0].clone(),
                    result = parts[1].clone()
                ))
            }
            _ => words::clause(&context.house.words().say(message), ROOM.0),
        }
    };
    let mut told: Vec<String> = Vec::new();
    for text in said.iter().map(cut) {
        let room: usize = told.iter().map(|other| other.chars().count()).sum();
        if !told.is_empty() && room + text.chars().count() > most {
            told.push("…".to_owned());
            break;
        }
        told.push(text);
    }
    told.join("; ")
}

fn heading(context: &PieceContext<'_>, days: usize) -> String {
    let count = says!("timeline-days", count = days);
    // A finish was laid twice where it came off and lies there today.
    let twice = |facts: &SurfaceFacts| {
        facts
            .today
            .undone
            .iter()
            .any(|gone| facts.today.layers.iter().any(|layer| layer.coat.name == gone.name))
    };
    let message = match context.facts.surfaces.iter().filter(|facts| twice(facts)).count() {
        1 => says!("timeline-days-again", days = count),
        _ => count,
    };
    context.house.words().heading(&message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    fn of(record: &str) -> Option<Timeline> {
        let parts = "part = [{ id = \"a\", name = \"Lid\", standing = \"original\" }, \
                     { id = \"b\", name = \"Leg\", standing = \"original\" }]\n";
        shown(&format!("{parts}{record}"), "", |context| timeline(context, &[]))
    }

    #[test]
    fn a_coat_that_came_off_is_a_loop_and_what_lies_today_is_thick() {
        let timeline = of(
            "surface = [{ name = \"Top\", parts = \"a\", steps = [{ on = 2026-03-02, apply = \"shellac\" }, \
             { on = 2026-03-04, remove = \"shellac\" }, { on = 2026-03-09, apply = \"shellac\", coats = 2 }] }]\n\
             finding = [{ id = \"f\", part = \"a\", seen = \"worn\" }]\n\
             work = [{ id = \"w\", on = 2026-03-02, part = \"a\", did = \"laid it\", turned-out = \"failed\" }, \
             { on = 2026-03-09, part = \"a\", did = \"laid it again\", redoes = \"w\", mends = \"f\" }, \
             { on = 2026-03-05, part = \"b\", did = \"glued the leg\" }]",
        )
        .expect("it has days");
        assert_eq!(timeline.heading, "Four days of work, and one finish laid twice");
        let days: Vec<(&str, &str)> =
            timeline.columns.iter().map(|column| (column.day.as_str(), column.month.as_str())).collect();
        assert_eq!(days, [("2", "March"), ("4", ""), ("5", ""), ("9", "")]);
        let top = &timeline.lanes[0];
        let points: Vec<(usize, &str, &str)> =
            top.points.iter().map(|point| (point.at, point.kind, point.again.as_str())).collect();
        assert_eq!(points, [(0, "lost", ""), (1, "failed", "off again"), (3, "done", "")]);
        assert_eq!(top.points[2].findings, [1]);
        let run = |from, to, kind| Run { from, to, kind };
        assert_eq!(top.runs, [run(0, 3, "thin"), run(0, 1, "lost"), run(3, 3, "thick")]);
        assert_eq!((timeline.lanes.len(), timeline.lanes[1].points[0].label.as_str()), (2, "glued the leg"));
    }

    #[test]
    fn many_days_are_joined_and_without_days_there_is_nothing_to_draw() {
        let works: Vec<String> =
            (1..=28).map(|day| format!("{{ on = 2026-02-{day:02}, did = \"work {day}\" }}")).collect();
        let timeline = of(&format!("work = [{}]", works.join(", "))).expect("it has days");
        assert_eq!(timeline.columns.len(), COLUMNS);
        assert!(timeline.columns[0].day.contains('–'));
        assert_eq!(timeline.lanes[0].name, "The work");
        assert!(of("work = [{ did = \"looked\" }]").is_none() && of("").is_none());
    }

    #[test]
    fn what_was_done_alike_to_two_surfaces_is_told_once() {
        let timeline = of(
            "surface = [{ name = \"Top\", parts = \"a\", steps = [{ on = 2026-03-02, clean = \"water\" }] }, \
             { name = \"Legs\", parts = \"b\", steps = [{ on = 2026-03-02, clean = \"water\" }] }]",
        )
        .expect("it has a day");
        let labels: Vec<&str> = timeline.lanes.iter().map(|lane| lane.points[0].label.as_str()).collect();
        assert_eq!(labels, ["cleaned with water", ""]);
    }
}
