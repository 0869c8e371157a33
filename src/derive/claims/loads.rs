//! What may be put on the shelves.

use super::missing::no_load;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::load::shelf::{ForBooks, NoLoad, ShelfCapacity, ShelfFacts};
use crate::derive::name::{part_by_id, part_name};
use crate::record::Shelf;
use crate::unit::Mass;

/// Loads of the shelves that the record tells of, each with what may stand on it; and what else a shelf goes by.
pub(super) fn loads(telling: &Telling<'_>) -> Vec<Claim> {
    let mut claims: Vec<Claim> = Vec::new();
    for claim in telling.facts.shelves.iter().filter_map(|facts| shelf(telling, facts)) {
        match claims.iter_mut().find(|other| alike(other, &claim)) {
            Some(other) => *other = joined(other, &claim),
            None => claims.push(claim),
        }
    }
    if !claims.is_empty() {
        // Common practice, no source; heavy things low: Furniture tip-over prevention fact sheet, Royal Children's
        // Hospital Melbourne.
        let usual = [says!("shelf-not-tested"), says!("shelf-spread"), says!("shelf-take-off")];
        claims.extend(usual.map(|message| Claim::new(message, Basis::table("shelf", ""))));
    }
    claims
}

/// Whether two shelves bear the same, in the same words.
fn alike(one: &Claim, other: &Claim) -> bool {
    let said = |claim: &Claim| -> Vec<(&'static str, Value)> {
        claim.message.values.iter().filter(|(name, _)| *name != "part").cloned().collect()
    };
    one.message.name == other.message.name && said(one) == said(other)
}

/// Shelves that bear the same, in one line.
fn joined(one: &Claim, other: &Claim) -> Claim {
    let parts = |claim: &Claim| -> Vec<Value> {
        let part =
            claim.message.values.iter().find(|(name, _)| *name == "part").map(|(_, part)| part.clone());
        part.into_iter()
            .flat_map(|part| if let Value::All(parts) = part { parts } else { vec![part] })
            .collect()
    };
    let mut claim = one.clone().and_all(other.basis().iter().cloned());
    let all: Vec<Value> = parts(one).into_iter().chain(parts(other)).collect();
    for (name, value) in &mut claim.message.values {
        if *name == "part" {
            *value = Value::All(all.clone());
        }
    }
    claim
}

/// One shelf; `None` where the piece does not have it.
fn shelf(telling: &Telling<'_>, facts: &ShelfFacts) -> Option<Claim> {
    let ShelfFacts { shelf, part, capacity } = facts;
    let name = match part {
        Some(part) => part_name(part),
        None => part_by_id(telling.record, &shelf.part.value),
    };
    let (message, weight) = match capacity.as_ref()? {
        Ok(found) => bears(telling, &name, found),
        Err(why) => refused(shelf, &name, why),
    };
    let claim = telling.claim(message, shelf, "use.shelves").weighing(weight);
    let claim = claim.and_all(part.iter().map(|part| telling.row(part, "part")));
    let said = shelf.load.as_ref().map(|load| telling.ground.said(load, "use.shelves.load"));
    Some(
        claim
            .and_all(said)
            .and_all(["long-term-visible", "average-books"].map(|row| Basis::table("shelf", row))),
    )
}

/// Why there is no load; what the workshop says all the same stands beside it, unless the shelf sags by itself.
fn refused(shelf: &Shelf, name: &str, why: &NoLoad) -> (Message, Weight) {
    match (why, &shelf.load) {
        (NoLoad::OwnWeight, _) => {
            (says!("shelf-nothing", part = name, why = no_load(why)), Weight::DangerInUse)
        }
        (_, None) => (says!("shelf-not-reckoned", part = name, why = no_load(why)), Weight::LoadNotKnown),
        (_, Some(load)) => {
            let load = Value::Load(load.value);
            (says!("shelf-own-judgement", part = name, why = no_load(why), load = load), Weight::LoadNotKnown)
        }
    }
}

fn bears(telling: &Telling<'_>, name: &str, found: &ShelfCapacity) -> (Message, Weight) {
    let bears = found.load();
    if bears.kg() < 1.0 {
        let why = no_load(&NoLoad::OwnWeight);
        return (says!("shelf-nothing", part = name, why = why), Weight::DangerInUse);
    }
    let (may_stand, weight) = may_stand(telling, found);
    let middle =
        Mass::from_kg(found.middle.kg().min(MIDDLE * bears.kg())).filter(|middle| middle.kg() >= 1.0);
    let mut said = vec![match middle {
        Some(middle) => says!("shelf-load", load = Value::Load(bears), middle = Value::Load(middle)),
        None => says!("shelf-load-spread", load = Value::Load(bears)),
    }];
    said.extend(row_of_books(telling, found).map(|weight| says!("shelf-books", weight = weight)));
    said.extend(found.for_books.as_ref().and_then(needed));
    let said = Value::Sentences(said);
    (says!("shelf", part = name, may = may_stand, said = said, load = Value::Load(bears)), weight)
}

/// A load in the middle bends a shelf that rests at its ends as much as one and six tenths of it spread along it.
///
/// Source: Wood Handbook, FPL-GTR-190 (2010), table 9-1 (from memory): 5/384 over 1/48.
const MIDDLE: f64 = 0.625;

/// What may stand on a shelf, by what rows of books of its length weigh; one that bears no row of them is no bookshelf,
/// and whoever takes it for one is told so first.
fn may_stand(telling: &Telling<'_>, found: &ShelfCapacity) -> (Message, Weight) {
    let load = found.load();
    let bears = |id: &str, share: f64| {
        let row = telling.trade.shelf.load(id).and_then(|row| row.kg_per_m.as_ref());
        row.is_some_and(|row| load.kg() >= share * row.0 * found.span.mm() / 1000.0)
    };
    match () {
        // What is promised is this row at the most, to the last digit.
        () if bears("large-format-magazines", 0.999) => (says!("shelf-any-books"), Weight::Plain),
        () if bears("design-books", 1.0) => (says!("shelf-most-books"), Weight::Plain),
        () if bears("average-books", 1.0) => (says!("shelf-average-books"), Weight::Plain),
        () if bears("average-books", 0.5) => (says!("shelf-half-a-row"), Weight::DangerInUse),
        () => (says!("shelf-light-things"), Weight::DangerInUse),
    }
}

/// What would let it bear a full row; nothing where nothing does.
fn needed(needs: &ForBooks) -> Option<Message> {
    let ways = [
        needs.span.map(|span| says!("shelf-needs-span", span = span)),
        needs.thick.map(|thick| says!("shelf-needs-thick", thick = thick)),
        needs.second_lipping.then(|| says!("shelf-needs-lipping")),
    ];
    let ways: Vec<Value> = ways.into_iter().flatten().map(Value::from).collect();
    (!ways.is_empty()).then(|| says!("shelf-needs", ways = Value::OneOf(ways)))
}

/// What a full row of average books on it weighs, to the kilogram.
fn row_of_books(telling: &Telling<'_>, found: &ShelfCapacity) -> Option<Mass> {
    let row = telling.trade.shelf.load("average-books")?.kg_per_m.as_ref()?;
    Mass::from_kg((row.0 * found.span.mm() / 1000.0).ceil())
}
