//! Seats, cloth, leather, metal and glass that lie on no surface.

use super::super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::fields::Row;
use crate::record::{Construction, Part};
use crate::trade::Finish;

/// Materials that are their own surface, with the row of the table of finishes that holds for any of their kind.
const BARE: [(Construction, &str); 4] = [
    (Construction::Textile, "cloth-unknown"),
    (Construction::Leather, "leather-unknown"),
    (Construction::Glass, "clear-glass"),
    (Construction::Metal, "metal-unknown"),
];

/// The parts that lie on no surface, which says how they are cared for: each covering that the record names, and then
/// what is of cloth, leather, glass or metal, a line a material.
pub(super) fn materials(telling: &Telling<'_>) -> Vec<Claim> {
    let record = telling.record;
    let on_surface = |part: &Part| {
        record.surfaces.iter().flat_map(|surface| surface.parts.iter()).any(|on| on.value == part.id.value)
    };
    let parts = record.parts.iter().filter(|part| part.present() && !on_surface(part));
    let (mut covered, mut bare) = (Vec::new(), Vec::new());
    for part in parts {
        match covering(telling, part) {
            Some(claim) => covered.push(claim),
            None => bare.push(part),
        }
    }
    let of_material = |(build, finish): (Construction, &str)| {
        let is_of = |part: &&Row<Part>| part.build.as_ref().is_some_and(|said| said.value == build);
        let mut of_it = bare.iter().copied().filter(is_of);
        let claim = material(telling, build, telling.trade.finish(finish)?, of_it.next()?);
        Some(claim.and_all(of_it.map(|part| telling.row(part, "part"))))
    };
    covered.extend(BARE.into_iter().filter_map(of_material));
    covered
}

/// How the covering that a part is said to be of is cared for.
fn covering(telling: &Telling<'_>, part: &Row<Part>) -> Option<Claim> {
    let said = part.material.as_ref()?;
    let covering = telling.trade.covering(said.known()?)?;
    let message = says!("care-covering", name = &part.name, text = covering.owner.as_ref()?);
    let claim = Claim::new(message, telling.ground.said(said, "part.material"));
    Some(claim.and(Basis::table("covering", covering.id.0.clone())))
}

fn material(telling: &Telling<'_>, build: Construction, finish: &Finish, part: &Row<Part>) -> Claim {
    let never = finish.never.iter().map(|text| says!("care-never-text", text = text));
    let clean = says!("own-words", said = &finish.clean);
    let message = says!(
        "care-material",
        material = Message::word("material", build.word()),
        said = Value::Sentences([clean.clone()].into_iter().chain(never).collect()),
        brief = Value::Sentences([clean].into_iter().chain(first(finish)).collect()),
    );
    telling.claim(message, part, "part").and(Basis::table("finish", finish.id.0.clone()))
}

/// The first thing that is never done to it, which the table names first because it matters most.
fn first(finish: &Finish) -> Option<Message> {
    finish.never.first().map(|text| says!("care-never-text", text = text))
}
