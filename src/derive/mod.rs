//! Facts that follow from the record: pure functions, no files, no clock.
//!
//! Everything is computed here once and carried; `inspect`, `view` and `render` never compute it again.

mod amendment;
mod climate;
pub mod finish;
mod hazard;
pub mod identity;
mod load;
mod missing_input;
mod money;
pub mod photograph;
#[cfg(test)]
mod testing;
mod timber;

pub use amendment::changes::{Amendment, Digests, amendments};
pub use climate::{ClimateError, RoomAir, Seasons, equilibrium};
pub use finish::stratigraphy::{Coat, Coating, Stratigraphy, Stratum, coating, laid};
pub use finish::surface::SurfaceFacts;
pub use finish::upkeep::{Due, Upkeep, UpkeepTask};
pub use finish::{abrasion, compatibility, coverage, cure};

pub use hazard::implied::{Because, Implied, OldCoat};
pub use hazard::result::TestReading;
pub use hazard::tested::Tested;
pub use identity::completeness::{Addition, Completeness, Heading};
pub use identity::dating;
pub use identity::originality::{Originality, StandingShare, percentages};
pub use identity::standing::Standings;
pub use load::lifting::{Lifting, Load, TeamSize, team};
pub use load::mass::PartMass;
pub use load::part::PartFacts;
pub use load::shelf::{
    Creeping, Loading, NoLoad, ShelfCapacity, ShelfFacts, Strip, Support, sag, sag_factor, stiffness,
};
pub use load::stability::{Balance, OpenedPart, Prompt, Stability, StabilityCheck, balance};
pub use missing_input::MissingInput;
pub use money::ledger::{CostOrigin, Ledger, LedgerGap, MaterialCost, Overhead, Price};
pub use photograph::alignment::{Alignment, NEEDED, Unfit};
pub use photograph::facts::{PairFacts, PhotoCheck, PhotoFacts, PhotographFacts, alignment, overlay};
pub use photograph::listing::{Pairing, Photograph, Photographs, stage_and_view};
pub use photograph::marks::{Marked, NoArea, area, number_at};
pub use photograph::swatch::{Match, Measured, SwatchFacts, Unmeasured, Which};
pub use photograph::{colour, swatch};
pub use timber::material::{Figured, gravity_from_green};
pub use timber::movement::{
    Factor, Movement, MovementError, Moving, change, change_by_shrinkage, coefficient, factor, shrinkage,
};

use std::sync::Arc;

use crate::fields::Private;
use crate::fields::Row;
use crate::record::{Folder, Piece, Record, Surface};
use crate::trade::Trade;

/// One piece as it travels: what its folder says, what follows from that, and what its photographs tell.
///
/// It is made once and never changed.
#[derive(Debug)]
pub struct Workpiece {
    /// The piece's folder.
    pub piece: Arc<Piece>,
    /// Its record.
    pub record: Arc<Record>,
    /// What follows from the record alone.
    pub facts: Facts,
    /// What follows from its photographs.
    pub photographs: PhotoFacts,
}

impl Workpiece {
    /// A piece of which no photograph is opened, for what needs none; `None` where its record could not be read.
    pub fn unopened(folder: &Folder, piece: &Arc<Piece>, trade: &Trade) -> Option<Workpiece> {
        let record = piece.record.clone()?;
        let facts = facts(folder, piece, &record, None, trade);
        let all = facts.photographs.all.iter().map(|photograph| PhotographFacts::of(photograph, None));
        let pairs = facts.photographs.pairs.iter();
        let pairs = pairs.map(|pairing| PairFacts { pairing: pairing.clone(), alignment: None, tone: None });
        let photographs = PhotoFacts::of(&record, &facts.surfaces, all.collect(), pairs.collect());
        Some(Workpiece { piece: piece.clone(), record, facts, photographs })
    }
}

/// What follows from one piece's record alone.
#[derive(Debug)]
pub struct Facts {
    /// Its photographs by their names and what the record adds, in the order of the work.
    pub photographs: Photographs,
    /// What follows from each row of parts, in the order of the record.
    pub parts: Vec<PartFacts>,
    /// What follows from each surface, in the order of the record.
    pub surfaces: Vec<SurfaceFacts>,
    /// When the piece is dry and hard; `None` where nothing was laid, or some surface is not known.
    pub cure: Option<cure::Cure<Row<Surface>>>,
    /// The days that its owner keeps.
    pub upkeep: Upkeep,
    /// Its parts, counted by standing.
    pub standings: Standings,
    /// What its materials, fixings and found finishes say about their age.
    pub dating: Vec<dating::Evidence>,
    /// The buyer's room through the year, and the moisture of wood in it.
    pub seasons: Seasons,
    /// How much of it is as first made.
    pub originality: Originality,
    /// What its shelves carry, in the order of the record.
    pub shelves: Vec<ShelfFacts>,
    /// What it weighs and how many people that asks for.
    pub lifting: Result<Lifting, MissingInput>,
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
}

/// Derives everything that follows from one piece's record alone.
///
/// `digests` are those of its public photographs, where they were asked for: a change of them counts as an amendment.
pub fn facts(
    folder: &Folder,
    piece: &Piece,
    record: &Record,
    digests: Option<&Digests>,
    trade: &Trade,
) -> Facts {
    let workshop = folder.workshop.as_ref();
    let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
    let seasons = climate::seasons(workshop, trade);
    let parts = load::part::parts(record, &seasons, trade);
    let surfaces = finish::surface::surfaces(record, workshop, trade);
    let lifting = load::lifting::lifting(record, &parts, trade);
    let photographs = photograph::listing::photographs(piece, record);
    Facts {
        amendments: amendment::changes::amendments(piece, digests),
        completeness: identity::completeness::completeness(piece, record, &photographs, trade),
        hazards: hazard::implied::hazards(folder, record, trade),
        photographs,
        upkeep: finish::upkeep::upkeep(record, piece, &surfaces, trade),
        cure: cure::of_piece(surfaces.iter().map(|facts| (&facts.surface, &facts.hardening))),
        surfaces,
        standings: identity::standing::standings(&record.parts),
        dating: dating::dating(record, tins, trade),
        seasons,
        originality: identity::originality::originality(&parts),
        shelves: load::shelf::shelves(record, &parts, trade),
        stability: load::stability::stability(record, &parts, &lifting, trade),
        lifting,
        parts,
        ledger: Private::new(money::ledger::ledger(folder, record)),
    }
}
