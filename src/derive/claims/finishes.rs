//! What lies on each surface today, and what it lost.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::finish::stratigraphy::{Coat, Stratum};
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::name::part_by_id;
use crate::fields::Row;
use crate::record::{Act, FinishName, PartId, Removal, Step};

/// What lies on each surface today, and what it lost.
pub(super) fn finishes(telling: &Telling<'_>) -> Vec<Claim> {
    telling.facts.surfaces.iter().map(|facts| of_surface(telling, facts)).collect()
}

fn of_surface(telling: &Telling<'_>, facts: &SurfaceFacts) -> Claim {
    let SurfaceFacts { surface, today, .. } = facts;
    let mut basis = Vec::new();
    let mut said = Vec::new();
    match today.layers.is_empty() {
        true => said.push(says!("finish-none")),
        false => {
            let layers = today.layers.iter().rev().map(|layer| {
                basis.push(laid_or_found(telling, facts, &layer.coat));
                basis.extend(removals(telling, facts, layer));
                Value::from(of_layer(telling, layer))
            });
            let layers: Vec<Value> = layers.collect();
            said.push(says!("finish-today", layers = Value::Series(layers)));
        }
    }
    let mut lost = |coats: &[Coat], message: fn(Value) -> Message| {
        if !coats.is_empty() {
            basis.extend(coats.iter().map(|coat| laid_or_found(telling, facts, coat)));
            let names = coats.iter().map(|coat| Value::from(coat_name(coat))).collect();
            said.push(message(Value::All(names)));
        }
    };
    lost(&today.removed, |coats| says!("finish-removed", coats = coats));
    lost(&today.undone, |coats| says!("finish-undone", coats = coats));
    if !(today.removed.is_empty() && today.undone.is_empty()) {
        let taken_off = surface.steps.iter().filter(|step| matches!(step.act(), Some(Act::Remove(_))));
        basis.extend(taken_off.map(|step| telling.row(step, "surface.steps.remove")));
    }
    // What it is called, and where a layer is not whole, follows from the names of parts.
    let only = surface.steps.iter().flat_map(|step| telling.part_rows(&step.only));
    basis.extend(telling.part_rows(&surface.parts).chain(only));
    let message = says!("finish", name = surface_name(telling, facts), said = Value::Sentences(said));
    Claim::new(message, telling.row(surface, "surface")).and_all(basis)
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
fn coat_name(coat: &Coat) -> Message {
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
    says!("layer", coat = coat_name(&layer.coat), how = Value::Series(how))
}
