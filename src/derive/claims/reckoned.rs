//! The figures of the papers in short, how near colours came, and which published sources the figures of the papers rest on.

use super::finishes::surface_name;
use super::loads::row_of_books;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::load::shelf::ShelfFacts;
use crate::derive::name::{part_by_id, part_name};
use crate::derive::photograph::swatch::SwatchFacts;

/// What it weighs and how far its wood moves, in a line each.
pub(super) fn figures(telling: &Telling<'_>) -> Vec<Claim> {
    let ground = &telling.ground;
    let weighed = telling.facts.lifting.as_ref().ok().map(|found| {
        let mass = Value::Mass(found.whole.mass);
        let message = match (found.weighed, found.left_out) {
            (true, _) => says!("figure-weight-scale", mass = mass),
            (false, 0) => says!("figure-weight", mass = mass),
            (false, left) => says!("figure-weight-at-least", mass = mass, left = left),
        };
        let parts = telling.facts.parts.iter().filter(|facts| facts.part.present() && facts.mass.is_ok());
        let parts = parts.filter(|_| !found.weighed).map(|facts| telling.row(&facts.part, "part"));
        Claim::new(message, ground.either(telling.record.weighs.as_ref(), "weighs")).and_all(parts)
    });
    let moves = telling.facts.parts.iter().filter_map(|facts| {
        let found = facts.movement.as_ref()?.as_ref().ok()?;
        (found.held_fast || facts.part.opens.is_some()).then_some((&facts.part, found))
    });
    let (mut told, mut basis) = (Vec::new(), Vec::new());
    for (part, found) in moves {
        let amount = Value::Millimetres(found.least, found.most);
        told.push(Value::from(says!("figure-of-part", part = part_name(part), amount = amount)));
        basis.push(telling.row(part, "part"));
        basis.extend(found.figures_of.iter().map(|timber| Basis::table("timber", timber.clone())));
    }
    let mut basis = basis.into_iter();
    let moves = basis.next().map(|first| {
        let message = says!("figure-movement", parts = Value::Series(told));
        Claim::new(message, first).and_all(basis).and(telling.room())
    });
    weighed.into_iter().chain(moves).chain(shelves(telling)).collect()
}

/// What the shelves bear; those that bear alike stand together.
fn shelves(telling: &Telling<'_>) -> Vec<Claim> {
    let mut alike: Vec<(Message, Vec<String>, Vec<Basis>)> = Vec::new();
    for ShelfFacts { shelf, part, capacity } in &telling.facts.shelves {
        let Some(Ok(found)) = capacity else { continue };
        let bears = found.load();
        if bears.kg() < 1.0 {
            continue;
        }
        let bears = match row_of_books(telling, found) {
            Some(weight) => says!("figure-shelf-books", load = Value::Load(bears), weight = weight),
            None => says!("figure-shelf", load = Value::Load(bears)),
        };
        let name = part
            .as_ref()
            .map_or_else(|| part_by_id(telling.record, &shelf.part.value), |part| part_name(part));
        let mut basis = vec![telling.row(shelf, "use.shelves")];
        basis.extend(part.iter().map(|part| telling.row(part, "part")));
        match alike.iter_mut().find(|(other, ..)| *other == bears) {
            Some((_, names, all)) => {
                names.push(name);
                all.extend(basis);
            }
            None => alike.push((bears, vec![name], basis)),
        }
    }
    let claim = |(bears, names, basis): (Message, Vec<String>, Vec<Basis>)| {
        let message = says!("figure-shelves", parts = names, bears = bears);
        Claim::new(message, Basis::table("shelf", "average-books")).and_all(basis)
    };
    alike.into_iter().map(claim).collect()
}

/// The colour matches that could be measured, each in words and with its figure.
pub(super) fn colours(telling: &Telling<'_>) -> Vec<Claim> {
    telling.photographs.swatches.iter().filter_map(|facts| colour(telling, facts)).collect()
}

fn colour(telling: &Telling<'_>, facts: &SwatchFacts) -> Option<Claim> {
    let found = facts.colours.as_ref().ok()?;
    let table = &telling.trade.colour;
    let on = match &facts.surface {
        _ if !facts.swatch.part.is_empty() => telling.parts(&facts.swatch.part),
        Some(surface) => {
            let of = telling.facts.surfaces.iter().find(|facts| facts.surface.is(surface))?;
            surface_name(telling, of)
        }
        None => Value::from(says!("colour-of-nothing")),
    };
    let band =
        |difference: f64| table.band(difference).map(|band| band.words.to_string()).unwrap_or_default();
    let (least, most) =
        (band(found.difference - found.uncertainty), band(found.difference + found.uncertainty));
    let near = match () {
        () if found.difference <= found.uncertainty => says!("colour-no-difference"),
        () if least == most => says!("colour-so-near", how = least),
        () => says!("colour-between", least = least, most = most),
    };
    // Rounded up, since a smaller doubt than was found would claim too much.
    let doubt = ((found.uncertainty * 10.0 - 1e-9).ceil() / 10.0).max(0.1);
    let message = says!(
        "colour-match",
        on = on,
        near = near,
        difference = Value::Number(found.difference, 1),
        doubt = Value::Number(doubt, 1)
    );
    let claim = telling.claim(message, &facts.swatch, "swatch").and(Basis::table("colour", ""));
    Some(claim.and_all(facts.surface.as_ref().map(|surface| telling.row(surface, "surface"))))
}

/// What each kind of figure that this piece's papers print rests on, in one claim.
pub(super) fn sources(telling: &Telling<'_>) -> Vec<Claim> {
    let facts = telling.facts;
    let moves = facts.parts.iter().any(|part| matches!(part.movement, Some(Ok(_))));
    let shelves = facts.shelves.iter().any(|shelf| matches!(shelf.capacity, Some(Ok(_))));
    let weighed = facts.lifting.as_ref().is_ok_and(|found| !found.weighed);
    let tips = facts.stability.as_ref().is_some_and(|found| found.checked.is_ok());
    let colours = telling.photographs.swatches.iter().any(|facts| facts.colours.is_ok());
    let told: [(bool, Message, &'static str); 6] = [
        (moves, says!("source-movement"), "timber"),
        (weighed, says!("source-weight"), "density"),
        (shelves, says!("source-shelves"), "shelf"),
        (tips, says!("source-tipping"), "stability"),
        (colours, says!("source-colour"), "colour"),
        (!facts.surfaces.is_empty(), says!("source-finishes"), "finish"),
    ];
    let told: Vec<(Message, &'static str)> =
        told.into_iter().filter(|(there, ..)| *there).map(|(_, said, table)| (said, table)).collect();
    let basis: Vec<Basis> = told.iter().map(|(_, table)| Basis::table(table, "")).collect();
    let said: Vec<Message> = told.into_iter().map(|(said, _)| said).collect();
    let mut basis = basis.into_iter();
    let first = basis.next();
    first
        .map(|first| Claim::new(says!("sources", said = Value::Sentences(said)), first).and_all(basis))
        .into_iter()
        .collect()
}
