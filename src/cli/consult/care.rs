//! `consult care`: what lies on a piece, and what it bears; for the telephone.

use super::Context;
use crate::archive::{ArchiveFault, CareAnswer, FaceBorne};
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::trade::{Agent, Rating};

pub(super) fn care(
    context: &Context<'_>,
    piece: &str,
    met: Option<&str>,
) -> Result<Result<Sheet, Vec<String>>, ArchiveFault> {
    let answer = match context.asking.care(piece, met)? {
        Ok(answer) => answer,
        Err(near) => return Ok(Err(near)),
    };
    let of = met.map_or_else(String::new, |met| format!(", and \"{met}\""));
    Ok(Ok(Sheet {
        asked: format!("What is on {} {}{of}", answer.piece.number, answer.piece.title),
        said: said(&answer, met),
        answered: !answer.faces.is_empty(),
        pieces: vec![answer.piece.clone()],
        tables: vec![Table {
            name: "faces",
            heading: String::new(),
            columns: &[
                "surface",
                "parts",
                "layers",
                "all-known",
                "water",
                "alcohol",
                "hydrocarbon",
                "dry-heat",
                "wet-heat",
                "alkali",
                "acid",
                "abrasion",
                "light",
                "damp-cloth",
                "may-hold-lead",
            ],
            rows: answer
                .faces
                .iter()
                .map(|face| row(face, met.is_some() && !answer.not_understood))
                .collect(),
            shown: &[],
        }],
    }))
}

fn said(answer: &CareAnswer, met: Option<&str>) -> Vec<String> {
    let mut said = Vec::new();
    if answer.faces.is_empty() {
        said.push("No surface of it is recorded, so nothing can be said of what it bears.".to_owned());
        return said;
    }
    match met {
        Some(met) if answer.not_understood => {
            said.push(format!("What \"{met}\" does is in no table; these are all answers."));
        }
        Some(_) => {
            let agents: Vec<&str> = answer.agents.iter().map(|agent| agent_name(*agent)).collect();
            said.push(format!("Reckoned as: {}.", agents.join(", ")));
            let worst =
                |face: &FaceBorne| face.borne.iter().map(|borne| borne.marks).max().unwrap_or(Rating::None);
            let marked = answer.faces.iter().filter(|face| worst(face) > Rating::None).count();
            said.push(match marked {
                0 => "Nothing on it is marked by that, if it is wiped up.".to_owned(),
                _ => format!(
                    "{} of {} marked by it.",
                    marked,
                    count(answer.faces.len(), "face is", "faces are")
                ),
            });
        }
        None => {}
    }
    said
}

/// What people call an agent.
fn agent_name(agent: Agent) -> &'static str {
    match agent {
        Agent::Water => "water",
        Agent::Alcohol => "alcohol",
        Agent::Hydrocarbon => "white spirit",
        Agent::DryHeat => "dry heat",
        Agent::WetHeat => "wet heat",
        Agent::Alkali => "ammonia, soda",
        Agent::Acid => "acid",
        Agent::Abrasion => "rubbing",
        Agent::Light => "sunlight",
    }
}

fn row(face: &FaceBorne, asked: bool) -> Row {
    let name = if face.parts.is_empty() { face.surface.clone() } else { face.parts.clone() };
    let mut told = vec![name];
    told.push(format!(
        "on it\t{}",
        if face.layers.is_empty() { "nothing: the bare material".to_owned() } else { face.layers.clone() }
    ));
    if !face.sure {
        told.push(
            "\tNot all of it is identified or whole, so it is reckoned as the tenderest it may be."
                .to_owned(),
        );
    }
    let of = |rating: Rating| -> Vec<&str> {
        face.borne.iter().filter(|borne| borne.marks == rating).map(|borne| agent_name(borne.agent)).collect()
    };
    for (rating, label, says) in [
        (Rating::High, "beware", "marked at once by"),
        (Rating::Low, "wipe up", "marked, if left standing, by"),
        (Rating::None, "stands", "not marked by"),
    ] {
        let agents = of(rating);
        if !agents.is_empty() {
            told.push(format!("{label}\t{says} {}", agents.join(", ")));
        }
    }
    if !asked {
        let cloth = match face.damp_cloth.as_str() {
            "yes" => "a damp cloth, then dry",
            "barely" => "a well wrung cloth, and dry at once",
            _ => "a dry cloth alone",
        };
        told.push(format!("clean\t{cloth}"));
    }
    if face.may_hold_lead {
        told.push("\tAn old layer may hold lead: no rubbing down.".to_owned());
    }
    told.push(String::new());
    let borne = Agent::ALL.iter().map(|agent| {
        let found = face.borne.iter().find(|borne| borne.agent == *agent);
        Cell::maybe(found, |borne| Cell::Text(borne.marks.word().to_owned()))
    });
    let lead = [
        Cell::Text(face.surface.clone()),
        Cell::Text(face.parts.clone()),
        Cell::Text(face.layers.clone()),
        Cell::Is(face.sure),
    ];
    let last = [Cell::Text(face.damp_cloth.clone()), Cell::Is(face.may_hold_lead)];
    Row { told, cells: lead.into_iter().chain(borne).chain(last).collect() }
}
