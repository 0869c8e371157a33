//! One piece as it travels.

use std::sync::Arc;

use super::claims::{Claims, claims};
use super::facts::{Facts, facts};
use super::photograph::facts::{PairFacts, PhotoFacts};
use super::photograph::opened::PhotographFacts;
use crate::record::{Folder, Piece, Record};
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
    /// What a buyer is told of it.
    pub claims: Claims,
}

impl Workpiece {
    /// A piece of which everything is known that its folder tells.
    pub fn of(
        folder: &Folder,
        piece: Arc<Piece>,
        record: Arc<Record>,
        facts: Facts,
        photographs: PhotoFacts,
        trade: &Trade,
    ) -> Workpiece {
        let claims = claims(folder, &piece, &record, (&facts, &photographs), trade);
        Workpiece { piece, record, facts, photographs, claims }
    }

    /// The same piece by other tables of the trade, such as those of another language.
    pub fn by(&self, folder: &Folder, trade: &Trade) -> Workpiece {
        let (piece, record) = (self.piece.clone(), self.record.clone());
        let facts = Facts {
            amendments: self.facts.amendments.clone(),
            ..facts(folder, &piece, &record, None, trade)
        };
        Workpiece::of(folder, piece, record, facts, self.photographs.clone(), trade)
    }

    /// A piece of which no photograph is opened, for what needs none; `None` where its record could not be read.
    pub fn unopened(folder: &Folder, piece: &Arc<Piece>, trade: &Trade) -> Option<Workpiece> {
        let record = piece.record.clone()?;
        let facts = facts(folder, piece, &record, None, trade);
        let all = facts.photographs.all.iter().map(|photograph| PhotographFacts::of(photograph, None));
        let pairs = facts.photographs.pairs.iter();
        let pairs = pairs.map(|pairing| PairFacts { pairing: pairing.clone(), alignment: None, tone: None });
        let photographs = PhotoFacts::of(&record, &facts.surfaces, all.collect(), pairs.collect());
        Some(Workpiece::of(folder, piece.clone(), record, facts, photographs, trade))
    }
}
