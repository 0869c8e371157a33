//! A piece made after it was found.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::unit::edtf::Bound;
use chrono::Datelike;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "made-after-found",
    rank: Rank::Doubt,
    why: "Years of making are compared with the dates of materials, and these cannot be right.",
    fix: "Correct `made`, or the day in `[found]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(made) = &case.record.made else { return };
    let found = case.record.found.for_archive().as_ref().and_then(|found| found.on.as_ref());
    let (by, what) = found.map_or((case.today, "today is"), |on| (on.value, "it was found on"));
    if let Bound::Year(earliest) = made.years().earliest
        && earliest > by.year()
    {
        let message = format!("made in {earliest} at the earliest, and {what} {by}");
        seen.push(case.at(&CODE, &made.span, message).help("correct the years of making"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn the_year_of_the_find_is_early_enough() {
        assert_eq!(
            sees(&RULE, "made = \"2025\"\nfound = { on = 2024-12-31 }"),
            "1: made in 2025 at the earliest, and it was found on 2024-12-31 [correct the years of making]"
        );
        assert_eq!(sees(&RULE, "made = \"2024/2030\"\nfound = { on = 2024-12-31 }"), "");
    }

    #[test]
    fn without_a_find_today_counts() {
        assert_ne!(sees(&RULE, "made = \"2027\""), "");
        assert_eq!(sees(&RULE, "made = \"2026\""), "");
    }
}
