//! What each coat took out of its tin, ready to print; for the archive alone.

use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::coverage::{Consumption, CoverageFigure, CoveredArea, NoQuantity, Quantity, Rate};
use crate::fields::Range;
use crate::record::Surface;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::Reckoning;
use crate::view::shared::surface::{coating_words, surface_name};
use crate::words::{Words, capital};

/// What one applying step took.
#[derive(Debug, Clone, Serialize)]
pub struct CoverageRow {
    /// The surface's name.
    pub surface: String,
    /// What was laid, with its coats.
    pub laid: String,
    /// The area; empty where not known.
    pub area: String,
    /// Litres for all coats; empty where not known.
    pub litres: String,
    /// The share of a full tin; empty where not known.
    pub share: String,
    /// That share in money; empty where not known.
    pub cost: String,
    /// What is missing for a figure; empty where nothing is.
    pub missing: String,
}

/// What all coats of a piece took.
#[derive(Debug, Clone, Serialize)]
pub struct CoverageView {
    /// One row a step, rework included.
    pub rows: Vec<CoverageRow>,
    /// How the area is taken and what the figures leave out; empty where there are none.
    pub assumption: String,
    /// Why the figures are what they are.
    pub basis: Vec<Reckoning>,
}

/// Prints what was used.
pub(super) fn coverage_view(context: &PieceContext<'_>) -> CoverageView {
    let surfaces = context.facts.surfaces.iter();
    let used: Vec<(&Surface, &Consumption)> = surfaces
        .flat_map(|facts| facts.consumption.for_archive().iter().map(|used| (&facts.surface.value, used)))
        .collect();
    let known = used.iter().any(|(_, used)| used.quantity.is_ok());
    CoverageView {
        rows: used.iter().map(|(surface, used)| row(context, surface, used)).collect(),
        assumption: match known {
            true => context.house.words().say(&says!("coverage-assumption")),
            false => String::new(),
        },
        basis: used.iter().flat_map(|(_, used)| basis(context, used)).collect(),
    }
}

fn row(context: &PieceContext<'_>, surface: &Surface, used: &Consumption) -> CoverageRow {
    let words = context.house.words();
    let mut row = CoverageRow {
        surface: surface_name(context, surface),
        laid: laid(context, used),
        area: String::new(),
        litres: String::new(),
        share: String::new(),
        cost: String::new(),
        missing: String::new(),
    };
    match &used.quantity {
        Err(missing) => row.missing = words.say_all([missing_message(missing)]),
        Ok(quantity) => {
            row.area = area(words, &quantity.area);
            row.litres = litres(words, &quantity.litres);
            row.share = quantity.share.as_ref().map_or(String::new(), |share| percent(words, share));
            row.cost = cost(words, quantity);
            let tin = match (quantity.share, quantity.cost) {
                (None, _) => Some(says!("coverage-no-content")),
                (Some(_), None) => Some(says!("coverage-no-price")),
                _ => None,
            };
            row.missing = words.say_all(tin);
        }
    }
    row
}

/// Why no quantity can be given.
fn missing_message(missing: &NoQuantity) -> Message {
    match missing {
        NoQuantity::NoParts => says!("coverage-no-parts"),
        NoQuantity::NoSize(parts) => says!("coverage-no-size", parts = parts.clone()),
        NoQuantity::NoTin => says!("coverage-no-tin"),
        NoQuantity::NoRate => says!("coverage-no-rate"),
        NoQuantity::Nothing(CoverageFigure::Solids) => says!("coverage-nothing-solids"),
        NoQuantity::Nothing(CoverageFigure::DryFilm) => says!("coverage-nothing-dry-film"),
        NoQuantity::Nothing(CoverageFigure::Rate) => says!("coverage-nothing-rate"),
        NoQuantity::Nothing(CoverageFigure::Area) => says!("coverage-nothing-area"),
        NoQuantity::AllLost => says!("coverage-all-lost"),
    }
}

/// What was laid, and in how many coats.
fn laid(context: &PieceContext<'_>, used: &Consumption) -> String {
    let step = &used.step;
    let coat = step.apply.as_ref().map_or(String::new(), |what| capital(&coating_words(context, what)));
    context.house.words().say(&says!("coverage-laid", coat = coat, count = step.coat_count()))
}

fn area(words: &Words, faces: &CoveredArea) -> String {
    let area = Range { low: faces.least.m2(), high: faces.most.m2() };
    words.say(&says!("unit-m2", figure = words.span(&area, 2)))
}

fn litres(words: &Words, range: &Range) -> String {
    words.say(&match range.high < 1.0 {
        true => {
            let small = Range { low: range.low * 1000.0, high: range.high * 1000.0 };
            says!("unit-ml", figure = words.span(&small, 0))
        }
        false => says!("unit-l", figure = words.span(range, 2)),
    })
}

fn percent(words: &Words, share: &Range) -> String {
    let share = Range { low: share.low * 100.0, high: share.high * 100.0 };
    words.say(&says!("share-percent", figure = words.span(&share, 0)))
}

fn cost(words: &Words, quantity: &Quantity) -> String {
    quantity.cost.map_or(String::new(), |(low, high)| match (words.money(low), words.money(high)) {
        (low, high) if low == high => low,
        (low, high) => words.say(&says!("span", low = low, high = high)),
    })
}

fn basis(context: &PieceContext<'_>, used: &Consumption) -> Option<Reckoning> {
    let words = context.house.words();
    let quantity = used.quantity.as_ref().ok()?;
    let covers = says!("unit-m2-per-litre", figure = words.span(&quantity.rate.m2_per_litre(), 1));
    let label = || words.say(&says!("coverage-from-label"));
    let (rate, rate_source) = match &quantity.rate {
        Rate::Label(_) => (says!("coverage-by-label", covers = covers), label()),
        Rate::DryFilm { solids, dry, source, .. } => {
            let film = says!("unit-um", figure = words.span(dry, 0));
            let solids = words.number(*solids, 1);
            let source = if source.is_empty() { label() } else { source.clone() };
            (says!("coverage-by-film", covers = covers, solids = solids, film = film), source)
        }
    };
    let (count, area) = (used.step.coat_count(), area(words, &quantity.area));
    let mut how = says!("coverage-how", count = count, area = area, rate = rate);
    let mut sources = vec![rate_source, words.say(&says!("coverage-source"))];
    if let Some((loss, source)) = &quantity.loss {
        how = says!("coverage-how-lost", how = how, lost = percent(words, loss));
        sources.push(source.clone());
    }
    let figure =
        says!("coverage-figure", laid = laid(context, used), litres = litres(words, &quantity.litres));
    Some(Reckoning { figure: words.say(&figure), how: words.say(&how), source: sources.join("; ") })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::testing::shown;

    fn used(step: &str, tin: &str) -> CoverageView {
        let part = "part = [{ id = \"a\", name = \"Top\", standing = \"original\", size = { length = 1000, width = 500, thick = 20 } }]\n";
        let record = format!("{part}surface = [{{ parts = \"a\", steps = [{{ {step} }}] }}]");
        let workshop =
            format!("[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\nname = \"Satin varnish\"\n{tin}");
        shown(&record, &workshop, coverage_view)
    }

    #[test]
    fn a_share_of_the_tin_in_money() {
        let view =
            used("apply = \"tin:satin\", coats = 2", "covers = [10, 12.5]\nlitres = 0.5\nprice = 20.00");
        let row = &view.rows[0];
        assert_eq!(row.laid, "Satin varnish, 2 coats");
        assert_eq!(
            [&row.area, &row.litres, &row.share, &row.cost, &row.missing],
            ["0.5 to 0.56 m²", "80 to 112 ml", "16 to 22 %", "£3.20 to £4.48", ""]
        );
        assert_eq!(view.basis[0].figure, "Satin varnish, 2 coats: 80 to 112 ml");
        assert_eq!(
            view.basis[0].how,
            "2 coats on 0.5 to 0.56 m² at 10 to 12.5 m² to a litre by the tin's label"
        );
    }

    #[test]
    fn solids_and_loss_are_told() {
        let view = used("apply = \"tin:satin\", by = \"roller\"", "solids = 50");
        assert_eq!(
            view.basis[0].how,
            "1 coat on 0.5 to 0.56 m² at 16.7 to 25 m² to a litre from 50 % solids and 20 to 30 µm of dry film, with \
             10 to 20 % lost in the tool"
        );
        assert_eq!(view.rows[0].missing, "The tin's content is not recorded.");
    }

    #[test]
    fn what_is_missing_is_told_in_place_of_a_figure() {
        let view = used("apply = \"shellac\"", "");
        assert_eq!(view.rows[0].missing, "No tin is named for it, and a family has no one figure.");
        assert_eq!((view.rows[0].litres.as_str(), view.assumption.as_str()), ("", ""));
        assert!(view.basis.is_empty());
    }
}
