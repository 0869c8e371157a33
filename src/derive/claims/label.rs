//! What only a label says.

use chrono::Datelike;

use super::identity::resting_on_work;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, says};
use crate::derive::identity::level::level_word;

/// What was done to the piece, in a word, and the year in which the work ended.
pub(super) fn done(telling: &Telling<'_>) -> Vec<Claim> {
    let word = Message::word("done", level_word(telling.record, &telling.facts.day_book));
    let (message, day) = match last_day(telling) {
        Some((year, day)) => (says!("label-done", level = word, year = year.to_string()), Some(day)),
        None => (says!("label-done-undated", level = word), None),
    };
    vec![resting_on_work(telling, message).and_all(day)]
}

/// The year of handover, or else of the last day that the record tells of work, with the line that says so.
fn last_day(telling: &Telling<'_>) -> Option<(i32, Basis)> {
    let (record, ground) = (telling.record, &telling.ground);
    if let Some(day) = telling.handed_over {
        let handover = record.handover.as_ref();
        return Some((
            day.year(),
            ground.either(handover.and_then(|handover| handover.on.as_ref()), "handover.on"),
        ));
    }
    let works = record.works.iter().filter_map(|work| Some((work.on.as_ref()?, "work.on")));
    let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
    let steps = steps.filter_map(|step| Some((step.on.as_ref()?, "surface.steps.on")));
    let tests = record.tests.iter().filter_map(|test| Some((test.on.as_ref()?, "test.on")));
    let last = works.chain(steps).chain(tests).max_by_key(|(on, _)| on.value);
    last.map(|(on, key)| (on.value.year(), ground.said(on, key)))
}
