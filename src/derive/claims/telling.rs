//! What claims are made from, and how they find the lines that they rest on.

use chrono::NaiveDate;

use crate::claim::{Basis, Claim, Ground, Message, Value, says};
use crate::derive::facts::Facts;
use crate::derive::name::{part_by_id, parts_by_id};
use crate::derive::photograph::facts::PhotoFacts;
use crate::fields::{Row, Said};
use crate::record::{Folder, PartId, Piece, Record, Stock, Workshop};
use crate::trade::Trade;

/// The most parts that are named in a row.
const NAMED: usize = 3;

/// What claims are made from.
pub(super) struct Telling<'a> {
    pub(super) record: &'a Record,
    pub(super) facts: &'a Facts,
    pub(super) photographs: &'a PhotoFacts,
    pub(super) trade: &'a Trade,
    pub(super) stock: &'a Stock,
    pub(super) workshop: Option<&'a Workshop>,
    /// The day that the piece left.
    pub(super) handed_over: Option<NaiveDate>,
    /// The piece's record, as the ground that claims rest on.
    pub(super) ground: Ground,
    /// The same for the stock.
    pub(super) stock_ground: Ground,
    /// The same for the workshop.
    pub(super) workshop_ground: Ground,
}

impl<'a> Telling<'a> {
    pub(super) fn of(
        folder: &'a Folder,
        piece: &Piece,
        record: &'a Record,
        (facts, photographs): (&'a Facts, &'a PhotoFacts),
        trade: &'a Trade,
    ) -> Telling<'a> {
        Telling {
            record,
            facts,
            photographs,
            trade,
            stock: &folder.stock,
            workshop: folder.workshop.as_ref(),
            handed_over: piece.handed_over(),
            ground: Ground::of(piece.record_path()),
            stock_ground: Ground::of("stock.toml"),
            workshop_ground: Ground::of("workshop.toml"),
        }
    }

    /// The names of parts, as a message lists them.
    pub(super) fn parts(&self, ids: &[Said<PartId>]) -> Value {
        Value::from(parts_by_id(self.record, ids))
    }

    /// Where something is, in few words: of more parts than can be read at a glance it says how many.
    pub(super) fn place(&self, ids: &[Said<PartId>]) -> Value {
        let few = |value: &Value| matches!(value, Value::All(names) if names.len() <= NAMED);
        let named = [self.parts(ids), self.on(&ids.iter().map(|id| id.value.clone()).collect::<Vec<_>>())];
        let short = named.into_iter().find(few);
        short.unwrap_or_else(|| Value::from(says!("so-many-parts", count = ids.len())))
    }

    /// Where something is: surfaces by their names, where all of their parts are meant, and else parts.
    pub(super) fn on(&self, parts: &[PartId]) -> Value {
        let mut left: Vec<&PartId> = parts.iter().collect();
        let mut names = Vec::new();
        for surface in &self.record.surfaces {
            let Some(name) = &surface.name else { continue };
            let whole =
                surface.parts.len() > 1 && surface.parts.iter().all(|part| left.contains(&&part.value));
            if whole {
                left.retain(|part| !surface.parts.iter().any(|of| of.value == **part));
                names.push(name.to_string());
            }
        }
        names.extend(left.into_iter().map(|part| part_by_id(self.record, part)));
        Value::from(names)
    }

    /// Whether the piece has the part today, as far as the record tells.
    pub(super) fn has(&self, id: &PartId) -> bool {
        self.record.parts.iter().find(|part| part.id.value == *id).is_none_or(|part| part.present())
    }

    /// The rows of parts that are named.
    pub(super) fn part_rows<'b>(&'b self, ids: &'b [Said<PartId>]) -> impl Iterator<Item = Basis> + 'b {
        let row = |id: &'b Said<PartId>| self.record.parts.iter().find(move |part| part.id.value == id.value);
        ids.iter().filter_map(row).map(|part| self.ground.row(part, "part"))
    }

    /// What the record says at a row of a list, and at these values of it.
    pub(super) fn row<T>(&self, row: &Row<T>, key: &str) -> Basis {
        self.ground.row(row, key)
    }

    /// What is known of the buyer's room.
    pub(super) fn room(&self) -> Basis {
        let climate = self.workshop.and_then(|workshop| workshop.climate.as_ref());
        self.workshop_ground.either(climate, "climate")
    }

    /// A claim that the record makes by a row, in words of its own.
    pub(super) fn claim<T>(&self, message: Message, row: &Row<T>, key: &str) -> Claim {
        Claim::new(message, self.row(row, key))
    }
}
