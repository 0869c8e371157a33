//! A test for something harmful whose result says neither that it is there nor that it is not.

use crate::derive::{Implied, TestReading, TestRow, Tested};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{NOT_TESTED, UNKNOWN};
use crate::trade::Hazard;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "result-not-understood",
    rank: Rank::Doubt,
    why: "A result that cannot be read is taken as no result, so that the papers go on warning of what was tested.",
    fix: "Begin `result` with `positive` or `negative`, and say the rest after it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for implied in case.facts.hazards.iter().filter(|implied| !looks_for_what_is_safe(case, implied)) {
        for test in implied.tests.iter().filter(|test| is_not_understood(test)) {
            let span = match &test.row {
                TestRow::Test(row) => &row.span,
                TestRow::Step(row) => &row.span,
            };
            let message = format!("the result \"{}\" does not say whether it was found", test.result);
            let help = "begin it with `positive` or `negative`, such as `result = \"positive: 0.3 %\"`";
            seen.push(case.at(&CODE, span, message).help(help));
        }
    }
}

fn is_not_understood(test: &Tested) -> bool {
    let result = test.result.trim();
    test.reading == TestReading::Open && !["", NOT_TESTED, UNKNOWN].contains(&result)
}

/// Whether the tests look for what makes it safe, as for a label: where that is missing, nothing is known.
fn looks_for_what_is_safe(case: &Case<'_>, implied: &Implied) -> bool {
    let mut rows = implied.rows.iter().filter_map(|id| case.trade.hazard(id));
    rows.any(|row: &Hazard| row.sought.as_ref().is_some_and(|sought| sought.value))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn tested(result: &str) -> String {
        let part = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]";
        let test = format!("test = [{{ of = \"lead\", part = \"a\", result = \"{result}\" }}]");
        sees(&RULE, &format!("{part}\nsurface = [{{ parts = \"a\", found = \"old-finish\" }}]\n{test}"))
    }

    #[test]
    fn a_result_says_whether_it_was_found() {
        assert_eq!(
            tested("0.3 %"),
            "3: the result \"0.3 %\" does not say whether it was found \
             [begin it with `positive` or `negative`, such as `result = \"positive: 0.3 %\"`]"
        );
        for result in ["positive: 0.3 %", "negative", "none found", "not-tested", "unknown"] {
            assert_eq!(tested(result), "", "{result}");
        }
    }
}
