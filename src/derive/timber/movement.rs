//! How far solid parts move across their grain through the year of the buyer's room.

use crate::derive::climate::Seasons;
use crate::derive::missing_input::MissingInput;
use crate::fields::{Range, Said};
use crate::record::{Construction, Grain, Held, Opening, Part, Sawn};
use crate::trade::{Timber, Trade};
use crate::unit::{Length, Moisture};

/// Moisture contents between which a coefficient of the table holds, in percent.
const LINEAR: std::ops::RangeInclusive<f64> = 6.0..=14.0;

/// Coefficients that differ by no more than this are one and the same, rounded.
const SAME: f64 = 0.000_02;

/// Why a change of dimension cannot be given; in words for a paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum MovementError {
    /// A moisture content is outside what the coefficient holds for.
    #[error("moisture content lies outside 6 to 14 %, where the coefficient holds")]
    Moisture,
    /// The figure of the timber cannot be what it is meant to be.
    #[error("the timber's figure is out of its range")]
    Figure,
}

/// How much a dimension across the grain changes with the moisture content of the wood.
///
/// `dimension` is measured at `from`; `coefficient` is the fraction it changes for 1 % of moisture content (`0.00365`
/// for flat-sawn white oak). Millimetres, unrounded; negative where the wood dries.
///
/// # Errors
/// [`MovementError::Moisture`] where `from` or `to` is outside 6 to 14 %; [`MovementError::Figure`] where the
/// coefficient is not above 0 and below 0.02.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), chapter 13, equation 13-2.
pub fn change(
    dimension: Length,
    coefficient: f64,
    from: Moisture,
    to: Moisture,
) -> Result<f64, MovementError> {
    if !(LINEAR.contains(&from.percent()) && LINEAR.contains(&to.percent())) {
        return Err(MovementError::Moisture);
    }
    if !(coefficient > 0.0 && coefficient < 0.02) {
        return Err(MovementError::Figure);
    }
    Ok(straight(dimension, coefficient, from, to))
}

/// Equation 13-2 without a look at its range.
fn straight(dimension: Length, coefficient: f64, from: Moisture, to: Moisture) -> f64 {
    dimension.mm() * coefficient * (to.percent() - from.percent())
}

/// The same from the timber's whole shrinkage, which also holds outside 6 to 14 %.
///
/// `shrinkage` is percent of the green dimension, green to oven-dry. Millimetres, unrounded; negative where the wood
/// dries.
///
/// # Errors
/// [`MovementError::Figure`] where the shrinkage is not above 0 and below 30 %.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), chapter 13, equation 13-3 (from memory; its conditions were read).
pub fn change_by_shrinkage(
    dimension: Length,
    shrinkage: f64,
    from: Moisture,
    to: Moisture,
) -> Result<f64, MovementError> {
    if !(shrinkage > 0.0 && shrinkage < 30.0) {
        return Err(MovementError::Figure);
    }
    Ok(dimension.mm() * (to.percent() - from.percent()) / (3000.0 / shrinkage - 30.0 + from.percent()))
}

/// The coefficient that a whole shrinkage in percent implies, on the dimension at 10 % moisture content.
///
/// # Source
/// Wood Handbook, FPL-GTR-190 (2010), equation 13-3 at 10 %: S / (3000 - 20 S).
pub fn coefficient(shrinkage: f64) -> f64 {
    shrinkage / (3000.0 - 20.0 * shrinkage)
}

/// The whole shrinkage in percent that a coefficient implies: [`coefficient`] the other way round.
pub fn shrinkage(coefficient: f64) -> f64 {
    3000.0 * coefficient / (1.0 + 20.0 * coefficient)
}

/// A timber's movement in one direction, from the least to the most that its tables give.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Factor {
    /// The least fraction for 1 % of moisture content.
    pub low: f64,
    /// The most.
    pub high: f64,
}

impl Factor {
    /// From the lower low to the higher high of two.
    fn with(self, other: Factor) -> Factor {
        Factor { low: self.low.min(other.low), high: self.high.max(other.high) }
    }
}

/// What a timber's coefficients and its whole shrinkage in percent give together: where they disagree, the range from
/// the one to the other.
///
/// `None` where neither is given.
pub fn factor(table: Option<Range>, whole: Option<Range>) -> Option<Factor> {
    let table = table.map(|table| Factor { low: table.low, high: table.high });
    let whole = whole.map(|whole| Factor { low: coefficient(whole.low), high: coefficient(whole.high) });
    let same = |one: f64, other: f64| if (one - other).abs() <= SAME { one } else { other };
    match (table, whole) {
        (Some(table), Some(whole)) => {
            Some(table.with(Factor { low: same(table.low, whole.low), high: same(table.high, whole.high) }))
        }
        (table, whole) => table.or(whole),
    }
}

/// Which dimension of a part moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moving {
    /// The width, as the grain runs along the length.
    Width,
    /// The length, as the grain runs along the width.
    Length,
    /// The height of a box, whose boards run around it.
    Height,
}

/// How far one solid part moves between the driest and the dampest season.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Which of its dimensions moves.
    pub moving: Moving,
    /// That dimension as recorded, taken to be that of the dry season.
    pub across: Length,
    /// How much wider it is in the damp season, in millimetres: the least of all that its timber, its sawing and the
    /// tables leave open.
    pub least: f64,
    /// The most of all that.
    pub most: f64,
    /// How the board was sawn.
    pub sawn: Sawn,
    /// The timber's figures along the rays; `None` where the part is flat-sawn.
    pub radial: Option<Factor>,
    /// The timber's figures along the rings; `None` where the part is quarter-sawn.
    pub tangential: Option<Factor>,
    /// The id of the part's timber.
    pub timber: String,
    /// The ids of the timbers whose figures were used: its own, or those that its word may mean or that stand in.
    pub figures_of: Vec<String>,
    /// Whether another timber stands in for the part's own.
    pub stand_in: bool,
    /// Whether the moisture stays within 6 to 14 %, where the table's coefficients hold.
    pub linear: bool,
    /// Whether it is held fast across its grain and moves enough for that to matter.
    pub held_fast: bool,
}

/// The movement of a solid part that the piece has, or what is missing for it; `None` for any other part.
pub(in crate::derive) fn movement(
    part: &Part,
    seasons: &Seasons,
    trade: &Trade,
) -> Option<Result<Movement, MissingInput>> {
    let solid = part.build.as_ref().is_some_and(|build| build.value == Construction::Solid);
    (solid && part.present()).then(|| solid_movement(part, seasons, trade))
}

fn solid_movement(part: &Part, seasons: &Seasons, trade: &Trade) -> Result<Movement, MissingInput> {
    let (dry, damp) = seasons.moisture?;
    let (moving, across) = across(part)?;
    let timber = super::material::timber(part.timber.as_ref(), trade)?;
    let nothing = || MissingInput::MovementOf(timber.name.to_string());
    let moves = moves(timber, trade);
    let each = |way: fn(&Timber) -> Option<Factor>| {
        let factors: Option<Vec<Factor>> = moves.iter().map(|row| way(row)).collect();
        factors.and_then(|factors| factors.into_iter().reduce(Factor::with)).ok_or_else(nothing)
    };
    let sawn = part.sawn.as_ref().map_or(Sawn::Unknown, |sawn| sawn.value);
    let (radial, tangential) = match sawn {
        Sawn::FlatSawn => (None, Some(each(tangential)?)),
        Sawn::QuarterSawn => (Some(each(radial)?), None),
        Sawn::Unknown => (Some(each(radial)?), Some(each(tangential)?)),
    };
    let linear = LINEAR.contains(&dry.percent()) && LINEAR.contains(&damp.percent());
    let moved = |coefficient: f64| match linear {
        true => change(across, coefficient, dry, damp).map(|straight| vec![straight]),
        // Neither equation is sure here, and the truth is taken to lie between them.
        false => change_by_shrinkage(across, shrinkage(coefficient), dry, damp)
            .map(|curved| vec![straight(across, coefficient, dry, damp), curved]),
    };
    let ends = [radial, tangential].into_iter().flatten().flat_map(|factor| [factor.low, factor.high]);
    let mut moved: Vec<f64> = ends.flat_map(moved).flatten().collect();
    moved.sort_by(f64::total_cmp);
    let (least, most) = (*moved.first().ok_or_else(nothing)?, *moved.last().ok_or_else(nothing)?);
    let wide = trade.climate.limit("held-across").is_some_and(|limit| most >= limit.value.0);
    let fast = part.held.as_ref().is_some_and(|held| held.value == Held::FixedAcross);
    Ok(Movement {
        moving,
        across,
        least,
        most,
        sawn,
        radial,
        tangential,
        timber: timber.id.0.clone(),
        figures_of: moves.iter().map(|row| row.id.0.clone()).collect(),
        stand_in: trade.timbers_of(timber).iter().any(|row| row.moves_like.is_some()),
        linear,
        held_fast: wide && fast,
    })
}

/// A timber's movement along its rays.
fn radial(timber: &Timber) -> Option<Factor> {
    factor(range(&timber.radial), range(&timber.radial_shrinkage))
}

/// A timber's movement along its rings.
fn tangential(timber: &Timber) -> Option<Factor> {
    factor(range(&timber.tangential), range(&timber.tangential_shrinkage))
}

fn range(said: &Option<Said<Range>>) -> Option<Range> {
    said.as_ref().map(|said| said.value)
}

/// The timbers whose movement counts for a row: itself or what its word may mean, each or what stands in for it.
fn moves<'a>(timber: &'a Timber, trade: &'a Trade) -> Vec<&'a Timber> {
    let stands_in =
        |row: &'a Timber| row.moves_like.as_ref().and_then(|like| trade.timber(&like.0)).unwrap_or(row);
    trade.timbers_of(timber).into_iter().map(stands_in).collect()
}

/// The dimension of a part that runs across its grain.
fn across(part: &Part) -> Result<(Moving, Length), MissingInput> {
    let size = part.size.as_ref().ok_or(MissingInput::Dimension("size"))?;
    if size.wall.is_some() {
        let height = size.thick.as_ref().ok_or(MissingInput::Dimension("thickness"))?;
        return Ok((Moving::Height, height.value));
    }
    let drawer = part.opens.as_ref().is_some_and(|opens| opens.r#as.value == Opening::Drawer);
    if drawer || super::material::like_a_box(size) {
        return Err(MissingInput::Wall);
    }
    let (moving, length, name) = match part.grain.as_ref().map(|grain| grain.value) {
        Some(Grain::Length) => (Moving::Width, &size.width, "width"),
        Some(Grain::Width) => (Moving::Length, &size.length, "length"),
        Some(Grain::Unknown) | None => return Err(MissingInput::Grain),
    };
    let length = length.as_ref().or(size.diameter.as_ref()).ok_or(MissingInput::Dimension(name))?;
    Ok((moving, length.value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::{facts, workshop};
    use proptest::prelude::*;

    fn percent(percent: f64) -> Moisture {
        Moisture::from_percent(percent).expect("a moisture content")
    }

    fn mm(mm: f64) -> Length {
        Length::from_mm(mm).expect("a length")
    }

    #[test]
    fn the_published_examples() {
        // Wood Handbook, FPL-GTR-190 (2010), chapter 13, page 13-17, and others named row by row in the file.
        let table: toml::Table =
            include_str!("../../../tests/data/movement.toml").parse().expect("it is TOML");
        let rows = table["movement"].as_array().expect("rows");
        assert_eq!(rows.len(), 6);
        for row in rows {
            let number = |key: &str| row[key].as_float().expect("a number");
            // The equation keeps the unit that goes in.
            let computed = change(
                mm(number("width")),
                number("coefficient"),
                percent(number("from")),
                percent(number("to")),
            );
            let computed = computed.expect("within 6 to 14 %");
            assert!((computed - number("change")).abs() <= number("change") * 0.0003, "{row}: {computed}");
            if let Some(published) = row.get("published").and_then(toml::Value::as_float) {
                assert!((computed - published).abs() <= published * 0.02, "{row}: {computed}");
            }
        }
    }

    #[test]
    fn by_whole_shrinkage_the_white_fir_moves_as_published() {
        // Wood Handbook, FPL-GTR-190 (2010), equation 13-3: 232 mm of white fir, 7.0 %, from 8 to 11 %.
        let computed = change_by_shrinkage(mm(232.0), 7.0, percent(8.0), percent(11.0)).expect("in range");
        assert!((computed - 1.712).abs() < 0.001, "{computed}");
    }

    #[test]
    fn coefficients_of_the_table_follow_from_its_shrinkage() {
        // Wood Handbook, FPL-GTR-190 (2010), tables 13-5 and 4-3: beech 11.9 %, walnut 5.5 %, cherry 7.1 %.
        for (whole, printed) in [(11.9, 0.00431), (5.5, 0.00190), (7.1, 0.00248), (8.1, 0.00285)] {
            assert!((coefficient(whole) - printed).abs() <= 0.000_011, "{whole}: {}", coefficient(whole));
            assert!((shrinkage(coefficient(whole)) - whole).abs() < 1e-9);
        }
    }

    #[test]
    fn where_tables_disagree_the_range_goes_from_the_one_to_the_other() {
        let at = |figure: f64| Some(Range { low: figure, high: figure });
        let ends = |table, whole| factor(table, whole).map(|factor| (factor.low, factor.high));
        // White oak: 10.5 % of shrinkage gives 10.5 / (3000 - 210).
        assert_eq!(ends(at(0.00365), at(10.5)), Some((0.00365, 10.5 / 2790.0)));
        assert_eq!(ends(at(0.00365), at(9.9)), Some((9.9 / 2802.0, 0.00365)));
        // American beech: 11.9 % gives 0.00431, which is the same, rounded.
        assert_eq!(ends(at(0.00431), at(11.9)), Some((0.00431, 0.00431)));
        assert_eq!(ends(None, at(8.9)), Some((8.9 / 2822.0, 8.9 / 2822.0)));
        assert_eq!(ends(Some(Range { low: 0.0016, high: 0.002 }), None), Some((0.0016, 0.002)));
        assert_eq!(ends(None, None), None);
    }

    #[test]
    fn outside_its_range_no_number_comes_out() {
        assert_eq!(change(mm(400.0), 0.00365, percent(5.9), percent(12.0)), Err(MovementError::Moisture));
        assert_eq!(change(mm(400.0), 0.00365, percent(6.0), percent(14.1)), Err(MovementError::Moisture));
        assert_eq!(change(mm(400.0), f64::NAN, percent(6.0), percent(14.0)), Err(MovementError::Figure));
        assert_eq!(
            change_by_shrinkage(mm(1.0), 30.0, percent(0.0), percent(1.0)),
            Err(MovementError::Figure)
        );
    }

    /// The movement of one part in a room at 20 °C.
    fn one(part: &str, low: f64, high: f64) -> Result<Movement, MissingInput> {
        let record = format!("part = [{{ id = \"a\", name = \"A\", standing = \"original\", {part} }}]");
        let facts = facts(&record, &workshop(low, high));
        facts.parts.into_iter().find_map(|facts| facts.movement).expect("one part")
    }

    const TOP: &str =
        "build = \"solid\", timber = \"red-oak\", size = { length = 1200, width = 900, thick = 18 }";

    #[test]
    fn the_width_moves_where_the_grain_runs_along_the_length() {
        let along = one(&format!("{TOP}, grain = \"length\", sawn = \"flat-sawn\""), 35.0, 65.0);
        let along = along.expect("everything is said");
        assert_eq!((along.moving, along.across.mm()), (Moving::Width, 900.0));
        // 900 mm x 0.00369 x (11.996 - 6.963) %; its shrinkage of 8.6 % gives 0.00304 and 13.77 mm.
        assert!((along.most - 16.71).abs() < 0.02 && (along.least - 13.77).abs() < 0.02, "{along:?}");
        let across = one(&format!("{TOP}, grain = \"width\", sawn = \"quarter-sawn\""), 35.0, 65.0);
        let across = across.expect("everything is said");
        assert_eq!((across.moving, across.across.mm()), (Moving::Length, 1200.0));
        // 1200 mm x 0.00158; 4.0 % of shrinkage gives 0.00137.
        assert!((across.most - 9.54).abs() < 0.02 && (across.least - 8.28).abs() < 0.02, "{across:?}");
    }

    #[test]
    fn how_it_was_sawn_makes_a_range_where_it_is_not_known() {
        let unknown = one(&format!("{TOP}, grain = \"length\""), 35.0, 65.0).expect("everything is said");
        assert!((unknown.least - 6.21).abs() < 0.02 && (unknown.most - 16.71).abs() < 0.02, "{unknown:?}");
        assert_eq!(one(TOP, 35.0, 65.0), Err(MissingInput::Grain));
    }

    #[test]
    fn drier_rooms_than_the_coefficient_knows_are_reckoned_both_ways() {
        let part = format!("{TOP}, grain = \"length\", sawn = \"flat-sawn\"");
        let dry = one(&part, 20.0, 65.0).expect("everything is said");
        assert!(!dry.linear);
        // From 4.509 to 11.996 %: equation 13-3 by hand with 10.31 %, which goes with 0.00369, gives 25.38 mm, and the
        // straight line 24.86; with the 8.6 % of its shrinkage 13-3 gives 20.83 mm and the straight line 20.49.
        assert!((dry.most - 25.38).abs() < 0.02 && (dry.least - 20.49).abs() < 0.02, "{dry:?}");
        assert_eq!(one(&part, 20.0, 100.0), Err(MissingInput::Room(crate::derive::ClimateError::Humidity)));
    }

    #[test]
    fn only_a_wide_part_held_fast_is_cautioned() {
        let held = |width: u32| {
            let part = format!(
                "build = \"solid\", timber = \"red-oak\", size = {{ length = 900, width = {width} }}, \
                 grain = \"length\", held = \"fixed-across\""
            );
            one(&part, 35.0, 65.0).expect("everything is said").held_fast
        };
        assert!(held(108) && !held(107), "2 mm is the limit: 107.7 x 0.00369 x 5.033");
    }

    #[test]
    fn a_box_moves_in_height_and_an_unsaid_box_not_at_all() {
        let drawer = "build = \"solid\", timber = \"red-oak\", grain = \"length\"";
        let unsaid =
            one(&format!("{drawer}, size = {{ length = 330, width = 260, thick = 95 }}"), 35.0, 65.0);
        assert_eq!(unsaid, Err(MissingInput::Wall));
        let size = "size = { length = 330, width = 260, thick = 95, wall = 10 }";
        let said = one(&format!("{drawer}, {size}"), 35.0, 65.0).expect("everything is said");
        assert_eq!((said.moving, said.across.mm()), (Moving::Height, 95.0));
    }

    fn board(timber: &str) -> Result<Movement, MissingInput> {
        let board = format!(
            "build = \"solid\", timber = \"{timber}\", grain = \"length\", size = {{ length = 9, width = 300 }}"
        );
        one(&board, 35.0, 65.0)
    }

    #[test]
    fn another_timber_stands_in_where_the_table_says_so() {
        let brown = board("brown-oak").expect("it moves like European oak");
        assert!(brown.stand_in && brown.figures_of == ["european-oak"]);
        assert_eq!(brown.most, board("european-oak").expect("it has figures").most);
        assert_eq!(board("rubberwood"), Err(MissingInput::MovementOf("Rubberwood".to_owned())));
        assert_eq!(board("unknown"), Err(MissingInput::Timber));
        assert_eq!(board("gidgee"), Err(MissingInput::OtherTimber("gidgee".to_owned())));
    }

    #[test]
    fn european_timbers_move_by_european_tables() {
        // 300 mm x 0.0016 to 0.0036 x (11.996 - 6.963) %.
        let oak = board("European oak").expect("it has figures");
        assert!((oak.least - 2.416).abs() < 0.005 && (oak.most - 5.436).abs() < 0.005, "{oak:?}");
    }

    #[test]
    fn a_word_that_tells_no_species_moves_as_any_of_them() {
        let (oak, each) = (board("oak"), ["european-oak", "red-oak", "white-oak"].map(board));
        let oak = oak.expect("each has figures");
        let each = each.map(|row| row.expect("it has figures"));
        assert_eq!(oak.least, each.iter().map(|row| row.least).fold(f64::INFINITY, f64::min));
        assert_eq!(oak.most, each.iter().map(|row| row.most).fold(0.0, f64::max));
        assert_eq!((oak.timber.as_str(), oak.figures_of.len(), oak.stand_in), ("oak", 3, false));
        assert_eq!(board("hardwood"), Err(MissingInput::MovementOf("Hardwood".to_owned())));
    }

    proptest! {
        #[test]
        fn there_is_minus_back_and_twice_as_wide_moves_twice_as_far(
            width in 1.0..5000.0_f64, c in 0.0005..0.006_f64, from in 6.0..14.0_f64, to in 6.0..14.0_f64
        ) {
            let there = change(mm(width), c, percent(from), percent(to)).expect("in range");
            let back = change(mm(width), c, percent(to), percent(from)).expect("in range");
            prop_assert!((there + back).abs() < 1e-9);
            let twice = change(mm(2.0 * width), c, percent(from), percent(to)).expect("in range");
            prop_assert!((twice - 2.0 * there).abs() < 1e-9);
            prop_assert_eq!(there > 0.0, to > from);
        }

        #[test]
        fn within_its_range_the_coefficient_agrees_with_the_whole_shrinkage(
            s in 2.0..12.0_f64, from in 6.0..14.0_f64, to in 6.0..14.0_f64
        ) {
            let straight = change(mm(1000.0), coefficient(s), percent(from), percent(to)).expect("in range");
            let curved = change_by_shrinkage(mm(1000.0), s, percent(from), percent(to)).expect("in range");
            prop_assert!((straight - curved).abs() <= 0.02 * straight.abs() + 1e-9, "{straight} {curved}");
        }
    }
}
