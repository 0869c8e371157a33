//! A tin whose label times cannot follow each other.

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::{Figure, Range, Said};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "tin-times-upside-down",
    rank: Rank::Doubt,
    why: "Days on the care sheet are worked out from these times, and would come out in the wrong order.",
    fix: "Read the label again: dust-dry comes before light use, light use before fully hard; mind hours and days.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let tins = shop.folder.workshop.iter().flat_map(|workshop| &workshop.tins);
    for tin in tins {
        let time = |key: &'static str, said: &Option<Said<Range>>, hours: f64| {
            let said = said.as_ref()?;
            Some(Time { key, span: said.span.clone(), low: said.low * hours, high: said.high * hours })
        };
        let one = |key: &'static str, said: &Option<Said<Figure>>| {
            let said = said.as_ref()?;
            Some(Time { key, span: said.span.clone(), low: said.0, high: said.0 })
        };
        let drying = [
            time("dust-dry-hours", &tin.dust_dry_hours, 1.0),
            time("light-use-days", &tin.light_use_days, 24.0),
            time("full-cure-days", &tin.full_cure_days, 24.0),
        ];
        let recoating = [
            time("recoat-hours", &tin.recoat_hours, 1.0).map(|time| Time { high: time.low, ..time }),
            one("recoat-within-hours", &tin.recoat_within_hours),
        ];
        for order in [drying.to_vec(), recoating.to_vec()] {
            let known: Vec<Time> = order.into_iter().flatten().collect();
            for pair in
                known.windows(2).filter(|pair| pair[0].low > pair[1].low || pair[0].high > pair[1].high)
            {
                let message =
                    format!("tin `{}`: its `{}` end before its `{}`", tin.id.0, pair[1].key, pair[0].key);
                let help = format!("read the label again: `{}` counts in {}", pair[1].key, unit(pair[1].key));
                seen.push(shop.at(&CODE, &pair[1].span, message).help(help));
            }
        }
    }
}

/// A time on a label, in hours.
#[derive(Clone)]
struct Time {
    key: &'static str,
    span: std::ops::Range<usize>,
    low: f64,
    high: f64,
}

fn unit(key: &str) -> &'static str {
    if key.ends_with("days") { "days" } else { "hours" }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn tin(times: &str) -> String {
        sees(
            &RULE,
            &format!(
                "#- workshop.toml\nname = \"Bench\"\ntin = [{{ id = \"satin\", is = \"oil-polyurethane\", {times} }}]"
            ),
        )
    }

    #[test]
    fn hours_in_the_place_of_days() {
        assert_eq!(
            tin("light-use-days = [72, 120], full-cure-days = [21, 28]"),
            "workshop.toml 2: tin `satin`: its `full-cure-days` end before its `light-use-days` \
             [read the label again: `full-cure-days` counts in days]"
        );
        assert_eq!(tin("light-use-days = [3, 5], full-cure-days = [3, 5]"), "");
        assert_eq!(tin("dust-dry-hours = [24, 48], light-use-days = [1, 2]"), "");
        assert_ne!(tin("dust-dry-hours = [24, 49], light-use-days = [1, 2]"), "");
        assert_ne!(tin("dust-dry-hours = 700, full-cure-days = 21"), "");
    }

    #[test]
    fn a_window_that_closes_before_it_opens() {
        assert_eq!(
            tin("recoat-hours = [12, 24], recoat-within-hours = 11"),
            "workshop.toml 2: tin `satin`: its `recoat-within-hours` end before its `recoat-hours` \
             [read the label again: `recoat-within-hours` counts in hours]"
        );
        assert_eq!(tin("recoat-hours = [12, 24], recoat-within-hours = 12"), "");
    }
}
