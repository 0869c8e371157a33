//! How the weight and the people that it asks for were reckoned.

use super::weight::weight;
use crate::claim::{Value, says};
use crate::derive::Lifting;
use crate::record::Construction;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::Reckoning;

/// The weight, and what people lift.
pub(super) fn lifting(context: &PieceContext<'_>, found: &Lifting) -> Vec<Reckoning> {
    let words = context.house.words();
    let mut rows = Vec::new();
    if !found.weighed {
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
        let turned = context.record.parts.iter().any(|part| turns(part));
        let of = |(of, how, _): &(&str, &str, &str)| says!("lifting-of", of = *of, how = *how).into();
        let parts = Value::All(known.iter().map(of).collect());
        let how = match turned {
            true => says!("lifting-how-turned", parts = parts),
            false => says!("lifting-how", parts = parts),
        };
        let mut sources: Vec<String> = known.iter().map(|(_, _, source)| (*source).to_owned()).collect();
        sources.dedup();
        rows.push(Reckoning {
            figure: words.mass(found.whole.mass),
            how: words.say(&how),
            source: sources.join("; "),
        });
    }
    for figure in &context.trade.lifting.figures {
        rows.push(Reckoning {
            figure: words.say(&says!("lifting-alone", mass = weight(words, figure.kg.0))),
            how: words.say(&says!("lifting-figure-how", whom = figure.name.value.to_string())),
            source: figure.seen.cite(&figure.source),
        });
    }
    if let Some(team) = context.trade.lifting.teams.first() {
        rows.push(Reckoning {
            figure: words.say(&says!("lifting-team")),
            how: words.say(&says!("lifting-team-how")),
            source: team.seen.cite(&team.source),
        });
    }
    rows
}
