//! Whether enough of a piece could be weighed to speak of the whole.

use super::mass::volume;
use super::part::PartFacts;
use crate::derive::missing_input::MissingInput;
use crate::record::Construction;
use crate::trade::Trade;

/// The share of a piece that must be weighed before anything is said of the mass of the whole.
///
/// Source: our own choice.
pub(in crate::derive) const COVERAGE: f64 = 0.9;

/// What a part of known size and unknown material may weigh in kg/m³: about the heaviest timbers and stone.
///
/// Source: our own choice, so that more is taken for missing than is; a metal part counts as steel.
const UNTOLD: f64 = 2_800.0;
const UNTOLD_METAL: f64 = 8_000.0;

/// Whether enough of the parts that are there could be weighed to speak of the whole.
///
/// A part of known size counts as heavy as it may be; one of unknown size as the others do on average, parts alike
/// being one.
pub(in crate::derive) fn covered(parts: &[PartFacts], trade: &Trade) -> Result<(), MissingInput> {
    let there = || parts.iter().filter(|facts| facts.part.present());
    let known: Vec<f64> =
        there().filter_map(|facts| facts.mass.as_ref().ok()).map(|mass| mass.all.middle().kg()).collect();
    if known.is_empty() {
        return Err(MissingInput::Parts);
    }
    let weighed: f64 = known.iter().sum();
    let on_average = weighed / known.len() as f64;
    let missing = |PartFacts { part, .. }: &PartFacts| {
        let metal = part.build.as_ref().is_some_and(|build| build.value == Construction::Metal);
        let density = if metal { UNTOLD_METAL } else { UNTOLD };
        let bulk = volume(part, trade).map(|(_, most)| most * f64::from(part.how_many()));
        bulk.map_or(on_average, |bulk| bulk * density / 1e9)
    };
    let missing: f64 = there().filter(|facts| facts.mass.is_err()).map(missing).sum();
    if weighed >= COVERAGE * (weighed + missing) { Ok(()) } else { Err(MissingInput::Coverage) }
}
