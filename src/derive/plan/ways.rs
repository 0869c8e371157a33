//! The ways that a decision leaves open, with what is planned for each.

use crate::fields::{Row, Said, Text};
use crate::record::{Choice, Decision, Fixing, Part, Planned, Record, Step, Surface, Work};
use crate::unit::fold::folded;

/// A way that is or was open, and the record as it is intended if it is taken.
#[derive(Debug, Clone)]
pub struct Way {
    /// The decision.
    pub decision: Row<Decision>,
    /// The way.
    pub choice: Said<Choice>,
    /// Whether it is the one that was chosen.
    pub is_chosen: bool,
    /// The record as it is intended with it.
    pub record: Record,
}

/// A planned row that may belong to a way.
trait OfWay: Planned {
    /// The way, as the row calls it.
    fn way(&self) -> Option<&str>;
}

macro_rules! of_way {
    ($($row:ty),*) => {
        $(impl OfWay for $row {
            fn way(&self) -> Option<&str> {
                self.option.for_archive().as_ref().map(|way| way.value.0.as_str()).filter(|_| self.is_planned())
            }
        })*
    };
}

of_way!(Fixing, Part, Step, Work);

fn has_way(decision: &Decision, way: &str) -> bool {
    decision.options.iter().any(|option| is_same(&option.plan, way))
}

fn is_same(one: &str, other: &str) -> bool {
    folded(one) == folded(other)
}

/// The record as it is intended with the ways that were chosen: what is planned for others is left out.
pub fn chosen(intended: &Record) -> Record {
    let open = |way: &str| {
        let mut decisions = intended.decisions.iter().filter(|decision| has_way(decision, way)).peekable();
        // What names no way of any decision is planned whatever is decided; a rule asks about it.
        decisions.peek().is_none() || decisions.any(|decision| is_same(&decision.chose, way))
    };
    with(intended, &open)
}

/// Every way of the decisions for whose ways something is planned, in the order of the record.
pub fn ways(intended: &Record) -> Vec<Way> {
    let named = named(intended);
    let planned_for = |decision: &&Row<Decision>| named.iter().any(|way| has_way(decision, way));
    let of_decision = |decision: &Row<Decision>| {
        let each = |choice: &Said<Choice>| {
            let open = |way: &str| match has_way(decision, way) {
                true => is_same(&choice.plan, way),
                false => {
                    let others = intended.decisions.iter().filter(|other| has_way(other, way));
                    let mut others = others.peekable();
                    others.peek().is_none() || others.any(|other| is_same(&other.chose, way))
                }
            };
            Way {
                decision: decision.clone(),
                choice: choice.clone(),
                is_chosen: is_same(&decision.chose, &choice.plan),
                record: with(intended, &open),
            }
        };
        decision.options.iter().map(each).collect::<Vec<_>>()
    };
    intended.decisions.iter().filter(planned_for).flat_map(of_decision).collect()
}

/// The ways that planned rows name and no decision has.
pub fn unknown_ways(intended: &Record) -> Vec<Said<Text>> {
    let mut said: Vec<&Said<Text>> = Vec::new();
    said.extend(intended.parts.iter().filter_map(|row| row.option.for_archive().as_ref()));
    said.extend(intended.works.iter().filter_map(|row| row.option.for_archive().as_ref()));
    said.extend(intended.fixings.iter().filter_map(|row| row.option.for_archive().as_ref()));
    let steps = intended.surfaces.iter().flat_map(|surface| &surface.steps);
    said.extend(steps.filter_map(|row| row.option.for_archive().as_ref()));
    said.retain(|way| !intended.decisions.iter().any(|decision| has_way(decision, way)));
    said.into_iter().cloned().collect()
}

fn named(intended: &Record) -> Vec<&str> {
    let steps = intended.surfaces.iter().flat_map(|surface| &surface.steps).filter_map(|row| row.way());
    let parts = intended.parts.iter().filter_map(|row| row.way());
    let works = intended.works.iter().filter_map(|row| row.way());
    let fixings = intended.fixings.iter().filter_map(|row| row.way());
    steps.chain(parts).chain(works).chain(fixings).collect()
}

/// The record with those rows alone that belong to no way, or to one that is `open`.
fn with(intended: &Record, open: &dyn Fn(&str) -> bool) -> Record {
    fn kept<T: OfWay>(rows: &[Row<T>], open: &dyn Fn(&str) -> bool) -> Vec<Row<T>> {
        rows.iter().filter(|row| row.way().is_none_or(open)).cloned().collect()
    }
    let parts = kept(&intended.parts, open);
    let gone: Vec<&Row<Part>> =
        intended.parts.iter().filter(|part| !parts.iter().any(|kept| kept.is(part))).collect();
    let surface = |surface: &Row<Surface>| {
        let mut value = surface.value.clone();
        value.steps = kept(&surface.steps, open);
        value.parts.0.retain(|id| !gone.iter().any(|part| part.id.value == id.value));
        Row::new(Said { value, span: surface.span.clone() })
    };
    Record {
        works: kept(&intended.works, open),
        fixings: kept(&intended.fixings, open),
        surfaces: intended.surfaces.iter().map(surface).collect(),
        parts,
        ..intended.clone()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;

    const RECORD: &str = r#"
part = [{ id = "top", name = "Top", standing = "original" }, { id = "slip", name = "Slip", standing = "new", planned = true, option = "Strip it" }]
work = [{ did = "glue the joints", planned = true }, { did = "wash it", planned = true, option = "clean it" }, { did = "swept", option = "clean it" }]
surface = [{ parts = ["top", "slip"], found = "shellac", steps = [{ remove = "all", planned = true, option = "strip it" }] }]
decision = [
  { ask = "Strip it or clean it?", options = [{ plan = "Strip it" }, { plan = "Clean it" }, { plan = "Leave it" }], chose = "not decided" },
  { ask = "Castors?", options = [{ plan = "No castors" }], chose = "no castors" },
]
"#;

    fn told(record: &Record) -> [usize; 4] {
        let surface = &record.surfaces[0];
        [record.parts.len(), record.works.len(), surface.steps.len(), surface.parts.len()]
    }

    fn intended(record: &str) -> Record {
        let folder = folder(record, "");
        folder.pieces[0].intended.as_deref().expect("something is planned").clone()
    }

    #[test]
    fn each_way_has_its_own_rows_and_those_of_no_way() {
        let intended = intended(RECORD);
        let ways = ways(&intended);
        let each: Vec<(&str, [usize; 4])> =
            ways.iter().map(|way| (&*way.choice.plan.value.0, told(&way.record))).collect();
        assert_eq!(
            each,
            [("Strip it", [2, 2, 1, 2]), ("Clean it", [1, 3, 0, 1]), ("Leave it", [1, 2, 0, 1])]
        );
        assert_eq!(told(&chosen(&intended)), [1, 2, 0, 1], "nothing is chosen");
        assert!(ways.iter().all(|way| !way.is_chosen) && unknown_ways(&intended).is_empty());
    }

    #[test]
    fn what_was_chosen_is_planned() {
        let record = RECORD.replace("chose = \"not decided\"", "chose = \"strip it\"");
        assert_eq!(told(&chosen(&intended(&record))), [2, 2, 1, 2]);
        let slip = RECORD.replace("option = \"clean it\" }, { did", "option = \"clean\" }, { did");
        let intended = intended(&slip);
        assert_eq!(unknown_ways(&intended).iter().map(|way| &*way.value.0).collect::<Vec<_>>(), ["clean"]);
        assert_eq!(told(&chosen(&intended))[1], 3, "it stays in the plan, and is asked about");
    }
}
