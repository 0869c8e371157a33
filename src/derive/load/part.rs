//! Everything that follows from one row of parts.

use super::mass::{PartMass, mass};
use crate::derive::missing_input::MissingInput;
use crate::derive::timber::climate::Seasons;
use crate::derive::timber::movement::{Movement, movement};
use crate::fields::Row;
use crate::record::{Part, Record};
use crate::trade::Trade;

/// What follows from one row of parts.
#[derive(Debug)]
pub struct PartFacts {
    /// The part.
    pub part: Row<Part>,
    /// What it weighs.
    pub mass: Result<PartMass, MissingInput>,
    /// How far it moves; `None` where it is not solid, or gone.
    pub movement: Option<Result<Movement, MissingInput>>,
}

/// What follows from each row of a record's parts.
pub(in crate::derive) fn parts(record: &Record, seasons: &Seasons, trade: &Trade) -> Vec<PartFacts> {
    let facts = |part: &Row<Part>| PartFacts {
        part: part.clone(),
        mass: mass(part, seasons, trade),
        movement: movement(part, seasons, trade),
    };
    record.parts.iter().map(facts).collect()
}
