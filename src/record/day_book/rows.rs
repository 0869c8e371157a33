//! Which rows of a record were entered from which lines of a day book.

use crate::fields::{OneOrMore, Private, Said, Text};
use crate::record::Record;

/// A row of a record that says from which line of a day book it was entered.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entered<'a> {
    /// The table that it is a row of, as the record names it: `work`, `surface.steps`.
    pub table: &'static str,
    /// The name of the line.
    pub from: &'a Said<Text>,
}

impl Record {
    /// The rows that were entered from lines of a day book.
    pub fn entered(&self) -> Vec<Entered<'_>> {
        fn of<'a>(
            table: &'static str,
            lines: impl Iterator<Item = &'a Private<OneOrMore<Text>>>,
        ) -> impl Iterator<Item = Entered<'a>> {
            lines.flat_map(move |lines| lines.for_archive().iter().map(move |from| Entered { table, from }))
        }
        let costs = self.costs.for_archive();
        let steps = self.surfaces.iter().flat_map(|surface| &surface.steps);
        of("part", self.parts.iter().map(|row| &row.from_daybook))
            .chain(of("patch", self.patches.iter().map(|row| &row.from_daybook)))
            .chain(of("finding", self.findings.iter().map(|row| &row.from_daybook)))
            .chain(of("decision", self.decisions.iter().map(|row| &row.from_daybook)))
            .chain(of("work", self.works.iter().map(|row| &row.from_daybook)))
            .chain(of("fixing", self.fixings.iter().map(|row| &row.from_daybook)))
            .chain(of("surface.steps", steps.map(|row| &row.from_daybook)))
            .chain(of("test", self.tests.iter().map(|row| &row.from_daybook)))
            .chain(of("undone", self.undone.iter().map(|row| &row.from_daybook)))
            .chain(of("open", self.open.iter().map(|row| &row.from_daybook)))
            .chain(of("cost", costs.iter().map(|row| &row.from_daybook)))
            .collect()
    }
}
