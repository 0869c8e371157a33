//! How much of a coating a surface takes: its area, what a litre covers, litres, the share of the tin, and money.

use rust_decimal::Decimal;

use super::stratigraphy::{coating, laid};
use crate::fields::{Range, Row, Said};
use crate::record::{Part, PartId, Record, Step, Surface, Tin};
use crate::trade::{Group, Trade};
use crate::unit::{Area, Money};

/// Why no quantity can be given.
#[derive(Debug, Clone, PartialEq)]
pub enum NoQuantity {
    /// The surface has no parts.
    NoParts,
    /// Some parts have too few dimensions for an area.
    NoSize(Vec<String>),
    /// No tin was named, so nothing says what a litre covers.
    NoTin,
    /// The tin's entry does not say what a litre covers.
    NoRate,
    /// A figure that nothing can be reckoned with: nothing at all, or beyond all measure.
    Nothing(CoverageFigure),
    /// A share of loss that leaves nothing.
    AllLost,
}

/// A figure that coverage is reckoned from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoverageFigure {
    /// Solids by volume.
    Solids,
    /// The dry film of a coat.
    DryFilm,
    /// What a litre covers.
    Rate,
    /// The area to be covered.
    Area,
}

/// Square metres that a litre covers in one coat.
///
/// `solids` is solids by volume in percent, above 0 and at most 100; `dry_film` is micrometres of dry film,
/// above 0.
///
/// # Errors
/// [`NoQuantity::Nothing`] where either is nothing, or beyond a thousand million.
///
/// # Source
/// common practice, no source: paint makers' arithmetic, spreading rate = solids x 10 / dry film.
pub fn spreading_rate(solids: f64, dry_film: f64) -> Result<f64, NoQuantity> {
    Ok(above_zero(solids, CoverageFigure::Solids)? * 10.0 / above_zero(dry_film, CoverageFigure::DryFilm)?)
}

/// Micrometres of wet film that dry to `dry_film` micrometres, from `solids` by volume in percent.
///
/// # Errors
/// [`NoQuantity::Nothing`] where either is nothing, or beyond a thousand million.
///
/// # Source
/// common practice, no source: paint makers' arithmetic, wet film = dry film x 100 / solids.
pub fn wet_film(solids: f64, dry_film: f64) -> Result<f64, NoQuantity> {
    Ok(above_zero(dry_film, CoverageFigure::DryFilm)? * 100.0 / above_zero(solids, CoverageFigure::Solids)?)
}

/// Litres that so many coats take.
///
/// `rate` is square metres to a litre in one coat, above 0; `loss` the share that misses or stays in the tool,
/// from 0 to below 1.
///
/// # Errors
/// Where the rate is nothing or all is lost.
///
/// # Source
/// common practice, no source: paint makers' arithmetic, litres = coats x area / ((1 - loss) x rate).
pub fn litres(coats: u32, area: Area, rate: f64, loss: f64) -> Result<f64, NoQuantity> {
    if !(0.0..1.0).contains(&loss) {
        return Err(NoQuantity::AllLost);
    }
    Ok(f64::from(coats) * area.m2() / ((1.0 - loss) * above_zero(rate, CoverageFigure::Rate)?))
}

fn above_zero(figure: f64, what: CoverageFigure) -> Result<f64, NoQuantity> {
    // What lies beyond is a mistake, and would make numbers without end.
    (1e-9..=1e9).contains(&figure).then_some(figure).ok_or(NoQuantity::Nothing(what))
}

/// The area of a surface: its faces alone, and its faces with all their edges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoveredArea {
    /// CoveredArea alone, in the number that the surface says.
    pub least: Area,
    /// With the edges of every part whose thickness is recorded.
    pub most: Area,
}

/// The area of some parts of a surface.
///
/// A board counts length x width for each finished face, one where the surface does not say; a round part its
/// mantle, or its disc where it has no length. All pieces of a part with a count are taken. Nothing is taken off
/// for joints, mouldings and curves, and nothing added, so that it is a reckoning for flat work.
///
/// # Errors
/// [`NoQuantity::NoParts`], or [`NoQuantity::NoSize`] with the names of the parts.
///
/// # Source
/// Plane geometry; which faces count is our own choice.
pub fn area(parts: &[&Part], faces: u32) -> Result<CoveredArea, NoQuantity> {
    if parts.is_empty() {
        return Err(NoQuantity::NoParts);
    }
    let unsized_: Vec<String> = parts
        .iter()
        .filter(|part| part_area(part, faces).is_none())
        .map(|part| part.name.to_string())
        .collect();
    if !unsized_.is_empty() {
        return Err(NoQuantity::NoSize(unsized_));
    }
    let (least, most) = parts
        .iter()
        .filter_map(|part| part_area(part, faces))
        .fold((0.0, 0.0), |sum, (face, edge)| (sum.0 + face, sum.1 + face + edge));
    let area = |m2: f64| Area::from_m2(m2).ok_or(NoQuantity::Nothing(CoverageFigure::Area));
    Ok(CoveredArea { least: area(least)?, most: area(most)? })
}

/// Square metres of a part's faces and of its edges, for all pieces of it.
fn part_area(part: &Part, faces: u32) -> Option<(f64, f64)> {
    let size = part.size.as_ref()?;
    let metres =
        |length: &Option<Said<crate::unit::Length>>| length.as_ref().map(|length| length.mm() / 1000.0);
    let (length, width, thick) = (metres(&size.length), metres(&size.width), metres(&size.thick));
    let (face, edge) = match (length, width, metres(&size.diameter)) {
        (Some(length), None, Some(across)) => (std::f64::consts::PI * across * length, 0.0),
        (None, None, Some(across)) => {
            let disc = std::f64::consts::PI * across * across / 4.0;
            (disc * f64::from(faces), thick.unwrap_or(0.0) * std::f64::consts::PI * across)
        }
        (Some(length), Some(width), _) => {
            (length * width * f64::from(faces), thick.unwrap_or(0.0) * 2.0 * (length + width))
        }
        _ => return None,
    };
    let count = f64::from(part.count.as_ref().map_or(1, |count| count.0));
    Some((face * count, edge * count))
}

/// What a litre covers, and where that comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum Rate {
    /// The tin's label says it.
    Label(Range),
    /// Computed from solids in percent and dry film in micrometres.
    DryFilm {
        /// Square metres to a litre.
        rate: Range,
        /// Solids by volume in percent.
        solids: f64,
        /// Dry film of a coat.
        dry: Range,
        /// Where the dry film comes from; empty where it is the tin's own data sheet.
        source: String,
    },
}

impl Rate {
    /// Square metres to a litre in one coat.
    pub fn m2_per_litre(&self) -> Range {
        match self {
            Rate::Label(rate) | Rate::DryFilm { rate, .. } => *rate,
        }
    }
}

/// What one applying step took.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// The area.
    pub area: CoveredArea,
    /// How many faces of a board were taken.
    pub faces: u32,
    /// What a litre covers.
    pub rate: Rate,
    /// The share that is lost in the tool, and where that comes from; empty by brush and cloth.
    pub loss: Option<(Range, String)>,
    /// Litres for all coats.
    pub litres: Range,
    /// The share of a full tin; `None` where the tin's content is not recorded.
    pub share: Option<Range>,
    /// That share of the tin's price, low and high; `None` where price or content is not recorded.
    pub cost: Option<(Money, Money)>,
}

/// One applying step and what it took.
#[derive(Debug, Clone, PartialEq)]
pub struct Consumption {
    /// The step.
    pub step: Row<Step>,
    /// What it took, or why that cannot be said.
    pub quantity: Result<Quantity, NoQuantity>,
}

/// What every applying step on a surface took, rework included: it came out of the tin all the same.
pub(in crate::derive) fn consumption(
    record: &Record,
    surface: &Surface,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> Vec<Consumption> {
    let applying = surface.steps.iter().filter(|step| laid(step, trade).is_some());
    let consumption = |step: &Row<Step>| Consumption {
        step: step.clone(),
        quantity: quantity(record, surface, step, tins, trade),
    };
    applying.map(consumption).collect()
}

fn quantity(
    record: &Record,
    surface: &Surface,
    step: &Step,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> Result<Quantity, NoQuantity> {
    let named = if step.only.is_empty() { &surface.parts } else { &step.only };
    let part = |id: &Said<PartId>| {
        record.parts.iter().map(|part| &part.value).find(|part| part.id.value == id.value)
    };
    let parts: Vec<&Part> = named.iter().filter_map(part).collect();
    let faces = surface.faces.as_ref().map_or(1, |faces| faces.0);
    let area = area(&parts, faces)?;
    let applied = step.apply.as_ref().and_then(|what| coating(what, tins, trade)).ok_or(NoQuantity::NoTin)?;
    let tin = applied.tin.ok_or(NoQuantity::NoTin)?;
    let rate = rate(tin, applied.finish.group.value, step, trade)?;
    let loss = loss(step, trade);
    let lost = loss.as_ref().map_or(Range { low: 0.0, high: 0.0 }, |(lost, _)| *lost);
    let covers = rate.m2_per_litre();
    let litres = Range {
        low: litres(step.coat_count(), area.least, covers.high, lost.low)?,
        high: litres(step.coat_count(), area.most, covers.low, lost.high)?,
    };
    let share =
        tin.litres.as_ref().map(|full| Range { low: litres.low / full.0, high: litres.high / full.0 });
    let price = tin.price.for_archive().as_ref();
    let cost = share
        .zip(price)
        .and_then(|(share, price)| Some((part_of(share.low, price)?, part_of(share.high, price)?)));
    Ok(Quantity { area, faces, rate, loss, litres, share, cost })
}

/// A share of an amount, exact to a hundredth of a millionth; `None` where it is more than money can say.
fn part_of(share: f64, price: &Money) -> Option<Money> {
    let share = Decimal::try_from(share).ok()?.round_dp(8);
    Some(Money(price.0.checked_mul(share)?))
}

fn rate(tin: &Tin, group: Group, step: &Step, trade: &Trade) -> Result<Rate, NoQuantity> {
    if let Some(covers) = &tin.covers {
        above_zero(covers.low, CoverageFigure::Rate)?;
        return Ok(Rate::Label(covers.value));
    }
    let solids = tin.solids.as_ref().ok_or(NoQuantity::NoRate)?.0;
    let (dry, source) = match &tin.dry_film {
        Some(dry) => (dry.value, String::new()),
        None => usual_film(group, step, trade).ok_or(NoQuantity::NoRate)?,
    };
    let rate = Range { low: spreading_rate(solids, dry.high)?, high: spreading_rate(solids, dry.low)? };
    Ok(Rate::DryFilm { rate, solids, dry, source })
}

/// The dry film that a coat usually leaves, by chemistry and tool, where the table has one.
fn usual_film(group: Group, step: &Step, trade: &Trade) -> Option<(Range, String)> {
    let film = trade.coverage.usual_film(group, &means(step));
    film.map(|film| (film.dry_um.value, film.source.to_string()))
}

/// What is lost in the tool: the table knows roller and spray, and nothing is reckoned for brush and cloth.
fn loss(step: &Step, trade: &Trade) -> Option<(Range, String)> {
    let loss = trade.coverage.usual_loss(&means(step));
    loss.map(|loss| (loss.loss.value, loss.source.to_string()))
}

/// By what means a step was done, in small letters; empty where that is not said.
fn means(step: &Step) -> String {
    step.by.as_ref().map_or_else(String::new, |by| by.to_lowercase())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;
    use proptest::prelude::*;

    /// A row of the published and computed values, with its figures by name.
    fn rows(prefix: &str) -> Vec<toml::Table> {
        // Paint makers' arithmetic: common practice, no source; each row checked by hand against its own formula.
        let text: toml::Table = include_str!("../../../tests/data/coatings.toml").parse().unwrap();
        let rows = text["coating"].as_array().unwrap().iter().map(|row| row.as_table().unwrap().clone());
        let wanted: Vec<_> = rows.filter(|row| row["id"].as_str().unwrap().starts_with(prefix)).collect();
        assert!(!wanted.is_empty(), "{prefix}");
        wanted
    }

    fn figure(row: &toml::Table, key: &str) -> f64 {
        row[key].as_float().unwrap()
    }

    #[track_caller]
    fn near(found: f64, row: &toml::Table, key: &str, within: f64) {
        let wanted = figure(row, key);
        assert!((found - wanted).abs() <= within, "{}: {found} for {wanted}", row["id"]);
    }

    #[test]
    fn spreading_rates_are_those_of_the_data_sheets() {
        let rows: Vec<_> =
            rows("spreading-rate").into_iter().filter(|row| row.contains_key("m2-per-l")).collect();
        assert_eq!(rows.len(), 3);
        for row in &rows {
            near(
                spreading_rate(figure(row, "solids-percent"), figure(row, "dft-um")).unwrap(),
                row,
                "m2-per-l",
                0.005,
            );
        }
    }

    #[test]
    fn the_same_rate_comes_out_in_american_units() {
        // 1604 square feet to a gallon and mil; 25.4 µm to a mil, 3.785411784 L to a gallon, 0.09290304 m2 to a square foot.
        for row in &rows("spreading-rate-us") {
            let metric =
                spreading_rate(figure(row, "solids-fraction") * 100.0, figure(row, "dft-mil") * 25.4)
                    .unwrap();
            near(metric * 3.785411784 / 0.09290304, row, "ft2-per-usgal", 0.1);
        }
    }

    #[test]
    fn wet_films_are_those_of_the_data_sheets() {
        for row in &rows("wet-film") {
            near(
                wet_film(figure(row, "solids-percent"), figure(row, "dft-um")).unwrap(),
                row,
                "wft-um",
                0.06,
            );
        }
    }

    #[test]
    fn the_practical_need_takes_the_loss_into_account() {
        for row in &rows("practical-need") {
            let area = Area::from_m2(figure(row, "area-m2")).unwrap();
            let need =
                litres(figure(row, "coats") as u32, area, figure(row, "m2-per-l"), figure(row, "loss"))
                    .unwrap();
            near(need, row, "litres", 0.0005);
        }
    }

    #[test]
    fn nothing_is_divided_by() {
        assert_eq!(spreading_rate(50.0, 0.0), Err(NoQuantity::Nothing(CoverageFigure::DryFilm)));
        assert_eq!(spreading_rate(f64::NAN, 25.0), Err(NoQuantity::Nothing(CoverageFigure::Solids)));
        assert_eq!(litres(1, Area::default(), 10.0, 1.0), Err(NoQuantity::AllLost));
        assert_eq!(litres(1, Area::default(), 0.0, 0.0), Err(NoQuantity::Nothing(CoverageFigure::Rate)));
    }

    /// What the one step of a surface of the parts took.
    fn took(parts: &str, surface: &str, step: &str, tin: &str) -> Result<Quantity, NoQuantity> {
        let record = format!("part = [{parts}]\n[[surface]]\n{surface}\nsteps = [{{ {step} }}]");
        let folder = folder(&record, &format!("[[tin]]\nid = \"satin\"\nis = \"oil-polyurethane\"\n{tin}"));
        let tins = &folder.workshop.as_ref().unwrap().tins;
        let record = folder.pieces[0].record.as_ref().unwrap();
        let used = consumption(record, &record.surfaces[0], tins, Trade::built_in());
        used.into_iter().next().unwrap().quantity
    }

    const TOP: &str = "{ id = \"a\", name = \"Top\", standing = \"original\", size = { length = 1000, width = 500, thick = 20 } }";

    #[track_caller]
    fn around(range: Range, low: f64, high: f64) {
        assert!((range.low - low).abs() < 1e-9 && (range.high - high).abs() < 1e-9, "{range:?}");
    }

    // By hand: a face of 0.5 m2, edges of 2 x 1.5 m x 0.02 m = 0.06 m2.
    #[test]
    fn a_top_takes_so_much() {
        let step = "apply = \"tin:satin\", coats = 2";
        let tin = "covers = [10, 12.5]\nlitres = 0.5\nprice = 20.00";
        let one = took(TOP, "parts = \"a\"", step, tin).unwrap();
        around(one.litres, 0.08, 0.112);
        around(one.share.unwrap(), 0.16, 0.224);
        let (low, high) = one.cost.unwrap();
        assert_eq!((low.0.round_dp(4), high.0.round_dp(4)), (Decimal::new(32, 1), Decimal::new(448, 2)));
        let both = took(TOP, "parts = \"a\"\nfaces = 2", step, tin).unwrap();
        around(both.litres, 0.16, 0.2 + 0.012);
        let rolled = took(TOP, "parts = \"a\"", "apply = \"tin:satin\", by = \"foam roller\"", tin).unwrap();
        around(rolled.litres, 0.5 / (0.9 * 12.5), 0.56 / (0.8 * 10.0));
    }

    #[test]
    fn solids_and_film_stand_in_for_the_label() {
        let step = "apply = \"tin:satin\"";
        // 50 % solids at 20 to 30 µm of brushed varnish: 16.67 to 25 m2 to a litre.
        let brushed = took(TOP, "parts = \"a\"", step, "solids = 50").unwrap();
        around(brushed.rate.m2_per_litre(), 500.0 / 30.0, 25.0);
        let sheet = took(TOP, "parts = \"a\"", step, "solids = 50\ndry-film = 40").unwrap();
        around(sheet.rate.m2_per_litre(), 12.5, 12.5);
        assert_eq!(sheet.share, None);
    }

    #[test]
    fn round_parts_have_a_mantle() {
        let leg = "{ id = \"a\", name = \"Leg\", standing = \"new\", count = 4, size = { length = 700, diameter = 50 } }";
        let legs = took(leg, "parts = \"a\"", "apply = \"tin:satin\"", "covers = 10").unwrap();
        let mantle = 4.0 * std::f64::consts::PI * 0.05 * 0.7;
        around(legs.litres, mantle / 10.0, mantle / 10.0);
    }

    #[test]
    fn what_is_missing_is_named() {
        let why =
            |parts: &str, surface: &str, step: &str, tin: &str| took(parts, surface, step, tin).unwrap_err();
        let leaf = "{ id = \"b\", name = \"Leaf\", standing = \"original\" }";
        let tin = "covers = 10";
        assert_eq!(why(TOP, "", "apply = \"tin:satin\"", tin), NoQuantity::NoParts);
        assert_eq!(
            why(&format!("{TOP}, {leaf}"), "parts = [\"a\", \"b\"]", "apply = \"tin:satin\"", tin),
            NoQuantity::NoSize(vec!["Leaf".to_owned()])
        );
        assert_eq!(why(TOP, "parts = \"a\"", "apply = \"shellac\"", tin), NoQuantity::NoTin);
        assert_eq!(why(TOP, "parts = \"a\"", "apply = \"tin:satin\"", "litres = 1"), NoQuantity::NoRate);
        assert_eq!(
            why(TOP, "parts = \"a\"", "apply = \"tin:satin\"", "covers = [0, 10]"),
            NoQuantity::Nothing(CoverageFigure::Rate)
        );
        assert_eq!(
            why(TOP, "parts = \"a\"", "apply = \"tin:satin\"", "solids = 50\ndry-film = [0, 5]"),
            NoQuantity::Nothing(CoverageFigure::DryFilm)
        );
    }

    proptest! {
        #[test]
        fn twice_the_area_or_coats_take_twice_as_much(coats in 1_u32..9, m2 in 0.0_f64..50.0, rate in 1.0_f64..30.0, loss in 0.0_f64..0.9) {
            let need = |coats: u32, m2: f64| litres(coats, Area::from_m2(m2).unwrap(), rate, loss).unwrap();
            prop_assert!((need(coats, 2.0 * m2) - 2.0 * need(coats, m2)).abs() < 1e-9);
            prop_assert!((need(2 * coats, m2) - 2.0 * need(coats, m2)).abs() < 1e-9);
        }

        #[test]
        fn more_loss_takes_more(m2 in 0.1_f64..50.0, rate in 1.0_f64..30.0, loss in 0.0_f64..0.8, more in 0.01_f64..0.19) {
            let need = |loss: f64| litres(1, Area::from_m2(m2).unwrap(), rate, loss).unwrap();
            prop_assert!(need(loss + more) > need(loss));
        }

        #[test]
        fn what_is_spread_is_the_wet_film(solids in 1.0_f64..100.0, dry in 1.0_f64..300.0) {
            // A litre over its area stands as high as its wet film: 1000 µm x m2 to the litre.
            let (rate, wet) = (spreading_rate(solids, dry).unwrap(), wet_film(solids, dry).unwrap());
            prop_assert!((rate * wet - 1000.0).abs() < 1e-6);
        }

        #[test]
        fn any_figures_give_a_number_or_a_reason(
            solids in prop::num::f64::ANY, dry in prop_oneof![prop::num::f64::ANY, Just(1.0), Just(f64::MIN_POSITIVE)]
        ) {
            prop_assert!(spreading_rate(solids, dry).map_or(true, f64::is_finite));
            prop_assert!(wet_film(solids, dry).map_or(true, f64::is_finite));
            prop_assert!(litres(u32::MAX, Area::from_m2(1e9).unwrap(), solids, 0.0).map_or(true, f64::is_finite));
        }
    }
}
