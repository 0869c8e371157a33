//! Facts that follow from the record: pure functions, no files, no clock.
//!
//! Everything is computed here once and carried; `inspect`, `view` and `render` never compute it again.

pub mod abrasion;
mod alignment;
mod amended_places;
mod amended_words;
mod amendment;
mod buildup;
mod climate;
pub mod colour;
mod completeness;
pub mod coverage;
pub mod dating;
pub mod drying;
mod eigen;
mod hazard;
mod lacking;
pub mod layering;
mod ledger;
mod lifting;
mod marks;
mod mass;
mod material;
mod mention;
mod movement;
mod originality;
mod photographs;
mod shelf;
mod stability;
mod standing;
pub mod swatch;
#[cfg(test)]
mod testing;
mod upkeep;
mod verdict;

pub use alignment::{Alignment, NEEDED, Unfit};
pub use amendment::Amendment;
pub use buildup::{Build, Coating, Film, Layered, coating};
pub use climate::{ClimateError, Room, Seasons, equilibrium};
pub use completeness::{Addition, Completeness, Heading};
pub use hazard::{Because, Implied, Tested};
pub use lacking::Lacking;
pub use ledger::{Ledger, Material, Missing, Origin, Overhead, Price};
pub use lifting::{Lifting, Load, Team, team};
pub use marks::{Marked, NoArea, area, number_at};
pub use mass::PartMass;
pub use material::{Figured, gravity_from_green};
pub use movement::{
    Factor, FactorFrom, Movement, MovementError, Moving, change, change_by_shrinkage, coefficient, factor,
    shrinkage,
};
pub use originality::{Originality, Share, percentages};
pub use photographs::{Pairing, Photograph, Photographs, stage_and_view};
pub use shelf::{Carries, Creeping, Loading, Refusal, Strip, Support, sag, sag_factor, stiffness};
pub use stability::{Balance, Checked, Opened, Prompt, Stability, balance};
pub use standing::Standings;
pub use swatch::{Match, Measured, Swatched, Unmeasured, Which};
pub use upkeep::{Due, Kept, Upkeep};
pub use verdict::Verdict;

use std::collections::BTreeMap;

use crate::fields::Private;
use crate::photo;
use crate::record::{Folder, Piece, Record};
use crate::trade::Trade;

/// What follows from one piece's record.
#[derive(Debug)]
pub struct Facts {
    /// Its photographs, with what the record adds, in the order of the work.
    pub photographs: Photographs,
    /// The layers on each surface today, in the order of the record's surfaces.
    pub surfaces: Vec<Build>,
    /// What is doubtful about those layers, in the same order.
    pub layering: Vec<layering::Layering>,
    /// The grades of abrasive on each surface, in the same order.
    pub abrasion: Vec<Vec<abrasion::Graded>>,
    /// When the surfaces and the piece are dry and hard.
    pub hard: drying::Hard,
    /// The days that its owner keeps.
    pub upkeep: Upkeep,
    /// What every applying step took, and what that cost.
    pub coverage: Private<Vec<coverage::Used>>,
    /// Its parts, counted by standing.
    pub standings: Standings,
    /// What its materials, fixings and found finishes say about their age.
    pub dating: Vec<dating::Evidence>,
    /// The buyer's room through the year, and the moisture of wood in it.
    pub seasons: Seasons,
    /// What each row of parts weighs, in the order of the record.
    pub masses: Vec<Result<PartMass, Lacking>>,
    /// How much of it is as first made.
    pub originality: Originality,
    /// How far its solid parts move, by part counted from 0.
    pub movements: Vec<(usize, Result<Movement, Lacking>)>,
    /// What its shelves carry, in the order of the record; `None` for one that the piece does not have.
    pub shelves: Vec<Option<Result<Carries, Refusal>>>,
    /// What it weighs and how many people that asks for.
    pub lifting: Result<Lifting, Lacking>,
    /// Whether it stands; `None` where it is no piece that tips.
    pub stability: Option<Stability>,
    /// Hours and costs.
    pub ledger: Private<Ledger>,
    /// How much of the checklist its papers tell.
    pub completeness: Completeness,
    /// Hazards that it implies, in the order of the table.
    pub hazards: Vec<Implied>,
    /// What was changed since it was sealed.
    pub amendments: Vec<Amendment>,
    /// What its photographs tell; only numbers of marks until they have been opened.
    pub seen: Seen,
}

/// What follows from a piece's photographs.
#[derive(Debug, Clone, PartialEq)]
pub struct Seen {
    /// The colours that were measured, in the order of the record's swatches.
    pub swatches: Vec<Swatched>,
    /// The marks on each photograph, in the order of reading; parallel to [`Photographs::all`].
    pub marks: Vec<Vec<Marked>>,
}

impl Facts {
    /// Adds what follows from the photographs, by how each answered when it was opened.
    pub fn see(&mut self, record: &Record, opened: &BTreeMap<String, Result<photo::Checked, photo::Fault>>) {
        self.seen = seen(record, &self.photographs, &self.surfaces, opened);
    }
}

fn seen(record: &Record, photographs: &Photographs, surfaces: &[Build], opened: &swatch::Opened) -> Seen {
    let marked = |photograph: &Photograph| {
        let header =
            opened.get(&photograph.file).and_then(|look| look.as_ref().ok()).map(|look| &look.header);
        marks::marks(photograph.marks(record), header.map(|header| (header.width, header.height)))
    };
    Seen {
        swatches: swatch::swatches(record, photographs, opened, surfaces),
        marks: photographs.all.iter().map(marked).collect(),
    }
}

/// Derives everything about one piece.
pub fn facts(folder: &Folder, piece: &Piece, record: &Record, trade: &Trade) -> Facts {
    let tins = folder.workshop.as_ref().map_or(&[][..], |workshop| &workshop.tins);
    let surfaces: Vec<Build> =
        record.surfaces.iter().map(|surface| buildup::build(surface, tins, trade)).collect();
    let layering = record
        .surfaces
        .iter()
        .zip(&surfaces)
        .map(|(surface, today)| layering::layering(surface, today, tins, trade));
    let seasons = climate::seasons(folder.workshop.as_ref(), trade);
    let masses = mass::masses(&record.parts, &seasons, trade);
    let lifting = lifting::lifting(record, &masses, trade);
    let photographs = photographs::photographs(piece, record);
    let hard = drying::hard(&record.surfaces, &surfaces, folder.workshop.as_ref(), trade);
    Facts {
        amendments: amendment::amendments(piece),
        completeness: completeness::completeness(piece, record, &photographs, trade),
        hazards: hazard::hazards(folder, record, trade),
        seen: seen(record, &photographs, &surfaces, &BTreeMap::new()),
        photographs,
        layering: layering.collect(),
        abrasion: record.surfaces.iter().map(|surface| abrasion::abrasion(surface, trade)).collect(),
        upkeep: upkeep::upkeep(record, piece, &surfaces, &hard, trade),
        hard,
        coverage: Private::new(coverage::coverage(record, tins, trade)),
        surfaces,
        standings: standing::standings(&record.parts),
        dating: dating::dating(record, tins, trade),
        seasons,
        originality: originality::originality(&record.parts, &masses),
        movements: movement::movements(&record.parts, &seasons, trade),
        shelves: shelf::shelves(record, &masses, trade),
        stability: stability::stability(record, &masses, &lifting, trade),
        lifting,
        masses,
        ledger: Private::new(ledger::ledger(folder, record)),
    }
}
