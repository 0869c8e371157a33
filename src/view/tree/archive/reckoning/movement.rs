//! How the movement of the wood was reckoned.

use super::Reckoning;
use crate::derive::{Factor, Movement};
use crate::record::Sawn;
use crate::trade::in_text;
use crate::view::context::PieceContext;
use crate::words::{self, trimmed};

/// The movement of one part.
pub(super) fn movement(context: &PieceContext<'_>, found: &Movement) -> Vec<Reckoning> {
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
    vec![Reckoning {
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
pub(super) fn moisture(context: &PieceContext<'_>) -> Option<Reckoning> {
    let (dry, damp) = context.facts.seasons.moisture.ok()?;
    let room = &context.facts.seasons.room;
    let cited =
        context.trade.climate.coefficient("k").map_or(String::new(), |row| row.seen.cite(&row.source));
    let assumed = match (room.humidity_said, room.temperature_said) {
        (true, true) => "as the workshop says",
        (true, false) => "humidity as the workshop says, temperature our own choice",
        (false, _) => "our own choice of a heated home",
    };
    Some(Reckoning {
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
