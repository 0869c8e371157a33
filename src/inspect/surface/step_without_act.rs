//! A surface step that did nothing.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "step-without-act",
    rank: Rank::Mistake,
    why: "The layers on a surface are worked out from its steps, and this one says nothing that was done.",
    fix: "Say one of `clean`, `test`, `remove`, `abrade` and `apply`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for step in case.record.surfaces.iter().flat_map(|surface| &surface.steps) {
        if step.acts().is_empty() {
            let message = "this step does not say what was done";
            let help =
                "add one of `clean`, `test`, `remove`, `abrade` and `apply`, such as `apply = \"shellac\"`";
            seen.push(case.at(&CODE, &step.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_date_alone_is_no_step() {
        assert_eq!(
            sees(
                &RULE,
                "surface = [{ steps = [\n  { clean = \"water\" },\n  { on = 2026-03-01, abrade = [] },\n] }]"
            ),
            "3: this step does not say what was done [add one of `clean`, `test`, `remove`, `abrade` and `apply`, \
             such as `apply = \"shellac\"`]"
        );
    }

    #[test]
    fn one_grit_is_a_step() {
        assert_eq!(sees(&RULE, "surface = [{ steps = [{ abrade = \"P240\" }] }]"), "");
    }
}
