//! How what pulls a piece over was reckoned.

use super::Reckoning;
use crate::derive::StabilityCheck;
use crate::unit::GRAVITY;
use crate::view::context::PieceContext;
use crate::words::trimmed;

/// A pull as the weight that would give it, rounded down.
fn pull(newtons: f64) -> String {
    let kg = newtons / GRAVITY;
    match kg {
        kg if kg < 1.0 => "not even 1 kg".to_owned(),
        kg => format!("about {:.0} kg", kg.floor()),
    }
}

/// Where its front feet were taken to stand.
fn feet(context: &PieceContext<'_>) -> String {
    let size = context.record.size.as_ref();
    match size.and_then(|size| size.feet_in.as_ref()) {
        Some(feet) => format!("its front feet stand {} in", context.house.units.lengths(&[feet.value])),
        None => "its feet taken to stand at its outline".to_owned(),
    }
}

/// The pull that tips it, and each drawer and door.
pub(super) fn stability(context: &PieceContext<'_>, checked: &StabilityCheck) -> Vec<Reckoning> {
    let house = &context.house.units;
    let child = context.trade.stability.load("child");
    let weighed =
        if checked.weighed { "put on a scale" } else { "reckoned from its parts, the light end used" };
    let mut rows = vec![Reckoning {
        figure: pull(checked.pull),
        how: format!(
            "the weight of the piece, {} {weighed}, times how far its middle lies behind its front feet over its height; {} and its centre taken to lie in the middle of its depth",
            house.mass(checked.mass),
            feet(context)
        ),
        source: "statics; our own choice of what to reckon".to_owned(),
    }];
    for (part, opened) in
        checked.opened.iter().filter_map(|(part, opened)| Some((part, opened.as_ref().ok()?)))
    {
        rows.push(Reckoning {
            figure: format!(
                "{} against {} N m",
                trimmed(opened.with_child.tips, 0),
                trimmed(opened.with_child.holds, 0)
            ),
            how: format!(
                "turning about the front feet, {} open: itself, with its middle half as far out as it reaches, and {} kg on its edge, against the rest of the piece; what is open weighs the heavy end of its range, and so much less is left of the piece",
                part.name.to_lowercase(),
                child.map_or(String::new(), |row| trimmed(row.kg.0, 1))
            ),
            source: child.map_or(String::new(), |row| format!("statics; {}", row.seen.cite(&row.source))),
        });
    }
    if let Some(row) = context.trade.stability.advice("anchor-height") {
        rows.push(Reckoning {
            figure: row.height_mm.as_ref().map_or(String::new(), |from| format!("{} mm", trimmed(from.0, 0))),
            how: "the height at which American and Australian rules for new furniture start; they do not bind this piece".to_owned(),
            source: row.seen.cite(&row.source),
        });
    }
    rows
}
