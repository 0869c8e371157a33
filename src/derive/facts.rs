//! What follows from one piece's record alone.

use super::amendment::changes::{Amendment, Digests, amendments};
use super::climate::{self, Seasons};
use super::finish::cure;
use super::finish::surface::{SurfaceFacts, surfaces};
use super::finish::upkeep::{Upkeep, upkeep};
use super::hazard::implied::{Implied, hazards, region};
use super::identity::completeness::{Completeness, completeness};
use super::identity::dating;
use super::identity::originality::{Originality, originality};
use super::identity::standing::{Standings, standings};
use super::load::lifting::{Lifting, lifting};
use super::load::part::{PartFacts, parts};
use super::load::shelf::{ShelfFacts, shelves};
use super::load::stability::{Stability, stability};
use super::missing_input::MissingInput;
use super::money::ledger::{Ledger, ledger};
use super::nature::{Nature, nature};
use super::photograph::listing::{Photographs, photographs};
use crate::daybook::{DayBook, day_book};
use crate::fields::{Private, Row};
use crate::record::{Folder, Piece, Record, Region, Surface};
use crate::trade::Trade;

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
    /// What a piece of its kind is like.
    pub nature: Nature,
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
    /// The region whose rules the workshop keeps to, where it names one.
    pub region: Option<Region>,
    /// What was jotted of it and is told by no row of the record.
    pub day_book: DayBook,
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
    let seasons = climate::seasons(workshop, folder.climate_unread, trade);
    let parts = parts(record, &seasons, trade);
    let surfaces = surfaces(record, workshop, trade);
    let lifting = lifting(record, &parts, trade);
    let photographs = photographs(piece, record);
    let day_book = day_book(piece, record);
    Facts {
        amendments: amendments(piece, digests),
        completeness: completeness(piece, record, &photographs, trade),
        hazards: hazards(folder, record, &surfaces, trade),
        region: region(folder),
        nature: nature(record, trade),
        photographs,
        upkeep: upkeep(record, piece, &surfaces, trade),
        cure: cure::of_piece(surfaces.iter().map(|facts| (&facts.surface, &facts.hardening))),
        surfaces,
        standings: standings(&record.parts),
        dating: dating::dating(record, tins, trade),
        seasons,
        originality: originality(record, &parts, trade),
        shelves: shelves(record, &parts, trade),
        stability: stability(record, &parts, &lifting, trade),
        lifting,
        parts,
        ledger: Private::new(ledger(folder, piece, record, &day_book.works)),
        day_book,
    }
}
