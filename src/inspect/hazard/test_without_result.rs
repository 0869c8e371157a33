//! A test on a surface that does not say what it showed.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "test-without-result",
    rank: Rank::Doubt,
    why: "A test without its result is worse than none: a buyer will read it as a clean one.",
    fix: "Say with `result` what the test showed, or `not-tested`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for step in case.record.surfaces.iter().flat_map(|surface| &surface.steps) {
        if let (Some(test), None) = (&step.test, &step.result) {
            let message = format!("the test \"{}\" does not say what it showed", test.0);
            let help = "add `result = \"negative\"` or what it was, or `result = \"not-tested\"`";
            seen.push(case.at(&CODE, &test.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn not_tested_is_a_result() {
        assert_eq!(
            sees(&RULE, "surface = [{ steps = [{ test = \"lead swab\" }] }]"),
            "1: the test \"lead swab\" does not say what it showed \
             [add `result = \"negative\"` or what it was, or `result = \"not-tested\"`]"
        );
        assert_eq!(sees(&RULE, "surface = [{ steps = [{ test = \"lead\", result = \"not-tested\" }] }]"), "");
    }
}
