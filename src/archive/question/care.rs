//! Care: what lies on a piece, and what it bears; for the telephone.

use super::{Asking, PieceName};
use crate::archive::database::ArchiveFault;
use crate::trade::{Agent, Rating};

/// What an agent does to a face.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Borne {
    /// The agent.
    pub agent: Agent,
    /// What it does at worst to a layer that it reaches.
    pub marks: Rating,
}

/// One face and what it bears.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceBorne {
    /// What the surface is called.
    pub surface: String,
    /// Its parts.
    pub parts: String,
    /// Its layers, the exposed one first; empty for bare material.
    pub layers: String,
    /// Whether all layers are known and whole.
    pub sure: bool,
    /// What each agent does.
    pub borne: Vec<Borne>,
    /// How damp a cloth may be.
    pub damp_cloth: String,
    /// Whether an old layer there may hold lead.
    pub may_hold_lead: bool,
}

/// What lies on a piece, and what it bears.
#[derive(Debug, Clone, PartialEq)]
pub struct CareAnswer {
    /// The piece.
    pub piece: PieceName,
    /// What was asked about, by what of it harms; all agents where nothing was.
    pub agents: Vec<Agent>,
    /// Whether something was asked about of which no table knows what it does.
    pub not_understood: bool,
    /// The faces, in the order of the record.
    pub faces: Vec<FaceBorne>,
}

impl Asking<'_> {
    /// What lies on a piece, and how that bears what is asked about; `Err` holds the nearest pieces where there is none of
    /// this name.
    ///
    /// # Errors
    /// [`ArchiveFault`] where the archive cannot be read.
    pub fn care(
        &self,
        piece: &str,
        met: Option<&str>,
    ) -> Result<Result<CareAnswer, Vec<String>>, ArchiveFault> {
        let (id, piece) = match self.piece(piece)? {
            Ok(found) => found,
            Err(near) => return Ok(Err(near)),
        };
        let agents = met.map(|met| self.trade.agents_of(met)).unwrap_or_default();
        let not_understood = met.is_some() && agents.is_empty();
        let agents = if agents.is_empty() { Agent::ALL.to_vec() } else { agents };
        let faces = self.rows(
            "SELECT face.*, surface.name AS surface_name FROM face
             JOIN surface ON surface.piece = face.piece AND surface.no = face.surface
             WHERE face.piece = ?1 ORDER BY face.no",
            [id],
            |row| {
                let borne = |agent: &Agent| {
                    let word: String = row.get(agent.word().replace('-', "_").as_str())?;
                    let marks = Rating::ALL.iter().copied().find(|rating| rating.word() == word);
                    Ok(Borne { agent: *agent, marks: marks.unwrap_or(Rating::High) })
                };
                Ok(FaceBorne {
                    surface: row.get("surface_name")?,
                    parts: row.get("parts")?,
                    layers: row.get("layers")?,
                    sure: row.get("sure")?,
                    borne: agents.iter().map(borne).collect::<rusqlite::Result<_>>()?,
                    damp_cloth: row.get("damp_cloth")?,
                    may_hold_lead: row.get("may_hold_lead")?,
                })
            },
        )?;
        Ok(Ok(CareAnswer { piece, agents, not_understood, faces }))
    }
}
