//! The date check: what speaks for or against the years that are claimed, always as evidence about a part.

use super::finishes::surface_name;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::dating::{Against, DatedThing, Evidence, Plausibility};
use crate::record::Standing;
use crate::unit::edtf::Bound;

/// What came of the check, and what speaks against the years that are claimed, the most telling first.
pub(super) fn against(telling: &Telling<'_>) -> Vec<Claim> {
    let dated = &telling.facts.dating;
    let of = |weighed: Plausibility| dated.iter().filter(move |evidence| evidence.plausibility == weighed);
    let (later, early) = (of(Plausibility::Impossible).count(), of(Plausibility::Unlikely).count());
    let message = match telling.record.made.is_some() {
        _ if dated.is_empty() => says!("dating-nothing"),
        false => says!("dating-no-years"),
        true => says!("dating-checked", dated = dated.len(), later = later, early = early),
    };
    let made = telling.ground.either(telling.record.made.as_ref(), "made");
    let came_of_it =
        Claim::new(message, made).and_all(dated.iter().flat_map(|evidence| resting(telling, evidence)));
    let told = of(Plausibility::Impossible).chain(of(Plausibility::Unlikely));
    [came_of_it].into_iter().chain(told.map(|evidence| evidenced(telling, evidence))).collect()
}

/// What fits the years that are claimed, or has none to be held against.
pub(super) fn fitting(telling: &Telling<'_>) -> Vec<Claim> {
    let quiet = telling.facts.dating.iter().filter(|evidence| evidence.plausibility == Plausibility::Quiet);
    quiet.map(|evidence| evidenced(telling, evidence)).collect()
}

/// One thing that can be dated: when such things came up, and what follows for this one.
fn evidenced(telling: &Telling<'_>, evidence: &Evidence) -> Claim {
    let what = evidence.what.as_str();
    let what = match &evidence.of {
        DatedThing::Part(part) => says!("dated-part", part = &part.name, what = what),
        DatedThing::Fixing(fixing) if fixing.part.is_empty() => says!("dated", what = what),
        DatedThing::Fixing(fixing) => says!("dated-fixing", what = what, parts = telling.parts(&fixing.part)),
        DatedThing::Found(surface, _) => {
            let facts = telling.facts.surfaces.iter().find(|facts| facts.surface.is(surface));
            let on = facts.map_or(Value::from(""), |facts| surface_name(telling, facts));
            says!("dated-found", what = what, on = on)
        }
    };
    let message = says!("dating", what = what, years = years(evidence), follows = follows(telling, evidence));
    let mut basis = resting(telling, evidence).into_iter();
    let first = basis.next().expect("there is the row that is dated");
    let weight = match evidence.plausibility {
        Plausibility::Quiet => Weight::Plain,
        Plausibility::Unlikely | Plausibility::Impossible => Weight::DoesNot,
    };
    Claim::new(message, first).and_all(basis).weighing(weight)
}

/// The row that is dated, the row of the table that dates it, and the years that it is held against.
fn resting(telling: &Telling<'_>, evidence: &Evidence) -> Vec<Basis> {
    let ground = &telling.ground;
    let dated = match &evidence.of {
        DatedThing::Part(part) => telling.row(part, "part"),
        DatedThing::Fixing(fixing) => telling.row(fixing, "fixing"),
        DatedThing::Found(_, found) => ground.said(found, "surface.found"),
    };
    let years = match (evidence.against, &evidence.of) {
        (Some(Against::Made), _) => telling.record.made.as_ref().map(|made| ground.said(made, "made")),
        (Some(Against::Since), DatedThing::Part(part)) => {
            part.since.as_ref().map(|since| ground.said(since, "part.since"))
        }
        _ => None,
    };
    let parts: Vec<Basis> = match &evidence.of {
        DatedThing::Part(_) => Vec::new(),
        DatedThing::Fixing(fixing) => telling.part_rows(&fixing.part).collect(),
        DatedThing::Found(surface, _) => telling.part_rows(&surface.parts).collect(),
    };
    let (table, row) = &evidence.row;
    let first = [Some(dated), Some(Basis::table(table, row.clone())), years];
    first.into_iter().flatten().chain(parts).collect()
}

fn years(evidence: &Evidence) -> Message {
    let known = evidence.known;
    match known.not_before == known.common_from {
        true => says!("dated-from", year = year(known.not_before)),
        false => says!("dated-first", year = year(known.not_before), common = year(known.common_from)),
    }
}

fn year(year: i32) -> Message {
    match year {
        1.. => says!("year", year = year.to_string()),
        before => says!("year-before", year = (1 - i64::from(before)).to_string()),
    }
}

/// What follows for the part.
fn follows(telling: &Telling<'_>, evidence: &Evidence) -> Message {
    let found = matches!(evidence.of, DatedThing::Found(..));
    let first = evidence.known.not_before;
    match evidence.plausibility {
        Plausibility::Impossible if found => says!("dated-finished-anew", said = said(telling, evidence)),
        Plausibility::Unlikely if found => says!("dated-perhaps-anew", said = said(telling, evidence)),
        Plausibility::Impossible => says!("dated-later-than-said", said = said(telling, evidence)),
        Plausibility::Unlikely => says!("dated-early-example", said = said(telling, evidence)),
        Plausibility::Quiet if evidence.against.is_none() && is_later(evidence) => {
            says!("dated-as-such", year = year(first))
        }
        Plausibility::Quiet if evidence.against.is_none() => says!("dated-no-date"),
        Plausibility::Quiet if narrows(telling, evidence) => says!("dated-narrows", year = year(first)),
        Plausibility::Quiet => says!("dated-fits"),
    }
}

/// The years that it is held against.
fn said(telling: &Telling<'_>, evidence: &Evidence) -> Message {
    match (evidence.against, &evidence.of, &telling.record.made) {
        (Some(Against::Since), DatedThing::Part(part), _) if part.since.is_some() => {
            let since = part.since.as_ref().expect("it was looked for");
            says!("said-since", years = since.value.clone())
        }
        (_, _, Some(made)) => says!("said-made", years = made.value.clone()),
        _ => says!("said-nothing"),
    }
}

fn is_later(evidence: &Evidence) -> bool {
    matches!(evidence.standing, Standing::OldRepair | Standing::Later)
}

/// Whether the claimed years begin before the thing existed, so that it says something of them if it is as old as said.
fn narrows(telling: &Telling<'_>, evidence: &Evidence) -> bool {
    let original = evidence.standing == Standing::Original && !matches!(evidence.of, DatedThing::Found(..));
    let made = telling.record.made.as_ref().filter(|_| original && evidence.against == Some(Against::Made));
    made.is_some_and(|made| match made.years().earliest {
        Bound::Year(earliest) => earliest < evidence.known.not_before,
        _ => false,
    })
}
