//! What only a label says.

use chrono::Datelike;

use super::stability;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::name::part_name;
use crate::record::Level;

/// What was done to the piece, in a word, and the year in which the work ended.
pub(super) fn done(telling: &Telling<'_>) -> Vec<Claim> {
    let level = telling.record.level.as_ref();
    let word = Message::word("done", level.map_or(Level::Unknown, |level| level.value).word());
    let said = telling.ground.either(level, "level");
    vec![match last_day(telling) {
        Some((year, day)) => {
            Claim::new(says!("label-done", level = word, year = year.to_string()), said).and(day)
        }
        None => Claim::new(says!("label-done-undated", level = word), said),
    }]
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

/// What a label warns of, in the order in which it is told as far as there is room: what a test or the build confirms;
/// that it can fall over, unless the workshop says so in its own words; those words; what a shelf carries; and then what
/// may be there.
pub(super) fn cautions(telling: &Telling<'_>, warnings: &[Claim]) -> Vec<Claim> {
    let (known, possible): (Vec<&Claim>, Vec<&Claim>) =
        warnings.iter().partition(|claim| claim.weight < Weight::UntestedDanger);
    let used = telling.record.r#use.iter().flat_map(|used| &used.cautions);
    let own: Vec<Claim> = used
        .map(|text| Claim::new(says!("own-words", said = text), telling.ground.said(text, "use.cautions")))
        .collect();
    let anchored = telling
        .record
        .r#use
        .iter()
        .flat_map(|used| &used.cautions)
        .any(|caution| caution.to_lowercase().contains("anchor"));
    let anchor = stability::stability(telling).into_iter().take(1);
    let anchor = anchor.filter(|claim| claim.weight == Weight::DangerInUse && !anchored);
    let anchor = anchor.map(|claim| claim.saying(says!("label-anchor")));
    known
        .into_iter()
        .cloned()
        .chain(anchor)
        .chain(own)
        .chain(shelf(telling))
        .chain(possible.into_iter().cloned())
        .collect()
}

/// What the first shelf of which that is known carries.
fn shelf(telling: &Telling<'_>) -> Option<Claim> {
    telling.facts.shelves.iter().find_map(|facts| {
        let found = facts.capacity.as_ref()?.as_ref().ok()?;
        let load = Some(found.load()).filter(|load| load.kg() >= 1.0)?;
        let part = facts.part.as_ref()?;
        let message = says!("label-shelf", part = part_name(part), load = Value::Load(load));
        Some(telling.claim(message, &facts.shelf, "use.shelves").and(telling.row(part, "part")))
    })
}
