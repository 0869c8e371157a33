//! From when the piece may be used, and what that waits for.

use chrono::NaiveDate;

use super::super::finishes::{laid_or_found, surface_name};
use super::super::telling::Telling;
use super::face::layer_name;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::cure::{Hardening, Milestone, NoDate};
use crate::fields::Row;
use crate::record::Surface;

/// A day from which something may be done with the piece.
#[derive(Debug, Clone)]
pub struct FromDay {
    /// The day.
    pub on: NaiveDate,
    /// What may be done.
    pub claim: Claim,
}

/// The days of the piece, three at most: the late end of each, so that nobody begins too soon, and of those that fall
/// together the last. What came about before it left is no news.
pub(super) fn days(telling: &Telling<'_>) -> Vec<FromDay> {
    let Some(cure) = &telling.facts.cure else { return Vec::new() };
    let gently = match &cure.full_cure {
        Some(_) => |day: NaiveDate| says!("use-from-gently", day = day),
        None => |day: NaiveDate| says!("use-from-dry", day = day),
    };
    let all = [
        Some(from(telling, &cure.dust_dry, |day| says!("use-from-dusted", day = day))),
        Some(from(telling, &cure.light_use, gently)),
        cure.full_cure.as_ref().map(|full| from(telling, full, |day| says!("use-from-hard", day = day))),
    ];
    let mut days: Vec<FromDay> = Vec::new();
    for day in all.into_iter().flatten().flatten() {
        days.retain(|before| before.on < day.on);
        days.push(day);
    }
    days.retain(|day| telling.handed_over.is_none_or(|left| left < day.on));
    days
}

/// That all of it is over, where it was when the piece left.
pub(super) fn over(telling: &Telling<'_>) -> Vec<Claim> {
    let over = telling
        .facts
        .cure
        .as_ref()
        .filter(|cure| telling.handed_over.is_some_and(|left| left >= cure.over()));
    let claim = over.and_then(|cure| match &cure.full_cure {
        Some(full) => from(telling, full, |day| says!("use-hard-since", day = day)),
        None => from(telling, &cure.light_use, |day| says!("use-dry-since", day = day)),
    });
    claim.map(|day| day.claim).into_iter().collect()
}

/// A day that the slowest coat of a surface decides.
fn from(
    telling: &Telling<'_>,
    milestone: &Milestone<Row<Surface>>,
    message: fn(NaiveDate) -> Message,
) -> Option<FromDay> {
    let facts = telling.facts.surfaces.iter().find(|facts| facts.surface.is(&milestone.waits_for))?;
    let on = milestone.days.last;
    let claim = telling.claim(message(on), &facts.surface, "surface");
    let Hardening::By(own) = &facts.hardening else { return None };
    let slowest = own.full_cure.as_ref().unwrap_or(&own.light_use);
    let coat = &slowest.waits_for;
    let table = coat.finish.as_ref().filter(|_| !milestone.time.label);
    let claim = claim.and(laid_or_found(telling, facts, coat));
    Some(FromDay { on, claim: claim.and_all(table.map(|finish| Basis::table("finish", finish.clone()))) })
}

/// What the days wait for and what they do not promise; or why there are none.
pub(super) fn notes(telling: &Telling<'_>) -> Vec<Claim> {
    let mut claims = Vec::new();
    let surfaces = &telling.facts.surfaces;
    if surfaces.is_empty() {
        claims.push(Claim::new(says!("care-no-surface"), telling.ground.unsaid("surface")));
    }
    for facts in surfaces {
        if let Hardening::NotKnown { coat, why } = &facts.hardening {
            let why = match why {
                NoDate::Day => says!("no-date-day"),
                NoDate::Interval => says!("no-date-interval"),
                NoDate::Times => says!("no-date-times"),
                NoDate::BeyondCalendar => says!("no-date-beyond"),
            };
            let coat_name = layer_name(coat, telling.trade);
            let surface = surface_name(telling, facts);
            let message = says!("use-not-known", coat = coat_name, surface = surface, why = why);
            claims.push(Claim::new(message, laid_or_found(telling, facts, coat)));
        }
    }
    if telling
        .facts
        .cure
        .as_ref()
        .is_some_and(|cure| telling.handed_over.is_some_and(|left| left >= cure.over()))
    {
        return claims;
    }
    claims.extend(slow_air(telling));
    if let Some(cure) = &telling.facts.cure {
        let last = cure.full_cure.as_ref().unwrap_or(&cure.light_use);
        let waiting = surfaces.iter().find(|facts| facts.surface.is(&last.waits_for));
        if let Some(facts) = waiting
            && let Hardening::By(own) = &facts.hardening
        {
            let slowest = own.full_cure.as_ref().unwrap_or(&own.light_use);
            let coat = &slowest.waits_for;
            let message = says!(
                "use-waits-for",
                surface = surface_name(telling, facts),
                coat = layer_name(coat, telling.trade),
                laid = slowest.laid.last
            );
            let laid = laid_or_found(telling, facts, coat);
            claims.push(Claim::new(says!("use-holds-for"), laid.clone()));
            claims.push(Claim::new(message, laid));
        }
    }
    claims
}

/// Below this many degrees Celsius, and above this much relative humidity, the air is spoken of.
///
/// # Source
/// common practice, no source: 18 °C is where the table of coating arithmetic begins to speak of slow drying,
/// 65 % where a room counts as damp.
const COOL: f64 = 18.0;
const DAMP: f64 = 65.0;

/// Cold or damp air that surfaces hardened in; those that hardened in the same air are told together.
fn slow_air(telling: &Telling<'_>) -> Vec<Claim> {
    let mut told: Vec<(Vec<Value>, Vec<Value>, Vec<Basis>)> = Vec::new();
    for facts in &telling.facts.surfaces {
        let Hardening::By(_) = &facts.hardening else { continue };
        let cool = facts.air.celsius.filter(|celsius| *celsius < COOL);
        let damp = facts.air.humidity.filter(|humidity| *humidity > DAMP);
        let said = [
            cool.map(Value::Celsius),
            damp.map(|humidity| says!("air-humidity", percent = Value::Number(humidity, 0)).into()),
        ];
        let air: Vec<Value> = said.into_iter().flatten().collect();
        let own = facts.surface.drying.as_ref().map(|drying| telling.ground.said(drying, "surface.drying"));
        let bench = || {
            let bench = telling.workshop?.drying.as_ref()?;
            Some(telling.workshop_ground.said(bench, "drying"))
        };
        let Some(basis) = own.or_else(bench).filter(|_| !air.is_empty()) else { continue };
        let name = surface_name(telling, facts);
        match told.iter_mut().find(|(_, other, _)| *other == air) {
            Some((names, _, bases)) => {
                names.push(name);
                bases.push(basis);
            }
            None => told.push((vec![name], air, vec![basis])),
        }
    }
    let claim = |(names, air, bases): (Vec<Value>, Vec<Value>, Vec<Basis>)| {
        let message = says!("use-air", surface = Value::All(names), air = Value::All(air));
        let (first, others) = bases.split_first().expect("each that is told rests on a line");
        Claim::new(message, first.clone()).and_all(others.iter().cloned())
    };
    told.into_iter().map(claim).collect()
}
