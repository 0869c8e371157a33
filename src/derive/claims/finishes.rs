//! What lies on each surface today, and what it lost.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::finish::stratigraphy::{Coat, Stratum};
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::name::part_by_id;
use crate::fields::Row;
use crate::record::{Act, FinishName, PartId, Removal, Step};

/// A cut through a surface: every layer by itself.
#[derive(Debug, Clone)]
pub struct Cut {
    /// The surface's number in the record, counted from 1.
    pub number: usize,
    /// The layers of today, topmost first.
    pub layers: Vec<Claim>,
    /// What was found on it and taken off, and after that what was laid and taken off again.
    pub lost: Vec<Claim>,
}

/// A cut through each surface that has, or had, a layer.
pub(super) fn cuts(telling: &Telling<'_>) -> Vec<Cut> {
    let cuts = telling.facts.surfaces.iter().map(|facts| cut(telling, facts));
    cuts.filter(|cut| !(cut.layers.is_empty() && cut.lost.is_empty())).collect()
}

fn cut(telling: &Telling<'_>, facts: &SurfaceFacts) -> Cut {
    let SurfaceFacts { surface, today, number, .. } = facts;
    // What it is called follows from the names of parts.
    let resting = |message: Message, coat: &Coat| {
        let claim = telling.claim(message, surface, "surface").and(laid_or_found(telling, facts, coat));
        claim.and_all(telling.part_rows(&surface.parts))
    };
    let taken_off = || {
        let steps = surface.steps.iter().filter(|step| matches!(step.act(), Some(Act::Remove(_))));
        steps.map(|step| telling.row(step, "surface.steps.remove"))
    };
    let layers = today.layers.iter().rev().map(|layer| {
        // Where a layer is not whole follows from the names of parts.
        let only = surface.steps.iter().flat_map(|step| telling.part_rows(&step.only));
        let claim = resting(of_layer(telling, layer), &layer.coat).and_all(removals(telling, facts, layer));
        claim.and_all(only)
    });
    let removed = today
        .removed
        .iter()
        .map(|coat| resting(says!("cut-removed", coat = coat_name(coat)), coat).and_all(taken_off()));
    let undone = today.undone.iter().map(|coat| {
        let message = match coat.on {
            Some(on) => says!("cut-undone-from", coat = coat_name(coat), on = on),
            None => says!("cut-undone", coat = coat_name(coat)),
        };
        resting(message, coat).and_all(taken_off())
    });
    Cut { number: *number, layers: layers.collect(), lost: removed.chain(undone).collect() }
}

/// Finishes that were found and are no more, a line a surface: they cannot be had back.
pub(super) fn altered(telling: &Telling<'_>) -> Vec<Claim> {
    let lost = telling.facts.surfaces.iter().filter(|facts| !facts.today.removed.is_empty());
    lost.map(|facts| {
        let SurfaceFacts { surface, today, .. } = facts;
        let names = today.removed.iter().map(|coat| Value::from(coat_name(coat))).collect();
        let message =
            says!("altered-finish", surface = surface_name(telling, facts), coats = Value::All(names));
        let found = today.removed.iter().map(|coat| laid_or_found(telling, facts, coat));
        let taken_off = surface.steps.iter().filter(|step| matches!(step.act(), Some(Act::Remove(_))));
        let taken_off = taken_off.map(|step| telling.row(step, "surface.steps.remove"));
        let claim = Claim::new(message, telling.row(surface, "surface")).and_all(found).and_all(taken_off);
        claim.and_all(telling.part_rows(&surface.parts)).weighing(Weight::Altered)
    })
    .collect()
}

/// What the papers call a surface: its own name, or the names of its parts.
pub(super) fn surface_name(telling: &Telling<'_>, facts: &SurfaceFacts) -> Value {
    match &facts.surface.name {
        Some(name) => Value::from(name),
        None if facts.surface.parts.is_empty() => Value::from(says!("surface-of-no-part")),
        None => telling.parts(&facts.surface.parts),
    }
}

/// The step that laid a coat, or the word by which the record says that it was there.
pub(super) fn laid_or_found(telling: &Telling<'_>, facts: &SurfaceFacts, coat: &Coat) -> Basis {
    let found = || facts.surface.found.iter().find(|found| found.value == coat.written);
    match (&coat.step, found()) {
        (Some(step), _) => telling.row(step, "surface.steps.apply"),
        (None, Some(found)) => telling.ground.said(found, "surface.found"),
        // That one was taken off says that there was one.
        (None, None) => telling.row(&facts.surface, "surface"),
    }
}

/// The steps that took a layer off some of its parts.
fn removals<'a>(
    telling: &'a Telling<'_>,
    facts: &'a SurfaceFacts,
    layer: &'a Stratum,
) -> impl Iterator<Item = Basis> + 'a {
    let takes = |step: &&Row<Step>| match step.act() {
        Some(Act::Remove(what)) => {
            !layer.gone_from.is_empty() && (matches!(&**what, Removal::All) || what.layer().is_some())
        }
        _ => false,
    };
    facts.surface.steps.iter().filter(takes).map(|step| telling.row(step, "surface.steps.remove"))
}

/// A coat by its name: the workshop's for its tin, or else the family's.
pub(super) fn coat_name(coat: &Coat) -> Message {
    match (&coat.written, &coat.step, coat.coats) {
        (FinishName::Unknown, ..) => says!("coat-not-known"),
        (_, Some(_), coats) if coats > 1 => says!("coat-of-several", name = coat.name.clone(), coats = coats),
        _ => says!("coat", name = coat.name.clone()),
    }
}

/// A layer with where it came from, and where it is not whole.
fn of_layer(telling: &Telling<'_>, layer: &Stratum) -> Message {
    let since = match (&layer.coat.step, layer.coat.on) {
        (None, _) => says!("layer-found"),
        (Some(_), Some(on)) => says!("layer-laid-from", on = on),
        (Some(_), None) => says!("layer-laid"),
    };
    let parts =
        |ids: &[PartId]| Value::from(ids.iter().map(|id| part_by_id(telling.record, id)).collect::<Vec<_>>());
    let mut how = vec![Value::from(since)];
    if !layer.only_on.is_empty() {
        how.push(Value::from(says!("layer-only-on", parts = parts(&layer.only_on))));
    }
    if !layer.gone_from.is_empty() {
        how.push(Value::from(says!("layer-gone-from", parts = parts(&layer.gone_from))));
    }
    says!("cut-layer", coat = coat_name(&layer.coat), how = Value::Series(how))
}
