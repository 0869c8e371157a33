//! How the load of a shelf was reckoned.

use super::Reckoning;
use crate::derive::{Creeping, ShelfCapacity};
use crate::record::Ends;
use crate::view::context::PieceContext;
use crate::words::trimmed;

/// The load of one shelf.
pub(super) fn shelf(context: &PieceContext<'_>, found: &ShelfCapacity) -> Vec<Reckoning> {
    let house = &context.house.units;
    let load = house.load(found.promised()).unwrap_or_else(|| "no load".to_owned());
    let limit = house.small(found.limit, found.limit);
    let (rule, source) = match found.lipping {
        None => (
            "5/384 of load times span cubed over stiffness",
            "Wood Handbook, FPL-GTR-190 (2010), table 9-1 (from memory), checked by integrating moment over stiffness",
        ),
        Some(_) => (
            "a plate that rests at its ends, with a beam along each lipped edge, where it sags most from front to back",
            "the theory of orthotropic plates, by Ritz's method; checked against the same with many more terms",
        ),
    };
    let ends = match found.ends {
        Some(Ends::Fixed) => "ends said to be fixed, reckoned as resting",
        Some(_) => "ends resting",
        None => "how its ends are held was not recorded; reckoned as resting",
    };
    let edges = if found.both_edges { " at front and back" } else { "" };
    let lipping = found.lipping.as_ref();
    let lipping = lipping.map_or(String::new(), |lipping| format!(", lipped with {}{edges}", lipping.of));
    let mut rows = vec![Reckoning {
        figure: house.lengths(&[found.span]),
        how: format!(
            "between supports, {ends}; {}, {} thick and {} deep{lipping}",
            found.board.of,
            house.lengths(&[found.thick]),
            house.lengths(&[found.width])
        ),
        source: "the record".to_owned(),
    }];
    rows.push(Reckoning {
        figure: load,
        how: format!(
            "the spread load that bends it to the limit in the end: {rule}, less its own weight, which alone bends it {}; {} kg before rounding down",
            house.small(found.own_sag, found.own_sag),
            trimmed(found.spread.kg(), 1),
        ),
        source: source.to_owned(),
    });
    if let Some(load) = found.if_fixed.and_then(|load| house.load(load)) {
        rows.push(Reckoning {
            figure: load,
            how: "what the board would bear only if its ends indeed cannot turn; not promised".to_owned(),
            source: source.to_owned(),
        });
    }
    if found.promised() < found.spread {
        let usual = context.trade.shelf.load("large-format-magazines");
        rows.push(Reckoning {
            figure: format!("{} kg", trimmed(found.usual_most.kg(), 1)),
            how: "the heaviest usual load of such a span, art books and magazines; beyond it nothing is promised".to_owned(),
            source: usual.map_or(String::new(), |row| row.seen.cite(&row.source)),
        });
    }
    let row = context.trade.shelf.limit("long-term-visible");
    let eye = context.trade.shelf.limit("eye-threshold");
    rows.push(Reckoning {
        figure: limit,
        how: format!(
            "a {}th of the span, for the sag after years",
            row.map_or(String::new(), |row| trimmed(row.ratio.0, 0))
        ),
        source: format!(
            "{}, from the sag that goes unnoticed: {}",
            row.map_or("our own choice", |row| &row.source),
            eye.map_or("", |row| &row.source)
        ),
    });
    for figured in std::iter::once(&found.board).chain(&found.lipping) {
        rows.push(Reckoning {
            figure: format!(
                "{} to {} GPa",
                trimmed(figured.low / 1000.0, 2),
                trimmed(figured.high / 1000.0, 2)
            ),
            how: format!("stiffness of {}: {}; the low end was used", figured.of, figured.how),
            source: figured.source.clone(),
        });
    }
    rows.extend(std::iter::once(&found.creep).chain(&found.lipping_creep).map(creep));
    rows
}

/// How much further a material bends over the years.
fn creep(creep: &Creeping) -> Reckoning {
    let why = if creep.stand_in.is_empty() { String::new() } else { format!(". {}", creep.stand_in) };
    Reckoning {
        figure: format!("1 + {}", trimmed(creep.factor, 2)),
        how: format!("how much further {} bends over the years in a heated home{why}", creep.material),
        source: creep.source.clone(),
    }
}
