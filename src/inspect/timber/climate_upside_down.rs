//! A room whose driest air is not drier than its dampest.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "climate-upside-down",
    rank: Rank::Doubt,
    why: "Movement of the timber is worked out between the two, and here there is nothing between them.",
    fix: "Put the heating season's humidity in `humidity-low` and the dampest season's in `humidity-high`.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let climate = shop.folder.workshop.as_ref().and_then(|workshop| workshop.climate.as_ref());
    let Some(climate) = climate else { return };
    let (low, high) = (climate.humidity_low.value.0, climate.humidity_high.value.0);
    if low >= high {
        let message = format!("the lowest humidity is {low} %, and the highest {high} %");
        let help = "write the dry season first, such as `humidity-low = 35` and `humidity-high = 65`";
        seen.push(shop.at(&CODE, &climate.humidity_low.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn room(low: u32, high: u32) -> String {
        sees(
            &RULE,
            &format!(
                "#- workshop.toml\nname = \"Bench\"\nclimate = {{ humidity-low = {low}, humidity-high = {high} }}"
            ),
        )
    }

    #[test]
    fn one_percent_is_a_difference() {
        assert_eq!(
            room(65, 35),
            "workshop.toml 2: the lowest humidity is 65 %, and the highest 35 % \
             [write the dry season first, such as `humidity-low = 35` and `humidity-high = 65`]"
        );
        assert_ne!(room(45, 45), "");
        assert_eq!(room(44, 45), "");
    }
}
