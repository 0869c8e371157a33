//! What is not known about a piece. Silence would read as a claim.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::finish::stratigraphy::Coat;
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::identity::standing::{standing_of, standing_of_fixing};
use crate::derive::name::fixing_name;
use crate::record::{Answer, Part, PartId, Standing};
use crate::trade::Finish;

/// What is not known, one claim each.
pub(super) fn unknown(telling: &Telling<'_>) -> Vec<Claim> {
    let (record, ground) = (telling.record, &telling.ground);
    let mut unknown = Vec::new();
    if record.made.is_none() {
        unknown.push(Claim::new(says!("unknown-made"), ground.unsaid("made")));
    }
    if record.maker.as_ref().is_none_or(|maker| maker.value == Answer::Unknown) {
        unknown.push(Claim::new(says!("unknown-maker"), ground.either(record.maker.as_ref(), "maker")));
    }
    let mut among = |message: fn(Value) -> Message, named: Vec<(Value, Basis)>| {
        let (names, basis): (Vec<Value>, Vec<Basis>) = named.into_iter().unzip();
        let mut basis = basis.into_iter();
        if let Some(first) = basis.next() {
            unknown.push(Claim::new(message(Value::from(names)), first).and_all(basis));
        }
    };
    let parts = |basis: &dyn Fn(&Part) -> Option<Basis>| -> Vec<(Value, Basis)> {
        let named = |part: &Part| Some((Value::from(part.name.to_string()), basis(part)?));
        record.parts.iter().filter_map(|part| named(part)).collect()
    };
    among(
        |parts| says!("unknown-standing", parts = parts),
        parts(&|part| {
            let unknown = standing_of(part) == Standing::Unknown;
            unknown.then(|| ground.said(&part.standing, "part.standing"))
        }),
    );
    among(
        |parts| says!("unknown-timber", parts = parts),
        parts(&|part| {
            let timber = part.timber.as_ref().filter(|timber| timber.value == Answer::Unknown)?;
            part.present().then(|| ground.said(timber, "part.timber"))
        }),
    );
    let fixings = record.fixings.iter().filter(|fixing| standing_of_fixing(fixing) == Standing::Unknown);
    let fixings = fixings
        .map(|fixing| (fixing_name(fixing, telling.trade), ground.said(&fixing.standing, "fixing.standing")));
    among(|fixings| says!("unknown-fixing", fixings = fixings), fixings.collect());
    for facts in &telling.facts.surfaces {
        unknown.extend(of_surface(telling, facts));
    }
    unknown
}

fn of_surface(telling: &Telling<'_>, facts: &SurfaceFacts) -> Vec<Claim> {
    let SurfaceFacts { surface, today, .. } = facts;
    let parts: Vec<PartId> = surface.parts.iter().map(|part| part.value.clone()).collect();
    let on = || telling.on(&parts);
    let family = |coat: &Coat| coat.finish.as_deref().and_then(|id| telling.trade.finish(id));
    let identified = |finish: &Finish| !finish.is_old() && !finish.is_generic();
    let unidentified = |coat: &Coat| coat.step.is_none() && !family(coat).is_some_and(identified);
    // That an old finish was taken off says that there was one, even where nothing was found.
    let basis = match surface.found.first() {
        Some(found) => telling.ground.said(found, "surface.found"),
        None => telling.row(surface, "surface"),
    };
    let claim =
        |message: Message| Claim::new(message, basis.clone()).and_all(telling.part_rows(&surface.parts));
    let mut told = Vec::new();
    if today.layers.iter().any(|layer| unidentified(&layer.coat)) {
        told.push(claim(says!("unknown-finish", on = on())));
    } else if today.removed.iter().any(unidentified) {
        told.push(claim(says!("unknown-finish-removed", on = on())));
    }
    let laid = today.layers.iter().map(|layer| &layer.coat).filter(|coat| family(coat).is_none());
    told.extend(laid.filter_map(|coat| {
        let step = coat.step.as_ref()?;
        let message = says!("unknown-coat", name = coat.name.clone(), on = on());
        Some(telling.claim(message, step, "surface.steps.apply"))
    }));
    told
}
