//! The room that suits it, and whom to ask.

use super::super::telling::Telling;
use crate::claim::{Basis, Claim, Value, says};

/// The room that the figures are for.
pub(super) fn of_figures(telling: &Telling<'_>) -> Claim {
    let room = &telling.facts.seasons.room;
    let (dry, damp) = (whole(room.dry.0), whole(room.damp.0));
    let warm = Value::Celsius(room.temperature.0);
    match telling.workshop.and_then(|workshop| workshop.climate.as_ref()) {
        Some(climate) => Claim::new(
            says!("room-said", dry = dry, damp = damp, warm = warm),
            telling.workshop_ground.said(climate, "climate"),
        ),
        None => Claim::new(
            says!("room-assumed", dry = dry, damp = damp, warm = warm),
            telling.workshop_ground.unsaid("climate"),
        )
        .and(Basis::table("climate", "assumed")),
    }
}

/// What suits wood; of a piece for out of doors, where nobody can choose its air, that figures for a room do not hold.
///
/// # Source
/// *Conservation and Care of Collections*, Western Australian Museum (2017), wood; American Institute for Conservation,
/// leaflet on caring for furniture; *Furniture Care and Handling*, Smithsonian Museum Conservation Institute. The three
/// differ in their figures and agree that steadiness matters most.
/// What holds out of doors: common practice, no source.
pub(super) fn room(telling: &Telling<'_>) -> Vec<Claim> {
    if telling.facts.nature.outdoors {
        let kind = telling.ground.said(&telling.record.kind, "kind");
        return vec![Claim::new(says!("room-outdoors"), kind)];
    }
    let mut claims = Vec::new();
    if let Some(row) = telling.trade.climate.room("print") {
        let message = says!("room-steady", low = whole(row.rh.low), high = whole(row.rh.high));
        claims.push(Claim::new(message, Basis::table("climate", "print")));
    }
    claims.push(Claim::new(says!("room-sun"), Basis::table("climate", "")));
    if let Some(row) = telling.trade.climate.limit("mould") {
        let message = says!("room-mould", percent = whole(row.value.0));
        claims.push(Claim::new(message, Basis::table("climate", "mould")));
    }
    claims
}

fn whole(number: f64) -> Value {
    Value::Number(number, 0)
}

/// Whom to ask: the workshop.
pub(super) fn ask(telling: &Telling<'_>) -> Vec<Claim> {
    let claim = |workshop: &crate::record::Workshop| {
        let ground = &telling.workshop_ground;
        let name = ground.said(&workshop.name, "name");
        match &workshop.contact {
            Some(contact) => Claim::new(says!("ask-whom", name = &workshop.name, contact = contact), name)
                .and(ground.said(contact, "contact")),
            None => Claim::new(says!("ask-name", name = &workshop.name), name),
        }
    };
    telling.workshop.map(claim).into_iter().collect()
}
