//! How far the wood moves through the buyer's year.

use serde::Serialize;

use super::basis::{Basis, NoFigure};
use crate::derive::{ClimateError, Factor, Movement, Moving, PartFacts, Seasons, part_name};
use crate::record::Sawn;
use crate::trade::in_text;
use crate::view::context::PieceContext;
use crate::words::{self, trimmed};

/// One part that moves.
#[derive(Debug, Clone, Serialize)]
pub struct MovementRow {
    /// The part.
    pub part: String,
    /// How much wider, longer or higher it gets, in a sentence.
    pub text: String,
    /// That amount alone.
    pub amount: String,
    /// Its dimension in the dry season, as recorded.
    pub dry: String,
    /// Its dimension in the damp season.
    pub damp: String,
    /// A caution where it is wide and held fast; may be empty.
    pub caution: String,
    /// Why.
    pub basis: Vec<Basis>,
}

/// The movement of a piece.
#[derive(Debug, Clone, Serialize)]
pub struct MovementView {
    /// The room that was assumed, in a sentence.
    pub room: String,
    /// Parts that move.
    pub rows: Vec<MovementRow>,
    /// Solid parts without a figure.
    pub without: Vec<NoFigure>,
    /// How to read the figures; empty where there are none.
    pub notes: Vec<String>,
    /// Why the wood gets as moist as it does.
    pub basis: Vec<Basis>,
}

/// Movement of every solid part; `None` where the piece has none.
pub(crate) fn movement(context: &PieceContext<'_>) -> Option<MovementView> {
    let facts = context.facts;
    let (mut rows, mut without) = (Vec::new(), Vec::new());
    for PartFacts { part, movement, .. } in &facts.parts {
        match movement {
            Some(Ok(found)) => rows.push(row(context, part_name(part), found)),
            Some(Err(why)) => without.push(NoFigure { name: part_name(part), why: why.to_string() }),
            None => {}
        }
    }
    if rows.is_empty() && without.is_empty() {
        return None;
    }
    let notes = if rows.is_empty() { Vec::new() } else { notes() };
    Some(MovementView {
        room: room(context),
        rows,
        without,
        notes,
        basis: moisture(context).into_iter().collect(),
    })
}

/// The room that was reckoned with, in a sentence.
fn room(context: &PieceContext<'_>) -> String {
    let Seasons { room, moisture } = &context.facts.seasons;
    if *moisture == Err(ClimateError::Unread) {
        return "What the workshop says of your room's air could not be read, so nothing is reckoned with it.".to_owned();
    }
    let whose =
        if room.humidity_said { "the workshop assumes" } else { "we assume, as nothing else is known," };
    format!(
        "For your room {whose} air between {} % relative humidity in the driest season and {} % in the dampest, at {} °C.",
        trimmed(room.dry.0, 0),
        trimmed(room.damp.0, 0),
        trimmed(room.temperature.0, 0)
    )
}

/// How to read the figures.
///
/// Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13, on boards that are neither flat-sawn nor quarter-sawn; that a
/// finish slows the change: from memory.
fn notes() -> Vec<String> {
    [
        "Wood swells and shrinks across its grain, and hardly along it.",
        "Boards differ, and a finish slows the change without stopping it: read each figure as a guide for a whole season of such air, not as a limit.",
        "Leave gaps, loose panels and slotted screws as they are: they let the wood move.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn row(context: &PieceContext<'_>, part: String, found: &Movement) -> MovementRow {
    let house = &context.house.units;
    let amount = house.small(found.least, found.most);
    let grows = match found.moving {
        Moving::Width => "wider",
        Moving::Length => "longer",
        Moving::Height => "higher",
    };
    let at = |mm: f64| house.small(mm, mm);
    let across = found.across.mm();
    let roughly = if found.linear { "" } else { "very roughly " };
    let caution = match found.held_fast {
        false => String::new(),
        true => format!(
            "{part}: it is held fast across its grain and wants to move by about {amount}. It may split or bow, above all in dry air: keep the room steady, and let a crack be looked at before it is filled."
        ),
    };
    MovementRow {
        text: format!("{part}: {roughly}{amount} {grows} in the damp season than in the dry one."),
        dry: at(across),
        damp: house.small(across + found.least, across + found.most),
        caution,
        basis: basis(context, found),
        amount,
        part,
    }
}

fn basis(context: &PieceContext<'_>, found: &Movement) -> Vec<Basis> {
    let Ok((dry, damp)) = context.facts.seasons.moisture else { return Vec::new() };
    let row = |id: &String| context.trade.timber(id);
    let name = |id: &String| row(id).map_or_else(|| id.clone(), |row| in_text(&row.name));
    let counted: Vec<String> = found.figures_of.iter().map(name).collect();
    let of = match (&counted[..], found.stand_in) {
        ([_], false) => String::new(),
        (_, false) => format!(", which may be any of {}", words::list(&counted)),
        (_, true) => format!(", for which the figures of {} stand in", words::list(&counted)),
    };
    let sawn = match found.sawn {
        Sawn::FlatSawn => "flat-sawn",
        Sawn::QuarterSawn => "quarter-sawn",
        Sawn::Unknown => "sawn not known, so both ways were reckoned",
    };
    let mut cited: Vec<String> = Vec::new();
    for source in found.figures_of.iter().filter_map(row).map(|row| row.seen.cite(&row.source)) {
        if !cited.contains(&source) {
            cited.push(source);
        }
    }
    let rule = match found.linear {
        true => "Wood Handbook, FPL-GTR-190 (2010), equation 13-2",
        false => {
            "Wood Handbook, FPL-GTR-190 (2010), equations 13-2 and 13-3 (the latter from memory): outside 6 to 14 % \
             moisture neither is sure, and the range goes from the one to the other"
        }
    };
    let ways = [("along the rings", found.tangential), ("along the rays", found.radial)];
    let figures: Vec<String> =
        ways.iter().filter_map(|(way, factor)| Some(format!("{way} {}", factor_words((*factor)?)))).collect();
    vec![Basis {
        figure: context.house.units.small(found.least, found.most),
        how: format!(
            "{} mm of {}{of}, {sawn}; from {} to {} % moisture: {}",
            trimmed(found.across.mm(), 1),
            name(&found.timber),
            trimmed(dry.percent(), 1),
            trimmed(damp.percent(), 1),
            words::list(&figures)
        ),
        source: format!("{rule}; {}", cited.join("; ")),
    }]
}

/// `0.0035 to 0.0036 for 1 %`.
fn factor_words(factor: Factor) -> String {
    let [low, high] = [factor.low, factor.high].map(|end| trimmed(end, 5));
    match low == high {
        true => format!("{low} for 1 %"),
        false => format!("{low} to {high} for 1 %"),
    }
}

/// Why the wood gets as moist as it does.
fn moisture(context: &PieceContext<'_>) -> Option<Basis> {
    let (dry, damp) = context.facts.seasons.moisture.ok()?;
    let room = &context.facts.seasons.room;
    let cited =
        context.trade.climate.coefficient("k").map_or(String::new(), |row| row.seen.cite(&row.source));
    let assumed = match (room.humidity_said, room.temperature_said) {
        (true, true) => "as the workshop says",
        (true, false) => "humidity as the workshop says, temperature our own choice",
        (false, _) => "our own choice of a heated home",
    };
    Some(Basis {
        figure: format!(
            "{} to {} % moisture in the wood",
            trimmed(dry.percent(), 1),
            trimmed(damp.percent(), 1)
        ),
        how: format!(
            "what wood settles at in air of {} and {} % at {} °C, {assumed}, by the equation of Hailwood and Horrobin; measured timbers stray from it by up to 1.7 %",
            trimmed(room.dry.0, 0),
            trimmed(room.damp.0, 0),
            trimmed(room.temperature.0, 0)
        ),
        source: cited,
    })
}
