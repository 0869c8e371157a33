//! A test of an old coat that found no lead, and by its means cannot clear it.

use crate::derive::{Implied, OldCoat, TestReading, TestRow, Tested};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::trade::TestMeans;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "test-clears-nothing",
    rank: Rank::Hint,
    why: "A rub of the surface misses lead below the top coat, so that the papers tell of the test and go on warning.",
    fix: "Have a chip through all coats analysed in a laboratory, or X-ray read through all coats, and say so in `by`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let mut told: Vec<&TestRow> = Vec::new();
    let open = |coat: &&OldCoat| coat.reading == TestReading::Open;
    for coat in case.facts.hazards.iter().flat_map(Implied::coats).filter(open) {
        for test in coat.tests.iter().filter(|test| test.reading == TestReading::Negative) {
            if told.contains(&&test.row) {
                continue;
            }
            told.push(&test.row);
            let span = match &test.row {
                TestRow::Test(row) => &row.span,
                TestRow::Step(row) => &row.span,
            };
            let message = format!("the test \"{}\" found no lead, but {}", test.of, lacks(test));
            let help = "where it was a laboratory or X-ray through all coats, say so in `by`";
            seen.push(case.at(&CODE, span, message).help(help));
        }
    }
}

/// What a test lacks to clear an old coat.
fn lacks(test: &Tested) -> &'static str {
    match test.means {
        Some(TestMeans::Rub) => "a rub clears no coat below the top one",
        None => "by what means is not said, so that it clears nothing",
        Some(_) if !test.through => "nothing says that it went through all coats",
        Some(TestMeans::XRay) if !test.by_weight => {
            "X-ray by area clears no coat that may be clear: it takes a share of weight"
        }
        Some(_) => "it does not reach all the parts that the coat lies on",
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn tested(by: &str) -> String {
        let part = "part = [{ id = \"a\", name = \"Top\", standing = \"original\" }]";
        let test = format!("test = [{{ of = \"lead\", by = \"{by}\", result = \"negative\" }}]");
        sees(&RULE, &format!("{part}\nsurface = [{{ parts = \"a\", found = \"old-finish\" }}]\n{test}"))
    }

    #[test]
    fn a_rub_clears_nothing_and_a_laboratory_says_how_deep_it_went() {
        assert_eq!(
            tested("swab"),
            "3: the test \"lead\" found no lead, but a rub clears no coat below the top one \
             [where it was a laboratory or X-ray through all coats, say so in `by`]"
        );
        for by in ["by eye", "laboratory", "X-ray through all coats"] {
            assert_ne!(tested(by), "", "{by}");
        }
        for by in ["laboratory, through all coats", "X-ray through all coats, in ppm"] {
            assert_eq!(tested(by), "", "{by}");
        }
    }
}
