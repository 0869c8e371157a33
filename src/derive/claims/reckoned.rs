//! What it weighs, how near colours came, and which published sources the figures of the papers rest on.

use super::finishes::surface_name;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::photograph::swatch::SwatchFacts;

/// What it weighs, and how that is known. How far its wood moves and what its shelves bear is told with what follows from it.
pub(super) fn weight(telling: &Telling<'_>) -> Vec<Claim> {
    let Ok(found) = &telling.facts.lifting else { return Vec::new() };
    let mass = Value::Mass(found.whole.mass);
    let message = match (found.weighed, found.left_out) {
        (true, _) => says!("figure-weight-scale", mass = mass),
        (false, 0) => says!("figure-weight", mass = mass),
        (false, left) => says!("figure-weight-at-least", mass = mass, left = left),
    };
    let parts = telling.facts.parts.iter().filter(|facts| facts.part.present() && facts.mass.is_ok());
    let parts = parts.filter(|_| !found.weighed).map(|facts| telling.row(&facts.part, "part"));
    let said = telling.ground.either(telling.record.weighs.as_ref(), "weighs");
    vec![Claim::new(message, said).and_all(parts)]
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
