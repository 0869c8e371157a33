//! What a record only plans.
//!
//! A planned row is told apart where a record is read: everything that follows from a record, and every paper, is made
//! from what was done. What the rows would come to is seen by reading the record as it is intended.

use toml::de::DeTable;

use super::canon::{CanonicalValue, Form};
use super::{Fixing, Part, PartId, Record, Step, Surface, Work};
use crate::fields::{Laid, Row, Said, placed_table, read_text_laid};

/// Rows that may be planned.
pub trait Planned {
    /// Whether the row is still to be done.
    fn is_planned(&self) -> bool;
}

macro_rules! planned {
    ($($row:ty),*) => {
        $(impl Planned for $row {
            fn is_planned(&self) -> bool {
                self.planned.as_ref().is_some_and(|planned| planned.value)
            }
        })*
    };
}

planned!(Fixing, Part, Step, Work);

/// The lists of a record whose rows may be planned.
const LISTS: [&str; 3] = ["part", "work", "fixing"];

impl Record {
    /// The record without the rows that are planned; `None` where none is.
    pub(super) fn done(&self) -> Option<Record> {
        let steps = self.surfaces.iter().any(|surface| any_planned(&surface.steps));
        if !steps && !any_planned(&self.parts) && !any_planned(&self.works) && !any_planned(&self.fixings) {
            return None;
        }
        let to_come =
            |id: &Said<PartId>| self.parts.iter().any(|part| part.is_planned() && part.id.value == id.value);
        let surface = |surface: &Row<Surface>| {
            let mut value = surface.value.clone();
            value.steps = done(&surface.steps);
            // A part that is still to be made has no face yet.
            value.parts.0.retain(|part| !to_come(part));
            Row::new(Said { value, span: surface.span.clone() })
        };
        Some(Record {
            parts: done(&self.parts),
            works: done(&self.works),
            fixings: done(&self.fixings),
            surfaces: self.surfaces.iter().map(surface).collect(),
            ..self.clone()
        })
    }
}

/// Rows by themselves, as they stand in a record, with all of them at one place; `None` where they cannot be read.
pub fn rows_of(rows: &str, at: usize) -> Option<Record> {
    let record = format!("title = \"-\"\nnumber = \"-\"\nkind = \"-\"\n{rows}");
    let laid =
        Laid { below: &DeTable::new(), lay: &|document, _| placed_table(document.clone(), &|_| at..at + 1) };
    let reading = read_text_laid("", &record, None, Some(&laid), Record::read_table);
    reading.table.filter(|_| reading.problems.is_empty())
}

fn any_planned<T: Planned>(rows: &[Row<T>]) -> bool {
    rows.iter().any(|row| row.is_planned())
}

fn done<T: Planned>(rows: &[Row<T>]) -> Vec<Row<T>> {
    rows.iter().filter(|row| !row.is_planned()).cloned().collect()
}

/// Takes the planned rows out of what a buyer may read.
pub(super) fn leave_out(record: &mut CanonicalValue) {
    let without = |rows: &[CanonicalValue]| {
        let done = |row: &&CanonicalValue| row.get("planned") != Some(&Form::Truth(true).into());
        let kept: Vec<CanonicalValue> = rows.iter().filter(done).cloned().collect();
        (!kept.is_empty()).then(|| Form::List(kept).into())
    };
    for list in LISTS {
        let kept = record.get(list).and_then(|rows| without(rows.list()));
        record.set(list, kept);
    }
    let surfaces = record.get("surface").map_or(&[][..], CanonicalValue::list);
    let surfaces: Vec<CanonicalValue> = surfaces
        .iter()
        .map(|surface| {
            let mut surface = surface.clone();
            let kept = surface.get("steps").and_then(|steps| without(steps.list()));
            surface.set("steps", kept);
            surface
        })
        .collect();
    record.set("surface", (!surfaces.is_empty()).then(|| Form::List(surfaces).into()));
}

#[cfg(test)]
mod tests {
    use crate::record;
    use crate::source::Tree;

    const RECORD: &str = r#"
title = "Chest"
number = "C-1"
kind = "case/chest"
part = [{ id = "top", name = "Top", standing = "original" }, { id = "slip", name = "Slip", standing = "new", planned = true }]
work = [{ did = "closed the split" }, { did = "wax the runners", planned = true }]
[[surface]]
parts = ["top", "slip"]
steps = [{ clean = "white spirit" }, { apply = "shellac", planned = true }]
"#;

    fn read(record: &str) -> record::Piece {
        let files = [("workshop.toml", "name = \"Bench\""), ("pieces/chest/record.toml", record)];
        let (folder, problems) = record::read(&Tree::of(files));
        assert_eq!(problems, []);
        (*folder.pieces[0]).clone()
    }

    #[test]
    fn what_is_planned_is_in_no_fact() {
        let piece = read(RECORD);
        let counts = |record: &record::Record| {
            let surface = &record.surfaces[0];
            [record.parts.len(), record.works.len(), surface.steps.len(), surface.parts.len()]
        };
        assert_eq!(counts(piece.record.as_ref().unwrap()), [1, 1, 1, 1]);
        assert_eq!(counts(piece.intended.as_ref().unwrap()), [2, 2, 2, 2]);
    }

    #[test]
    fn a_record_that_plans_nothing_is_read_once() {
        let piece = read(&RECORD.replace("planned = true", "planned = false"));
        assert!(piece.intended.is_none());
        assert_eq!(piece.record.unwrap().parts.len(), 2);
    }
}
