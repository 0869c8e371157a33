//! How the weight and the people that it asks for were reckoned.

use super::weight::weight;
use crate::claim::{Message, Value, says};
use crate::derive::{Figured, Lifting};
use crate::record::Construction;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::{Reckoning, cited};

/// The weight, and what people lift.
pub(super) fn lifting(context: &PieceContext<'_>, found: &Lifting) -> Vec<Reckoning> {
    let words = context.house.words();
    let mut rows = Vec::new();
    if !found.weighed {
        let there = context.facts.parts.iter().filter(|facts| facts.part.present());
        let mut known: Vec<&Figured> = Vec::new();
        for mass in there.filter_map(|facts| facts.mass.as_ref().ok()) {
            let same = |other: &&Figured| (&other.of, &other.how) == (&mass.density.of, &mass.density.how);
            if !known.iter().any(same) {
                known.push(&mass.density);
            }
        }
        known.sort_by_key(|figured| &figured.of);
        let turns = |part: &crate::record::Part| {
            part.present() && part.build.as_ref().is_some_and(|build| build.value == Construction::Turned)
        };
        let turned = context.record.parts.iter().any(|part| turns(part));
        let parts = Value::All(known.iter().map(|figured| figured.told().into()).collect());
        let how = match turned {
            true => says!("lifting-how-turned", parts = parts),
            false => says!("lifting-how", parts = parts),
        };
        rows.push(Reckoning {
            figure: words.mass(found.whole.mass),
            how: words.say(&how),
            source: cited(words, known.iter().flat_map(|figured| figured.source.clone())),
        });
    }
    for figure in &context.trade.lifting.figures {
        rows.push(Reckoning {
            figure: words.say(&says!("lifting-alone", mass = weight(words, figure.kg.0))),
            how: words.say(&says!("lifting-figure-how", whom = figure.name.value.to_string())),
            source: cited(words, [Message::cited(figure.seen.value, &figure.source)]),
        });
    }
    if let Some(team) = context.trade.lifting.teams.first() {
        rows.push(Reckoning {
            figure: words.say(&says!("lifting-team")),
            how: words.say(&says!("lifting-team-how")),
            source: cited(words, [Message::cited(team.seen.value, &team.source)]),
        });
    }
    rows
}
