//! Work and jotted lines of one day, each with hours.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "day-counted-twice",
    rank: Rank::Doubt,
    why: "A line of the day book counts as work by itself, so that work which the record tells as well has its hours counted twice.",
    fix: "Say in the work with `from-daybook` which line it comes from, or take the time out of one of the two.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let timed = case.record.works.iter().filter(|work| work.hours.for_archive().is_some());
    let timed: Vec<_> = timed
        .filter(|work| work.from_daybook.for_archive().is_empty())
        .filter_map(|work| Some((work.on.as_ref()?.value, work)))
        .collect();
    for jotting in &case.facts.day_book.works {
        let Some(minutes) = *jotting.minutes.for_archive() else { continue };
        let Some((on, work)) = timed.iter().find(|(on, _)| Some(*on) == jotting.on) else { continue };
        // Two things may well have been done on a day; of one, both tell about the same time.
        let hours = work.hours.for_archive().as_ref().map(|hours| hours.value.count()).unwrap_or_default();
        if hours * rust_decimal::Decimal::from(60) != rust_decimal::Decimal::from(minutes) {
            continue;
        }
        let message = format!("this line and a work of {on} tell the same time, and both count");
        let help = format!(
            "if they are one, write in that work\nfrom-daybook = {}",
            toml::Value::from(jotting.name.for_archive().as_str())
        );
        seen.push(Diagnostic::new(&CODE, Place::at(&jotting.path, &jotting.span), message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn told(work: &str) -> usize {
        let text = format!(
            "work = [{{ on = 2026-03-11, did = \"x\", {work} }}]\n#- pieces/table/daybook.txt\n2026-03-11 glued it, 1.5h"
        );
        sees(&RULE, &text).lines().count()
    }

    #[test]
    fn the_same_time_on_the_same_day_is_doubted_until_it_is_linked() {
        assert_eq!(told("hours = 1.5"), 1);
        assert_eq!(told("hours = 2"), 0);
        assert_eq!(told("hours = 1.5, from-daybook = \"2026-03-11 glued it, 1.5h\""), 0);
    }
}
