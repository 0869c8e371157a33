//! How far the wood moves through the buyer's year, where that is noticed: in drawers and doors, and in what is held fast.

use super::missing::missing;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Value, Weight, says};
use crate::derive::load::part::PartFacts;
use crate::derive::missing_input::MissingInput;
use crate::derive::name::part_name;
use crate::derive::timber::movement::{Movement, Moving};
use crate::fields::Row;
use crate::record::{Held, Part};

/// The movement of each part of which it is noticed, and how to live with it; nothing where no part is such.
pub(super) fn movement(telling: &Telling<'_>) -> Vec<Claim> {
    let mut claims = Vec::new();
    for PartFacts { part, movement, .. } in &telling.facts.parts {
        match movement {
            Some(Ok(found)) if found.held_fast => claims.push(held_fast(telling, part, found)),
            Some(Ok(found)) if part.opens.is_some() => claims.push(moves(telling, part, found)),
            Some(Err(why)) if part.opens.is_some() || is_held(part) => {
                claims.push(without(telling, part, why))
            }
            _ => {}
        }
    }
    if claims.iter().any(|claim| claim.message.name != "movement-without") {
        claims.push(Claim::new(says!("movement-guide"), Basis::table("climate", "k")));
    }
    claims
}

fn is_held(part: &Part) -> bool {
    part.held.as_ref().is_some_and(|held| held.value == Held::FixedAcross)
}

/// It is held across its grain: what it wants to move by, and what may come of it.
fn held_fast(telling: &Telling<'_>, part: &Row<Part>, found: &Movement) -> Claim {
    let message = says!("movement-held", part = part_name(part), amount = amount(found));
    resting(telling, part, found, Claim::new(message, telling.row(part, "part"))).weighing(Weight::MayFail)
}

/// A drawer or a door, which sticks or rattles by as much.
fn moves(telling: &Telling<'_>, part: &Row<Part>, found: &Movement) -> Claim {
    let grows = match found.moving {
        Moving::Width => says!("movement-wider"),
        Moving::Length => says!("movement-longer"),
        Moving::Height => says!("movement-higher"),
    };
    let roughly = if found.linear { says!("movement-about") } else { says!("movement-roughly") };
    let message =
        says!("movement", part = part_name(part), roughly = roughly, amount = amount(found), grows = grows);
    resting(telling, part, found, Claim::new(message, telling.row(part, "part")))
}

fn without(telling: &Telling<'_>, part: &Row<Part>, why: &MissingInput) -> Claim {
    telling.claim(says!("movement-without", part = part_name(part), why = missing(why)), part, "part")
}

fn amount(found: &Movement) -> Value {
    Value::Millimetres(found.least, found.most)
}

/// The claim with what its figure was reckoned from: the sizes, the timbers and the room.
fn resting(telling: &Telling<'_>, part: &Row<Part>, found: &Movement, claim: Claim) -> Claim {
    let ground = &telling.ground;
    let said = [
        part.timber.as_ref().map(|timber| ground.said(timber, "part.timber")),
        part.held.as_ref().map(|held| ground.said(held, "part.held")),
        part.opens.as_ref().map(|opens| ground.said(opens, "part.opens")),
    ];
    let timbers = found.figures_of.iter().map(|timber| Basis::table("timber", timber.clone()));
    claim.and_all(said.into_iter().flatten()).and_all(timbers).and(telling.room())
}
