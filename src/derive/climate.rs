//! How moist wood becomes in the air of a room.

use crate::fields::{Celsius, Percent};
use crate::record::Workshop;
use crate::trade::{ClimateTable, Trade};
use crate::unit::Moisture;

/// Lowest and highest relative humidity that the equation is used for, in percent.
const HUMIDITY: std::ops::RangeInclusive<f64> = 5.0..=95.0;

/// Lowest and highest temperature that the equation is used for, in °C; its fit begins at 30 °F.
const TEMPERATURE: std::ops::RangeInclusive<f64> = -1.2..=130.0;

/// Why no moisture content can be given; in words for a paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ClimateError {
    /// The humidity is outside what the equation was fitted to.
    #[error("the room's humidity lies outside 5 to 95 %, where the equation for moisture in wood holds")]
    Humidity,
    /// The temperature is outside what the equation was fitted to.
    #[error("the room lies below -1 °C, where the equation for moisture in wood no longer holds")]
    Temperature,
    /// What the workshop says of the air could not be read; nothing else is taken for it.
    #[error("what the workshop says of the room's air could not be read")]
    Unread,
    /// A factor of the equation is not in the table.
    #[error("the table lacks a factor of the equation for moisture in wood")]
    Factor,
}

/// The moisture content that wood settles at in still air of this humidity and temperature.
///
/// Percent of the oven-dry mass, unrounded. It knows nothing of species, finish, age, or whether the wood is wetting or
/// drying.
///
/// # Errors
/// [`ClimateError`] outside 5 to 95 % relative humidity and -1.2 to 130 °C.
///
/// # Source
/// Hailwood-Horrobin equation for two hydrates in its Celsius form: Wood Handbook, FPL-GTR-190 (2010), chapter 4,
/// equation for table 4-2; FPL-RN-0268 (1998). Its range: from memory.
pub fn equilibrium(
    humidity: Percent,
    temperature: Celsius,
    table: &ClimateTable,
) -> Result<Moisture, ClimateError> {
    if !HUMIDITY.contains(&humidity.0) {
        return Err(ClimateError::Humidity);
    }
    let t = temperature.0;
    if !TEMPERATURE.contains(&t) {
        return Err(ClimateError::Temperature);
    }
    let factor = |id: &str| {
        let row = table.coefficient(id).ok_or(ClimateError::Factor)?;
        Ok(row.a0.0 + row.a1.0 * t + row.a2.0 * t * t)
    };
    let (w, k, k1, k2) = (factor("w")?, factor("k")?, factor("k1")?, factor("k2")?);
    let kh = k * humidity.0 / 100.0;
    let first = kh / (1.0 - kh);
    let second = (k1 * kh + 2.0 * k1 * k2 * kh * kh) / (1.0 + k1 * kh + k1 * k2 * kh * kh);
    Moisture::from_percent(1800.0 / w * (first + second)).ok_or(ClimateError::Humidity)
}

/// The air that a buyer's room is assumed to have in its driest and dampest season.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomAir {
    /// Relative humidity of the driest season.
    pub dry: Percent,
    /// Relative humidity of the dampest season.
    pub damp: Percent,
    /// Temperature in both.
    pub temperature: Celsius,
    /// Whether the workshop says the humidity; else it is our own assumption.
    pub humidity_said: bool,
    /// Whether the workshop says the temperature.
    pub temperature_said: bool,
}

/// The moisture of wood in a room's two seasons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seasons {
    /// The room.
    pub room: RoomAir,
    /// Moisture content in the driest and in the dampest season.
    pub moisture: Result<(Moisture, Moisture), ClimateError>,
}

/// What to assume of the buyer's room: what the workshop says, else the table's `assumed` room.
///
/// Where what it says is `unread`, no other air stands in for it.
pub(in crate::derive) fn seasons(workshop: Option<&Workshop>, unread: bool, trade: &Trade) -> Seasons {
    let assumed = trade.climate.room("assumed").expect("the table has the room, and a test looks");
    let said = workshop.and_then(|workshop| workshop.climate.as_ref());
    let (low, high) = said.map_or((assumed.rh.low, assumed.rh.high), |climate| {
        (climate.humidity_low.value.0, climate.humidity_high.value.0)
    });
    let temperature = said.and_then(|climate| climate.temperature.as_ref()).map(|said| said.value);
    let room = RoomAir {
        // A record may have them the wrong way round; a rule says so.
        dry: Percent(low.min(high)),
        damp: Percent(low.max(high)),
        temperature: temperature.unwrap_or(Celsius(assumed.c.as_ref().map_or(20.0, |c| c.low))),
        humidity_said: said.is_some(),
        temperature_said: temperature.is_some(),
    };
    let at = |humidity| equilibrium(humidity, room.temperature, &trade.climate);
    let moisture = match unread {
        true => Err(ClimateError::Unread),
        false => at(room.dry).and_then(|dry| Ok((dry, at(room.damp)?))),
    };
    Seasons { room, moisture }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn emc(humidity: f64, celsius: f64) -> f64 {
        equilibrium(Percent(humidity), Celsius(celsius), &Trade::built_in().climate)
            .expect("within the equation's range")
            .percent()
    }

    /// Wood Handbook, FPL-GTR-190 (2010), table 4-2; printed to 0.1, and the equation is a fit to it.
    const TOLERANCE: f64 = 0.07;

    #[track_caller]
    fn case(humidity: f64, celsius: f64, published: f64, tolerance: f64) {
        let computed = emc(humidity, celsius);
        assert!(
            (computed - published).abs() <= tolerance,
            "{humidity} % and {celsius} °C: {computed}, published {published}"
        );
    }

    #[test]
    fn the_table_of_the_wood_handbook() {
        let table: toml::Table = include_str!("../../tests/data/emc.toml").parse().expect("it is TOML");
        let number = |value: &toml::Value| {
            value.as_float().or(value.as_integer().map(|whole| whole as f64)).expect("a number")
        };
        let mut cells = 0;
        for row in table["row"].as_array().expect("rows") {
            let celsius = (number(&row["fahrenheit"]) - 32.0) / 1.8;
            for (place, published) in row["emc"].as_array().expect("cells").iter().enumerate() {
                case(5.0 * (place + 1) as f64, celsius, number(published), TOLERANCE);
                cells += 1;
            }
        }
        assert_eq!(cells, 228);
        for spot in table["spot"].as_array().expect("values worked out by others") {
            case(number(&spot["rh"]), number(&spot["celsius"]), number(&spot["emc"]), TOLERANCE);
        }
        for kept in table["at-20c"].as_array().expect("values worked out once") {
            case(number(&kept["rh"]), 20.0, number(&kept["emc"]), 0.005);
        }
    }

    #[test]
    fn outside_its_range_it_gives_no_number() {
        let at =
            |humidity, celsius| equilibrium(Percent(humidity), Celsius(celsius), &Trade::built_in().climate);
        assert_eq!(at(4.9, 20.0), Err(ClimateError::Humidity));
        assert_eq!(at(100.0, 20.0), Err(ClimateError::Humidity));
        assert_eq!(at(50.0, -10.0), Err(ClimateError::Temperature));
        assert!(at(95.0, -1.2).is_ok() && at(5.0, 50.0).is_ok());
    }

    #[test]
    fn a_workshop_that_says_nothing_has_a_heated_home() {
        let seasons = seasons(None, false, Trade::built_in());
        let (dry, damp) = seasons.moisture.expect("within range");
        assert!((dry.percent() - 6.96).abs() < 0.01 && (damp.percent() - 12.0).abs() < 0.01);
        assert!(!seasons.room.humidity_said && !seasons.room.temperature_said);
    }

    #[test]
    fn air_that_was_said_and_could_not_be_read_has_no_stand_in() {
        let refused = |climate: &str| {
            let tree = crate::source::Tree::of([(
                "workshop.toml",
                format!("name = \"Bench\"\nclimate = {climate}"),
            )]);
            let (folder, _) = crate::record::read(&tree);
            seasons(folder.workshop.as_ref(), folder.climate_unread, Trade::built_in()).moisture.err()
        };
        assert_eq!(refused("{ humidity-low = \"dry\", humidity-high = 65 }"), Some(ClimateError::Unread));
        assert_eq!(
            refused("{ humidity-low = 35, humidity-high = 65, temperature = \"warm\" }"),
            Some(ClimateError::Unread)
        );
        assert_eq!(refused("5"), Some(ClimateError::Unread));
        assert_eq!(refused("{ humidity-low = 35, humidity-high = 99 }"), Some(ClimateError::Humidity));
        assert_eq!(refused("{ humidity-low = 35, humidity-high = 65 }"), None);
    }

    proptest! {
        #[test]
        fn damper_air_is_damper_wood_and_warmer_air_is_drier(
            humidity in 5.0..94.0_f64, celsius in -1.0..45.0_f64
        ) {
            prop_assert!(emc(humidity + 1.0, celsius) > emc(humidity, celsius));
            // Below about 10 °C the fit is all but flat, and rises a little at first.
            let warmer = emc(humidity, celsius.max(10.0) + 5.0);
            prop_assert!(warmer < emc(humidity, celsius.max(10.0)));
        }
    }
}
