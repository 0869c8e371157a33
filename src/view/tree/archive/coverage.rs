//! What each coat took out of its tin, ready to print; for the archive alone.

use serde::Serialize;

use crate::derive::coverage::{Consumption, CoveredArea, Quantity, Rate};
use crate::fields::Range;
use crate::record::Surface;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::Reckoning;
use crate::view::shared::surface::{coating_words, surface_name};
use crate::words;

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
            true => "Areas are those of the show faces unless the surface says `faces = 2`; the low figure leaves the \
                     edges out, the high one takes them all. First coats on bare wood soak in and have no reliable \
                     figure, so that they take more."
                .to_owned(),
            false => String::new(),
        },
        basis: used.iter().flat_map(|(_, used)| basis(context, used)).collect(),
    }
}

fn row(context: &PieceContext<'_>, surface: &Surface, used: &Consumption) -> CoverageRow {
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
        Err(missing) => row.missing = words::sentence(&missing.to_string()),
        Ok(quantity) => {
            row.area = area(&quantity.area);
            row.litres = litres(&quantity.litres);
            row.share = quantity.share.as_ref().map_or(String::new(), percent);
            row.cost = cost(context, quantity);
            let tin = match (quantity.share, quantity.cost) {
                (None, _) => "the tin's content is not recorded",
                (Some(_), None) => "the tin's price is not recorded",
                _ => "",
            };
            row.missing = words::sentence(tin);
        }
    }
    row
}

/// `Satin varnish, 3 coats`
fn laid(context: &PieceContext<'_>, used: &Consumption) -> String {
    let step = &used.step;
    let name =
        step.apply.as_ref().map_or(String::new(), |what| words::capital(&coating_words(context, what)));
    format!("{name}, {}", words::count(step.coat_count(), "coat", "coats"))
}

fn area(faces: &CoveredArea) -> String {
    span(faces.least.m2(), faces.most.m2(), 2, "m²")
}

fn litres(range: &Range) -> String {
    match range.high < 1.0 {
        true => span(range.low * 1000.0, range.high * 1000.0, 0, "ml"),
        false => span(range.low, range.high, 2, "l"),
    }
}

fn percent(share: &Range) -> String {
    span(share.low * 100.0, share.high * 100.0, 0, "%")
}

/// Two figures of one unit, or one where they print alike.
fn span(low: f64, high: f64, decimals: usize, unit: &str) -> String {
    let (low, high) = (words::trimmed(low, decimals), words::trimmed(high, decimals));
    if low == high { format!("{low} {unit}") } else { format!("{low} to {high} {unit}") }
}

fn cost(context: &PieceContext<'_>, quantity: &Quantity) -> String {
    let money = |amount| context.house.units.money(amount);
    quantity.cost.map_or(String::new(), |(low, high)| match (money(low), money(high)) {
        (low, high) if low == high => low,
        (low, high) => format!("{low} to {high}"),
    })
}

fn basis(context: &PieceContext<'_>, used: &Consumption) -> Option<Reckoning> {
    let quantity = used.quantity.as_ref().ok()?;
    let covers = quantity.rate.m2_per_litre();
    let covers = span(covers.low, covers.high, 1, "m² to a litre");
    let (rate, rate_source) = match &quantity.rate {
        Rate::Label(_) => (format!("{covers} by the tin's label"), "the tin's label".to_owned()),
        Rate::DryFilm { solids, dry, source, .. } => (
            format!(
                "{covers} from {} % solids and {} of dry film",
                words::trimmed(*solids, 1),
                span(dry.low, dry.high, 0, "µm")
            ),
            source.clone(),
        ),
    };
    let lost = quantity.loss.as_ref().map(|(loss, source)| {
        (format!(", with {} lost in the tool", percent(loss)), format!("; for the loss: {source}"))
    });
    let (lost, lost_source) = lost.unwrap_or_default();
    let coats = words::count(used.step.coat_count(), "coat", "coats");
    Some(Reckoning {
        figure: format!("{}: {}", laid(context, used), litres(&quantity.litres)),
        how: format!("{coats} on {} at {rate}{lost}", area(&quantity.area)),
        source: format!(
            "{rate_source}; litres = coats x area / ((1 - loss) x rate): common practice, no source{lost_source}"
        ),
    })
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
