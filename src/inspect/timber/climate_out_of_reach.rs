//! A room too dry, too damp or too cold for the equation of moisture in wood.

use crate::derive::{ClimateError, equilibrium};
use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Celsius;
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "climate-out-of-reach",
    rank: Rank::Doubt,
    why: "The equation for moisture in wood holds from 5 to 95 % humidity and above freezing, so no movement is given.",
    fix: "Write the humidity and temperature of rooms in which furniture stands.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let climate = shop.folder.workshop.as_ref().and_then(|workshop| workshop.climate.as_ref());
    let Some(climate) = climate else { return };
    let temperature = climate.temperature.as_ref().map_or(Celsius(20.0), |said| said.value);
    for humidity in [&climate.humidity_low, &climate.humidity_high] {
        let span = match (equilibrium(humidity.value, temperature, &shop.trade.climate), &climate.temperature)
        {
            (Ok(_), _) => continue,
            (Err(ClimateError::Temperature), Some(said)) => &said.span,
            (Err(_), _) => &humidity.span,
        };
        let message = "no moisture of wood is known for such a room";
        seen.push(
            shop.at(&CODE, span, message)
                .help("humidity lies between 5 and 95 %, temperature above freezing"),
        );
    }
    // Of a cold room both humidities tell the same.
    seen.dedup();
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn room(low: u32, high: u32, celsius: i32) -> String {
        let climate = format!("{{ humidity-low = {low}, humidity-high = {high}, temperature = {celsius} }}");
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\nclimate = {climate}"))
    }

    const SEEN: &str = "workshop.toml 2: no moisture of wood is known for such a room \
                        [humidity lies between 5 and 95 %, temperature above freezing]";

    #[test]
    fn beyond_the_equation() {
        assert_eq!(room(35, 96, 20), SEEN);
        assert_eq!(room(4, 65, 20), SEEN);
        assert_eq!(room(35, 65, -2), SEEN);
    }

    #[test]
    fn at_its_ends() {
        assert_eq!(room(5, 95, -1), "");
    }
}
