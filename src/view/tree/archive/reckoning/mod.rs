//! How the figures of a piece's papers were reckoned, for the workshop: inputs, rules, sources.

mod lifting;
mod movement;
mod shelf;
mod stability;
mod weight;

use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::{PartFacts, ShelfFacts, part_name};
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::Reckoning;

/// How one thing was reckoned.
#[derive(Debug, Clone, Serialize)]
pub struct Reckoned {
    /// What it is a figure of.
    pub name: String,
    /// Its figures.
    pub rows: Vec<Reckoning>,
}

/// Everything that was reckoned: shelves, movement, weight, tipping.
pub(super) fn reckoned(context: &PieceContext<'_>) -> Vec<Reckoned> {
    let facts = context.facts;
    let words = context.house.words();
    let of = |name: Message, rows: Vec<Reckoning>| Reckoned { name: words.say(&name), rows };
    let shelves = facts.shelves.iter().filter_map(|ShelfFacts { shelf, part, capacity }| {
        let found = capacity.as_ref()?.as_ref().ok()?;
        let name = part.as_ref().map_or_else(|| context.names.part(&shelf.part), |part| part_name(part));
        Some(of(says!("reckoned-load", part = name), shelf::shelf(context, found)))
    });
    let moved = facts.parts.iter().filter_map(|PartFacts { part, movement, .. }| {
        let found = movement.as_ref()?.as_ref().ok()?;
        Some(of(says!("reckoned-movement", part = part_name(part)), movement::movement(context, found)))
    });
    let moved: Vec<Reckoned> = moved.collect();
    let moisture = movement::moisture(context).filter(|_| !moved.is_empty());
    let moisture = moisture.map(|row| of(says!("reckoned-room"), vec![row]));
    let weight = facts.lifting.as_ref().ok();
    let weight = weight.map(|found| of(says!("reckoned-weight"), lifting::lifting(context, found)));
    let checked = facts.stability.as_ref().and_then(|found| found.checked.as_ref().ok());
    let tips = checked.map(|checked| of(says!("reckoned-tipping"), stability::stability(context, checked)));
    shelves.chain(moisture).chain(moved).chain(weight).chain(tips).collect()
}
