//! Work on a piece that was not there yet.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "work-before-found",
    rank: Rank::Doubt,
    why: "The days from found to handed over are counted, and the dates contradict each other.",
    fix: "Correct the day in `[found]`, or the date of the work.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let found = case.record.found.for_archive().as_ref();
    let Some(found) = found.and_then(|found| found.on.as_ref()) else { return };
    let first = case.dated().min_by_key(|dated| dated.on.value);
    if let Some(first) = first.filter(|first| first.on.value < found.value) {
        let message =
            format!("{} of {}, before the piece was found on {}", first.what, first.on.value, found.value);
        seen.push(case.at(&CODE, &first.on.span, message).help("correct one of the two dates"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn work(on: &str) -> String {
        sees(
            &RULE,
            &format!(
                "found = {{ on = 2026-03-04 }}\ntest = [{{ of = \"lead\", on = {on}, result = \"negative\" }}]"
            ),
        )
    }

    #[test]
    fn tested_on_the_day_it_came() {
        assert_eq!(
            work("2026-03-03"),
            "2: a test of 2026-03-03, before the piece was found on 2026-03-04 [correct one of the two dates]"
        );
        assert_eq!(work("2026-03-04"), "");
    }
}
