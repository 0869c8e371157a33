//! What may be put on the shelves.

use serde::Serialize;

use super::basis::{Basis, NoFigure};
use crate::derive::part_name;
use crate::derive::{Creeping, ForBooks, NoLoad, SagsMost, ShelfCapacity, ShelfFacts};
use crate::record::Ends;
use crate::unit::Mass;
use crate::view::context::PieceContext;
use crate::words::{self, trimmed};

/// One shelf.
#[derive(Debug, Clone, Serialize)]
pub struct ShelfRow {
    /// The shelf.
    pub part: String,
    /// What it may carry, in a sentence.
    pub text: String,
    /// The load alone, such as `15 kg`.
    pub load: String,
    /// What it may carry in the middle; may be empty.
    pub middle: String,
    /// What it would carry if its ends cannot turn; empty where they are not said to be fixed.
    pub fixed: String,
    /// What books weigh on such a shelf, and what would let it bear a full row of them.
    pub books: String,
    /// The free span and how the ends are held.
    pub span: String,
    /// What it is made of.
    pub material: String,
    /// How far it may sag in the end.
    pub limit: String,
    /// Why.
    pub basis: Vec<Basis>,
}

/// What may be put on the shelves.
#[derive(Debug, Clone, Serialize)]
pub struct LoadsView {
    /// Shelves with a load.
    pub rows: Vec<ShelfRow>,
    /// Shelves without.
    pub without: Vec<NoFigure>,
    /// Cautions; empty where the piece has no shelves.
    pub cautions: Vec<String>,
}

/// Loads of the shelves that the record tells the buyer of; `None` where it tells of none.
pub(crate) fn loads(context: &PieceContext<'_>) -> Option<LoadsView> {
    let (mut rows, mut without) = (Vec::new(), Vec::new());
    for ShelfFacts { shelf, part, capacity } in &context.facts.shelves {
        let Some(found) = capacity else { continue };
        let name = part.as_ref().map_or_else(|| context.names.part(&shelf.part), |part| part_name(part));
        let said = shelf.load.as_ref().and_then(|load| context.house.units.load(load.value));
        match found.as_ref().map(|found| row(context, &name, found)) {
            Ok(Some(row)) => rows.push(row),
            Ok(None) => without.push(NoFigure { name, why: NoLoad::OwnWeight.to_string() }),
            Err(refusal) => without.push(NoFigure { name, why: why(refusal, said) }),
        }
    }
    if rows.is_empty() && without.is_empty() {
        return None;
    }
    Some(LoadsView { rows, without, cautions: cautions() })
}

/// Why there is no load; what the workshop says all the same stands beside it, unless the shelf sags by itself.
fn why(refusal: &NoLoad, said: Option<String>) -> String {
    match (refusal, said) {
        (NoLoad::OwnWeight, _) | (_, None) => refusal.to_string(),
        (_, Some(said)) => format!("{refusal}; the workshop lets it carry {said}, on its own judgement"),
    }
}

/// Usual cautions.
///
/// Source: common practice, no source; heavy things low: Furniture tip-over prevention fact sheet, Royal Children's
/// Hospital Melbourne.
fn cautions() -> Vec<String> {
    [
        "Pins, screws, joints and the carcase may give way before a shelf sags. None of them was tested: a load here is reckoned from the board alone.",
        "Keep heavy things low, and spread them out or set them near the ends.",
        "Take the load off when a shelf bends for all to see, or when a pin or joint moves.",
        "Nobody stands, sits or climbs on a shelf.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// A shelf's row; `None` where less than a kilogram is left to carry.
fn row(context: &PieceContext<'_>, part: &str, found: &ShelfCapacity) -> Option<ShelfRow> {
    let house = &context.house.units;
    let (promised, said) = (found.promised(), found.said.filter(|said| *said <= found.promised()));
    let load = house.load(said.unwrap_or(promised))?;
    let why = match said {
        Some(_) => "as the workshop says",
        None if promised < found.spread => {
            "the board would bear more before it sags, but we promise no more than the heaviest usual load"
        }
        None => "then it stays within a sag that the eye passes over, even after years",
    };
    let may_stand = may_stand(context, found, said.unwrap_or(promised));
    let span = house.lengths(&[found.span]);
    let ends = match found.ends {
        Some(Ends::Fixed) => "ends said to be fixed, reckoned as resting",
        Some(_) => "ends resting",
        None => "how its ends are held was not recorded; reckoned as resting",
    };
    let edges = if found.both_edges { " at front and back" } else { "" };
    let lipping = found.lipping.as_ref();
    let lipping = lipping.map_or(String::new(), |lipping| format!(", lipped with {}{edges}", lipping.of));
    let place = if found.sags_most == SagsMost::Back { " of its back edge" } else { "" };
    let limit = house.small(found.limit, found.limit);
    let middle = found.middle.kg().min(0.625 * said.unwrap_or(promised).kg());
    let middle = Mass::from_kg(middle).and_then(|middle| house.load(middle));
    let books = context.trade.shelf.load("average-books").and_then(|row| row.kg_per_m.as_ref());
    Some(ShelfRow {
        part: part.to_owned(),
        text: format!("{part}: {may_stand}. Reckoned to bear {load}, spread evenly; {why}."),
        middle: middle.map_or(String::new(), |middle| format!("In the middle alone, {middle}.")),
        fixed: found.if_fixed.and_then(|load| house.load(load)).map_or(String::new(), |load| {
            format!("Only if its ends indeed cannot turn would the board bear {load}; we do not promise it.")
        }),
        books: books.map_or(String::new(), |books| {
            format!(
                "A full row of average books this long weighs about {:.0} kg.{}",
                (books.0 * found.span.mm() / 1000.0).ceil(),
                found.for_books.as_ref().map_or(String::new(), |needs| needed(context, needs))
            )
        }),
        span: format!("{span} between supports, {ends}"),
        material: format!(
            "{}, {} thick and {} deep{lipping}",
            words::capital(&found.board.of),
            house.lengths(&[found.thick]),
            house.lengths(&[found.width])
        ),
        limit: format!("{limit} in the middle{place}, in the end"),
        basis: basis(context, found, &load, &limit),
        load,
    })
}

/// What may stand on a shelf, by what rows of books of its length weigh.
fn may_stand(context: &PieceContext<'_>, found: &ShelfCapacity, load: Mass) -> &'static str {
    let bears = |id: &str, share: f64| {
        let row = context.trade.shelf.load(id).and_then(|row| row.kg_per_m.as_ref());
        row.is_some_and(|row| load.kg() >= share * row.0 * found.span.mm() / 1000.0)
    };
    match () {
        // What is promised is this row at the most, to the last digit.
        () if bears("large-format-magazines", 0.999) => "a full row of any books may stand on it",
        () if bears("design-books", 1.0) => {
            "a full row of books may stand on it, but not of large and heavy ones"
        }
        () if bears("average-books", 1.0) => {
            "a full row of average books may stand on it, but not of heavy ones"
        }
        () if bears("average-books", 0.5) => {
            "half a row of average books may stand on it, spread along it, but no full row"
        }
        () => "light things may stand on it, but no row of books",
    }
}

/// What would let it bear that row; nothing where nothing does.
fn needed(context: &PieceContext<'_>, needs: &ForBooks) -> String {
    let house = &context.house.units;
    let ways = [
        needs.span.map(|span| format!("a span of {}", house.lengths(&[span]))),
        needs.thick.map(|thick| format!("a board {} thick", house.lengths(&[thick]))),
        needs.second_lipping.then(|| "a second lipping like the first along its back edge".to_owned()),
    ];
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    match ways.is_empty() {
        true => String::new(),
        false => format!(" To bear it, it would need {}.", ways.join(" or ")),
    }
}

fn basis(context: &PieceContext<'_>, found: &ShelfCapacity, load: &str, limit: &str) -> Vec<Basis> {
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
    let mut rows = vec![Basis {
        figure: load.to_owned(),
        how: format!(
            "the spread load that bends it to the limit in the end: {rule}, less its own weight, which alone bends it {}; {} kg before rounding down",
            context.house.units.small(found.own_sag, found.own_sag),
            trimmed(found.spread.kg(), 1),
        ),
        source: source.to_owned(),
    }];
    if found.promised() < found.spread {
        let usual = context.trade.shelf.load("large-format-magazines");
        rows.push(Basis {
            figure: format!("{} kg", trimmed(found.usual_most.kg(), 1)),
            how: "the heaviest usual load of such a span, art books and magazines; beyond it nothing is promised".to_owned(),
            source: usual.map_or(String::new(), |row| row.seen.cite(&row.source)),
        });
    }
    let row = context.trade.shelf.limit("long-term-visible");
    let eye = context.trade.shelf.limit("eye-threshold");
    rows.push(Basis {
        figure: limit.to_owned(),
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
        rows.push(Basis {
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
fn creep(creep: &Creeping) -> Basis {
    let why = if creep.stand_in.is_empty() { String::new() } else { format!(". {}", creep.stand_in) };
    Basis {
        figure: format!("1 + {}", trimmed(creep.factor, 2)),
        how: format!("how much further {} bends over the years in a heated home{why}", creep.material),
        source: creep.source.clone(),
    }
}
