//! How the weight and the people that it asks for were reckoned.

use super::Reckoning;
use crate::derive::Lifting;
use crate::record::Construction;
use crate::view::context::PieceContext;
use crate::words;

/// The weight, and what people lift.
pub(super) fn lifting(context: &PieceContext<'_>, found: &Lifting) -> Vec<Reckoning> {
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
        let turned = match context.record.parts.iter().any(|part| turns(part)) {
            true => "; a turned part is taken to fill 70 to 100 % of its round, our own estimate",
            false => "",
        };
        let of: Vec<String> = known.iter().map(|(of, how, _)| format!("{of} ({how})")).collect();
        let mut sources: Vec<String> = known.iter().map(|(_, _, source)| (*source).to_owned()).collect();
        sources.dedup();
        rows.push(Reckoning {
            figure: context.house.units.mass(found.whole.mass),
            how: format!("size times density of each part: {}{turned}", words::list(&of)),
            source: sources.join("; "),
        });
    }
    for figure in &context.trade.lifting.figures {
        rows.push(Reckoning {
            figure: format!("{} kg alone", words::trimmed(figure.kg.0, 1)),
            how: format!(
                "for {}, hands at knuckle height, load close to the body; a filter, no limit, for the heavy end of the weight",
                figure.name.value
            ),
            source: figure.seen.cite(&figure.source),
        });
    }
    if let Some(team) = context.trade.lifting.teams.first() {
        rows.push(Reckoning {
            figure: "two thirds and a half".to_owned(),
            how: "of the sum of what each lifts alone, for two and for three people; none is given for four"
                .to_owned(),
            source: team.seen.cite(&team.source),
        });
    }
    rows
}
