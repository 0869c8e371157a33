//! Overhead reckoned by the hour and by percentage as well.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "overhead-twice",
    rank: Rank::Doubt,
    why: "Both would count the same rent and heat twice, so only the overhead by the hour is reckoned with.",
    fix: "Keep `overhead-per-hour` or `overhead-percent`.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(workshop) = &shop.folder.workshop else { return };
    let by_hour = workshop.overhead_per_hour.for_archive();
    if let (Some(_), Some(percent)) = (by_hour, workshop.overhead_percent.for_archive()) {
        let message = format!("overhead of {} percent beside one by the hour", percent.0);
        seen.push(shop.at(&CODE, &percent.span, message).help("leave out one of the two"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn by_the_hour_or_by_percentage() {
        let workshop = |lines: &str| sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\n{lines}"));
        assert_eq!(
            workshop("overhead-per-hour = 3\noverhead-percent = 12.5"),
            "workshop.toml 3: overhead of 12.5 percent beside one by the hour [leave out one of the two]"
        );
        assert_eq!(workshop("overhead-percent = 12.5"), "");
        assert_eq!(workshop("overhead-per-hour = 3"), "");
    }
}
