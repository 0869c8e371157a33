//! Everything that follows from one surface of a record.

use super::abrasion::{Graded, abrasion};
use super::compatibility::{LayerDoubts, doubts};
use super::coverage::{Consumption, consumption};
use super::cure::{Air, Hardening, drying_air, hardening};
use super::face::{Face, faces};
use super::stratigraphy::{Stratigraphy, stratigraphy};
use crate::fields::{Private, Row};
use crate::record::{Record, Surface, Workshop};
use crate::trade::Trade;

/// What follows from one surface.
#[derive(Debug)]
pub struct SurfaceFacts {
    /// The surface.
    pub surface: Row<Surface>,
    /// Its number in the record, counted from 1.
    pub number: usize,
    /// The layers on it today.
    pub today: Stratigraphy,
    /// How its faces bear what they meet: that of most parts first.
    pub faces: Vec<Face>,
    /// What is doubtful about them.
    pub doubts: LayerDoubts,
    /// The grades of abrasive that it was worked with.
    pub grades: Vec<Graded>,
    /// When it is dry and hard.
    pub hardening: Hardening,
    /// The air that it dried in.
    pub air: Air,
    /// What every applying step took, and what that cost.
    pub consumption: Private<Vec<Consumption>>,
}

/// What follows from each surface of a record.
pub(in crate::derive) fn surfaces(
    record: &Record,
    workshop: Option<&Workshop>,
    trade: &Trade,
) -> Vec<SurfaceFacts> {
    let tins = workshop.map_or(&[][..], |workshop| &workshop.tins);
    let facts = |(surface, number): (&Row<Surface>, usize)| {
        let today = stratigraphy(surface, tins, trade);
        SurfaceFacts {
            surface: surface.clone(),
            number,
            faces: faces(record, surface, &today, tins, trade),
            doubts: doubts(surface, &today, tins, trade),
            grades: abrasion(surface, trade),
            hardening: hardening(&today, tins, trade),
            air: drying_air(surface, workshop),
            consumption: Private::new(consumption(record, surface, tins, trade)),
            today,
        }
    };
    record.surfaces.iter().zip(1..).map(facts).collect()
}
