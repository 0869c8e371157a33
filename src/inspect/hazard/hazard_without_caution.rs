//! A hazard that a test confirmed, and no word on it to the buyer.

use crate::derive::{Implied, TestReading};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::trade::{Hazard, Readers};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "hazard-without-caution",
    rank: Rank::Doubt,
    why: "A test showed that it is there, and the buyer is told only the usual caution, not where it is on this piece and what was done about it.",
    fix: "Say it in `cautions` of `[use]`, or in the `effect` of what was left.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for implied in case.facts.hazards.iter().filter(|implied| implied.reading == TestReading::Positive) {
        let rows: Vec<&Hazard> = implied.rows.iter().filter_map(|id| case.trade.hazard(id)).collect();
        let concerns_buyer = rows.iter().any(|row| row.readers.value != Readers::Bench);
        let is_told = !implied.cautions.is_empty() || !implied.effects.is_empty();
        if !concerns_buyer || is_told {
            continue;
        }
        let Some(row) = rows.first() else { continue };
        let message =
            format!("{} was found by a test, and the buyer is told nothing of it", row.name.to_lowercase());
        let help = "add to `[use]` a line in `cautions` that says where it is and what to leave alone";
        seen.push(at(case, implied, message).help(help));
    }
}

/// A diagnostic at the test that was positive.
fn at(case: &Case<'_>, implied: &Implied, message: String) -> Diagnostic {
    let positive =
        |of: &str| implied.tests.iter().any(|test| test.of == of && test.reading == TestReading::Positive);
    let tests = case.record.tests.iter().filter(|test| positive(&test.of)).map(|test| &test.span);
    let steps = case.record.surfaces.iter().flat_map(|surface| &surface.steps);
    let steps = steps.filter(|step| step.test.as_ref().is_some_and(|of| positive(of))).map(|step| &step.span);
    match tests.chain(steps).next() {
        Some(span) => case.at(&CODE, span, message),
        None => case.whole(&CODE, message),
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn record(result: &str, rest: &str) -> String {
        sees(&RULE, &format!("test = [{{ of = \"lead\", result = \"{result}\" }}]\n{rest}"))
    }

    #[test]
    fn what_a_test_found_is_told() {
        assert_eq!(
            record("positive", "use = { cautions = [\"Do not stand on it.\"] }"),
            "1: lead in old paint was found by a test, and the buyer is told nothing of it \
             [add to `[use]` a line in `cautions` that says where it is and what to leave alone]"
        );
        assert_eq!(record("positive", "use = { cautions = [\"There is lead in the oldest paint.\"] }"), "");
        assert_eq!(record("negative", ""), "");
        assert_eq!(record("not-tested", ""), "");
    }
}
