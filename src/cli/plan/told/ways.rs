//! The ways of a decision side by side.

use rust_decimal::Decimal;

use super::{Told, hours, number};
use crate::cli::plan::past::Expected;
use crate::cli::sheet::{Cell, Row, Table};
use crate::cli::words::count;
use crate::journey::WayTaken;
use crate::record::Standing;
use crate::trade::{Agent, Rating};
use crate::unit::legible::one_line;

/// What owners ask about most.
const ASKED: [Agent; 4] = [Agent::Water, Agent::Alcohol, Agent::DryHeat, Agent::WetHeat];

impl Told<'_> {
    /// What follows of each way for which something is planned: of the plan as a whole, if that way is taken.
    pub(super) fn ways(&self) -> Table {
        let mut rows: Vec<Row> = Vec::new();
        let mut last: Option<&WayTaken> = None;
        for (taken, expected) in self.planned.ways.iter().zip(&self.past.of_ways) {
            let mut row = way(taken, expected);
            if last.is_none_or(|last| !last.way.decision.is(&taken.way.decision)) {
                row.told.insert(0, one_line(&taken.way.decision.ask));
            }
            rows.push(row);
            last = Some(taken);
        }
        Table {
            name: "ways",
            heading: "The ways that are or were open: the whole plan with each".to_owned(),
            columns: &[
                "ask",
                "option",
                "chosen",
                "tasks",
                "hours",
                "hours-not-known",
                "coats-least",
                "coats-most",
                "coats-not-known",
                "cannot-be-undone",
                "original",
                "parts",
                "marked-at-once-by",
                "marked-in-time-by",
            ],
            rows,
            shown: &[],
        }
    }
}

fn way(taken: &WayTaken, expected: &[Expected]) -> Row {
    let known: f64 = expected.iter().filter_map(|expected| expected.hours()).sum();
    let silent = expected.iter().filter(|expected| **expected == Expected::NotKnown).count();
    let (least, most) = (taken.coats.0.0, taken.coats.1.0);
    let original = taken.originality.shares.iter().find(|share| share.standing == Standing::Original);
    let original = original.map_or(0, |share| share.count);
    let by = |rating: Rating| {
        let agents = taken.marks.iter().filter(|(agent, of)| *of == rating && ASKED.contains(agent));
        agents.map(|(agent, _)| agent_name(*agent)).collect::<Vec<_>>().join(", ")
    };
    let (at_once, in_time) = (by(Rating::High), by(Rating::Low));
    let tasks = match expected.len() {
        0 => "nothing to do".to_owned(),
        tasks => {
            let known = if silent == tasks { "hours not known".to_owned() } else { hours(known) };
            let silent = match silent {
                0 => String::new(),
                silent if silent == tasks => String::new(),
                silent => format!(", those of {silent} not known"),
            };
            format!("{}: {known}{silent}", count(tasks, "task", "tasks"))
        }
    };
    let coats = match (most > Decimal::ZERO, taken.coats_unknown) {
        (false, 0) => String::new(),
        (false, _) => "; what its coats cost is not known".to_owned(),
        (true, 0) => format!("; coats from tins, {least:.2} to {most:.2}"),
        (true, unknown) => {
            format!("; coats from tins, {least:.2} to {most:.2}, those of {unknown} not known")
        }
    };
    let lasting = match taken.lasting.len() {
        0 => String::new(),
        lasting => format!("; {lasting} of it cannot be undone"),
    };
    let mut cares = Vec::new();
    if !at_once.is_empty() {
        cares.push(format!("marked at once by {at_once}"));
    }
    if !in_time.is_empty() {
        cares.push(format!("marked, if left standing, by {in_time}"));
    }
    let is_chosen = if taken.way.is_chosen { " (chosen)" } else { "" };
    let plan = one_line(&taken.way.choice.plan);
    let mut told = vec![format!("{plan}{is_chosen}"), format!("\t{tasks}{coats}{lasting}")];
    told.push(format!(
        "\tthen {original} of {} original",
        count(taken.originality.parts as usize, "part", "parts")
    ));
    if !cares.is_empty() {
        told.push(format!("\t{}", cares.join("; ")));
    }
    Row {
        cells: vec![
            Cell::Text(one_line(&taken.way.decision.ask)),
            Cell::Text(plan),
            Cell::Is(taken.way.is_chosen),
            Cell::Count(expected.len()),
            number(known),
            Cell::Count(silent),
            Cell::money(least),
            Cell::money(most),
            Cell::Count(taken.coats_unknown),
            Cell::Count(taken.lasting.len()),
            Cell::Count(original as usize),
            Cell::Count(taken.originality.parts as usize),
            Cell::Text(at_once),
            Cell::Text(in_time),
        ],
        told,
    }
}

fn agent_name(agent: Agent) -> &'static str {
    match agent {
        Agent::Water => "water",
        Agent::Alcohol => "alcohol",
        Agent::DryHeat => "dry heat",
        Agent::WetHeat => "wet heat",
        _ => agent.word(),
    }
}
