//! Facts that follow from the record: pure functions, no files, no clock.
//!
//! Everything is computed here once and carried; `inspect`, `view` and `render` never compute it again.

mod buildup;
mod completeness;
mod hazard;
mod ledger;
mod mention;
mod photographs;
mod standing;
mod verdict;

pub use buildup::{Build, Coating, Film, Layered, coating};
pub use completeness::{Addition, Completeness, Heading};
pub use hazard::{Because, Implied, Tested};
pub use ledger::{Ledger, Material, Missing, Origin, Overhead, Price};
pub use photographs::{Photograph, Photographs, looks_like_photograph, stage_and_view};
pub use standing::Standings;
pub use verdict::Verdict;

use crate::fields::Private;
use crate::record::{Folder, Piece, Record};
use crate::trade::Trade;

/// What follows from one piece's record.
#[derive(Debug)]
pub struct Facts {
    /// Its photographs, with what the record adds, in the order of the work.
    pub photographs: Photographs,
    /// The layers on each surface today, in the order of the record's surfaces.
    pub surfaces: Vec<Build>,
    /// Its parts, counted by standing.
    pub standings: Standings,
    /// Hours and costs.
    pub ledger: Private<Ledger>,
    /// How much of the checklist its papers tell.
    pub completeness: Completeness,
    /// Hazards that it implies, in the order of the table.
    pub hazards: Vec<Implied>,
}

/// Derives everything about one piece.
pub fn facts(folder: &Folder, piece: &Piece, record: &Record, trade: &Trade) -> Facts {
    let tins = folder.workshop.as_ref().map_or(&[][..], |workshop| &workshop.tins);
    let photographs = photographs::photographs(piece, record);
    Facts {
        completeness: completeness::completeness(piece, record, &photographs, trade),
        hazards: hazard::hazards(folder, record, trade),
        photographs,
        surfaces: record.surfaces.iter().map(|surface| buildup::build(surface, tins, trade)).collect(),
        standings: standing::standings(&record.parts),
        ledger: Private::new(ledger::ledger(folder, record)),
    }
}
