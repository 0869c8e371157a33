//! What the piece weighs, and how many people that asks for.

use serde::Serialize;

use super::basis::Basis;
use crate::derive::{Load, TeamSize};
use crate::record::Construction;
use crate::view::context::PieceContext;
use crate::words;

/// What the piece weighs, and how many people that asks for.
#[derive(Debug, Clone, Serialize)]
pub struct LiftingView {
    /// Its weight, such as `about 24 to 31 kg`; empty where no figure is given.
    pub weight: String,
    /// How it was come by, and what is left out, in a sentence.
    pub counted: String,
    /// How many people lift it, in a sentence; empty where no figure is given.
    pub people: String,
    /// What comes out first and what is left to lift then; may be empty.
    pub emptied: String,
    /// Why no figure is given; empty where one is.
    pub missing: String,
    /// Usual cautions.
    pub cautions: Vec<String>,
    /// Why.
    pub basis: Vec<Basis>,
}

/// Weight and people.
pub(crate) fn lifting(context: &PieceContext<'_>) -> LiftingView {
    let house = &context.house.units;
    let nothing = LiftingView {
        weight: String::new(),
        counted: String::new(),
        people: String::new(),
        emptied: String::new(),
        missing: String::new(),
        cautions: cautions(),
        basis: Vec::new(),
    };
    let found = match &context.facts.lifting {
        Ok(found) => found,
        Err(why) => {
            return LiftingView { missing: format!("No weight is given: {why}."), ..nothing };
        }
    };
    let least = match (found.weighed, found.left_out) {
        (true, _) => "",
        (false, 0) => "about ",
        (false, _) => "at least ",
    };
    let weight = format!("{least}{}", house.mass(found.whole.mass));
    let parts: Vec<String> = found.come_out.iter().map(|part| part.name.to_lowercase()).collect();
    let emptied = found.emptied.map_or(String::new(), |load| {
        format!(
            "Take out first: {}. What is left weighs {least}{}: {}",
            words::list(&parts),
            house.mass(load.mass),
            people(&load)
        )
    });
    LiftingView {
        counted: match (found.weighed, found.left_out) {
            (true, _) => "It was put on a scale.".to_owned(),
            (false, 0) => {
                "Reckoned from the sizes of its parts; screws, glue and finish are left out.".to_owned()
            }
            (false, left) => format!(
                "Reckoned from the sizes of its parts; {} left out, as size or material is not known, and so are screws, glue and finish.",
                words::count(left, "part is", "parts are")
            ),
        },
        people: words::capital(&people(&found.whole)),
        emptied,
        basis: basis(context, &weight),
        weight,
        ..nothing
    }
}

/// `two people by workplace guidance's figure for men, three people by its figure for women.`
fn people(load: &Load) -> String {
    match (load.men, load.women) {
        (TeamSize::People(one), TeamSize::People(other)) if one == other => format!("{}.", team(one)),
        (TeamSize::People(one), TeamSize::People(other)) => {
            format!(
                "{} by workplace guidance's figure for men, {} by its figure for women.",
                team(one),
                team(other)
            )
        }
        (TeamSize::People(one), TeamSize::Beyond) => format!(
            "{} by workplace guidance's figure for men; by its figure for women it has no team for it: make it lighter, use aids made for it, or ask people who move furniture for a living.",
            team(one)
        ),
        (TeamSize::Beyond, _) => "more than workplace guidance expects of three people in an easy lift: make it lighter, use aids made for it, or ask people who move furniture for a living.".to_owned(),
    }
}

fn team(people: u32) -> String {
    match people {
        1 => "one person".to_owned(),
        2 => "two people".to_owned(),
        3 => "three people".to_owned(),
        more => format!("{more} people"),
    }
}

/// Usual cautions.
///
/// Source: *Manual handling at work: a brief guide*, INDG143, Health and Safety Executive, from memory.
fn cautions() -> Vec<String> {
    [
        "These are figures for an easy grip close to the body and no steps: stairs, corners, a bad back or no handhold ask for more people or for aids.",
        "Empty it first. Lift it by what is sound and fixed, and never drag it by a leg, a leaf or a top.",
    ]
    .map(str::to_owned)
    .to_vec()
}

fn basis(context: &PieceContext<'_>, weight: &str) -> Vec<Basis> {
    let mut rows = Vec::new();
    if context.facts.lifting.as_ref().is_ok_and(|found| !found.weighed) {
        let there = context.facts.parts.iter().filter(|facts| facts.part.present());
        let mut known: Vec<(&str, &str, &str)> = there
            .filter_map(|facts| facts.mass.as_ref().ok())
            .map(|mass| (mass.density.of.as_str(), mass.density.how.as_str(), mass.density.source.as_str()))
            .collect();
        known.sort_unstable();
        known.dedup();
        let turns = |part: &crate::record::Part| {
            part.present() && part.build.as_ref().is_some_and(|build| build.value == Construction::Turned)
        };
        let turned = match context.record.parts.iter().any(|part| turns(part)) {
            true => "; a turned part is taken to fill 70 to 100 % of its round, our own estimate",
            false => "",
        };
        let of: Vec<String> = known.iter().map(|(of, how, _)| format!("{of} ({how})")).collect();
        let mut sources: Vec<String> = known.iter().map(|(_, _, source)| (*source).to_owned()).collect();
        sources.dedup();
        rows.push(Basis {
            figure: weight.to_owned(),
            how: format!("size times density of each part: {}{turned}", words::list(&of)),
            source: sources.join("; "),
        });
    }
    for figure in &context.trade.lifting.figures {
        rows.push(Basis {
            figure: format!("{} kg alone", words::trimmed(figure.kg.0, 1)),
            how: format!(
                "for {}, hands at knuckle height, load close to the body; a filter, no limit, for the heavy end of the weight",
                figure.name.value
            ),
            source: figure.seen.cite(&figure.source),
        });
    }
    if let Some(team) = context.trade.lifting.teams.first() {
        rows.push(Basis {
            figure: "two thirds and a half".to_owned(),
            how: "of the sum of what each lifts alone, for two and for three people; none is given for four"
                .to_owned(),
            source: team.seen.cite(&team.source),
        });
    }
    rows
}
