//! What was done, day by day: the steps on the surfaces and the works, each told once.

use chrono::NaiveDate;

use super::finishes::surface_name;
use super::found::{found_basis, telling_of, told_instead};
use super::telling::Telling;
use super::undoing::undone;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::finish::stratigraphy::coating;
use crate::derive::finish::surface::SurfaceFacts;
use crate::diag::Place;
use crate::fields::Row;
use crate::record::{Act, FinishName, Jotting, Outcome, Removal, Step, Work};

/// What was done.
#[derive(Debug, Clone)]
pub enum Doing {
    /// Steps of one kind on one day, on the surfaces of these numbers.
    Steps(Vec<(usize, Row<Step>)>),
    /// A piece of work.
    Work(Row<Work>),
    /// What only the day book tells, in its maker's own words.
    Jotted,
}

/// One thing that was done.
#[derive(Debug, Clone)]
pub struct LogEntry {
    /// The day; none where it is not recorded.
    pub on: Option<NaiveDate>,
    /// What was done.
    pub doing: Doing,
    /// The same in a few words, without where and how.
    pub short: Message,
    /// What was done and how, without the day and the place.
    pub said: Vec<Message>,
    /// Whether what it laid came off again.
    pub lost: bool,
    /// The whole of it.
    pub claim: Claim,
}

/// Steps of one day of which the same is told.
struct Alike<'a> {
    on: Option<NaiveDate>,
    said: Vec<Message>,
    lost: bool,
    steps: Vec<(&'a SurfaceFacts, &'a Row<Step>)>,
}

/// Everything that was done, the earliest first; what has no day comes last. Tests are told by themselves.
pub(super) fn log(telling: &Telling<'_>) -> Vec<LogEntry> {
    let mut log: Vec<LogEntry> = Vec::new();
    // What was done alike to several surfaces on a day is told once.
    let mut alike: Vec<Alike<'_>> = Vec::new();
    for facts in &telling.facts.surfaces {
        for step in &facts.surface.steps {
            let Some(short) = act(telling, step) else { continue };
            let (on, said) = (step.on.as_ref().map(|on| on.value), details(telling, step, short));
            let lost = facts.today.took_off_again(step);
            let same = |other: &&mut Alike<'_>| other.on == on && other.said == said && other.lost == lost;
            match alike.iter_mut().filter(|_| on.is_some()).find(same) {
                Some(other) => other.steps.push((facts, step)),
                None => alike.push(Alike { on, said, lost, steps: vec![(facts, step)] }),
            }
        }
    }
    log.extend(alike.into_iter().filter_map(|alike| on_surfaces(telling, alike)));
    log.extend(telling.record.works.iter().map(|work| of_work(telling, work)));
    log.extend(telling.facts.day_book.works.iter().filter_map(of_line));
    log.sort_by_key(|entry| (entry.on.is_none(), entry.on));
    log
}

/// The tests that were made on a known day, each in a few words.
pub(super) fn test_days(telling: &Telling<'_>) -> Vec<(NaiveDate, Message)> {
    let steps = telling.record.surfaces.iter().flat_map(|surface| &surface.steps);
    let of_step = |step: &Row<Step>| match (step.act(), &step.on, &step.result) {
        (Some(Act::Test(of)), Some(on), Some(result)) if result.made() => {
            Some((on.value, says!("test-short", of = of, result = result.to_string())))
        }
        _ => None,
    };
    let by_themselves = telling.record.tests.iter().filter(|test| test.result.made());
    let by_themselves = by_themselves.filter_map(|test| {
        let result = test.result.to_string();
        Some((test.on.as_ref()?.value, says!("test-short", of = &test.of, result = result)))
    });
    let mut days: Vec<(NaiveDate, Message)> = steps.filter_map(of_step).chain(by_themselves).collect();
    days.sort_by_key(|(on, _)| *on);
    days
}

/// What a step did, without where and how; a test is told elsewhere.
fn act(telling: &Telling<'_>, step: &Step) -> Option<Message> {
    Some(match step.act()? {
        Act::Test(_) => return None,
        Act::Clean(with) => says!("did-clean", with = with),
        Act::Remove(what) => match &what.value {
            Removal::All => says!("did-remove-all"),
            Removal::Layer(FinishName::Unknown) => {
                says!("did-remove", what = Value::from(says!("coat-not-known")))
            }
            Removal::Layer(name) => says!("did-remove", what = coat(telling, name)),
        },
        Act::Abrade(grits) => {
            says!("did-abrade", grits = Value::Series(grits.iter().map(Value::from).collect()))
        }
        Act::Apply(what) => match step.coat_count() {
            1 => says!("did-apply", what = coat(telling, what)),
            coats => says!("did-apply-coats", what = coat(telling, what), coats = coats),
        },
    })
}

/// What the papers call a finish: the workshop's name for its tin, else the family's.
fn coat(telling: &Telling<'_>, what: &FinishName) -> Value {
    let tins = telling.workshop.map_or(&[][..], |workshop| &workshop.tins);
    match coating(what, tins, telling.trade) {
        Some(coating) => match coating.tin.map(|tin| &tin.name) {
            Some(Some(name)) => name.to_string().into(),
            Some(None) => Value::Name(coating.finish.name.to_string()),
            None => Value::Name(telling.trade.finish_name(what)),
        },
        None => what.to_string().into(),
    }
}

/// What a step did, and how.
fn details(telling: &Telling<'_>, step: &Step, short: Message) -> Vec<Message> {
    let mut first = vec![Value::from(short)];
    if !step.mix.is_empty() {
        let mix = step
            .mix
            .iter()
            .map(|one| Value::from(says!("mix-part", parts = Value::Span(one.parts.value), of = &one.of)));
        first.push(Value::from(says!("did-mix", mix = Value::All(mix.collect()))));
    }
    if let Some(every) = &step.every_hours {
        first.push(Value::from(says!("did-every", hours = Value::Span(every.value))));
    }
    if let Some(grit) = &step.abrade_between {
        first.push(Value::from(says!("did-between", grit = grit)));
    }
    if !step.only.is_empty() {
        first.push(Value::from(says!("did-only", parts = telling.parts(&step.only))));
    }
    let mut said = vec![says!("series", of = Value::Series(first))];
    said.extend(step.by.as_ref().map(|by| says!("done-by", by = by)));
    said
}

fn on_surfaces(telling: &Telling<'_>, alike: Alike<'_>) -> Option<LogEntry> {
    let Alike { on, said, lost, steps } = alike;
    let (_, first) = steps.first()?;
    let names: Vec<Value> = steps.iter().map(|(facts, _)| surface_name(telling, facts)).collect();
    let mut whole = said.clone();
    whole[0] = says!("log-at", at = Value::Series(names), what = whole[0].clone());
    let mut claim = Claim::new(logged(on, whole), telling.row(first, "surface.steps"));
    for (facts, step) in &steps {
        claim = claim.and(telling.row(step, "surface.steps")).and_all(telling.part_rows(&step.only));
        claim =
            claim.and_all(facts.surface.name.as_ref().map(|name| telling.ground.said(name, "surface.name")));
        if facts.surface.name.is_none() {
            claim = claim.and_all(telling.part_rows(&facts.surface.parts));
        }
    }
    Some(LogEntry {
        on,
        short: act(telling, first)?,
        said,
        lost,
        doing: Doing::Steps(steps.iter().map(|(facts, step)| (facts.number, (*step).clone())).collect()),
        claim,
    })
}

fn of_work(telling: &Telling<'_>, work: &Row<Work>) -> LogEntry {
    let on = work.on.as_ref().map(|on| on.value);
    // What a finding tells of it is not told again.
    let findings = telling_of(telling, work);
    let numbers: Vec<Value> = findings.iter().map(|(_, number)| Value::from(*number)).collect();
    let mut said = match numbers.is_empty() {
        true => vec![says!("own-words", said = &work.did)],
        false => vec![says!("log-for-findings", count = numbers.len(), numbers = Value::All(numbers))],
    };
    said.extend(work.by.as_ref().map(|by| says!("done-by", by = by)));
    let short_of =
        |outcome: &Outcome| matches!(outcome, Outcome::Partly | Outcome::Failed | Outcome::Unknown);
    if let Some(outcome) = work.turned_out.as_ref().filter(|outcome| short_of(&outcome.value)) {
        said.push(says!("work-turned-out", outcome = Message::word("outcome", outcome.value.word())));
    }
    let (undone, basis) = undone(telling, work);
    said.extend(undone);
    LogEntry {
        on,
        doing: Doing::Work(work.clone()),
        short: says!("own-words", said = &work.did),
        said: vec![says!("own-words", said = &work.did)],
        lost: false,
        claim: telling
            .claim(logged(on, said), work, "work")
            .and_all(findings.into_iter().flat_map(|(finding, _)| found_basis(telling, finding)))
            .and_all(told_instead(telling, work).into_iter().map(|other| telling.row(other, "work")))
            .and_all(basis),
    }
}

/// A line of the day book, where others may read it.
fn of_line(jotting: &Jotting) -> Option<LogEntry> {
    let said = says!("own-words", said = jotting.said.as_deref().ok()?);
    let line = Basis::Said { place: Place::at(&jotting.path, &jotting.span), key: "line".to_owned() };
    Some(LogEntry {
        on: jotting.on,
        doing: Doing::Jotted,
        short: said.clone(),
        said: vec![said.clone()],
        lost: false,
        claim: Claim::new(logged(jotting.on, vec![said]), line),
    })
}

fn logged(on: Option<NaiveDate>, said: Vec<Message>) -> Message {
    let day = on.map_or_else(|| Value::from(says!("day-not-recorded")), Value::Day);
    says!("logged", day = day, said = Value::Sentences(said))
}
