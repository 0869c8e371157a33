//! A surface step that did several things at once.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::quoted;
use crate::inspect::{Case, Check, Rule};
use crate::record::Act;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "step-with-two-acts",
    rank: Rank::Mistake,
    why: "The layers on a surface depend on the order of what was done, and one step with two acts has no order.",
    fix: "Write two steps, the earlier one first.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for step in case.record.surfaces.iter().flat_map(|surface| &surface.steps) {
        let acts = step.acts();
        if acts.len() > 1 {
            let message = format!("this step says {} at once", quoted(acts.iter().map(word)));
            let help = "write a step for each, in the order in which they were done";
            seen.push(case.at(&CODE, &step.span, message).help(help));
        }
    }
}

fn word(act: &Act<'_>) -> &'static str {
    match act {
        Act::Clean(_) => "clean",
        Act::Test(_) => "test",
        Act::Remove(_) => "remove",
        Act::Abrade(_) => "abrade",
        Act::Apply(_) => "apply",
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn two_acts_have_no_order() {
        assert_eq!(
            sees(&RULE, "surface = [{ steps = [{ apply = \"shellac\", abrade = \"P400\" }] }]"),
            "1: this step says `abrade`, `apply` at once \
             [write a step for each, in the order in which they were done]"
        );
    }

    #[test]
    fn abrading_between_coats_belongs_to_one_step() {
        let step = "{ apply = \"shellac\", coats = 3, abrade-between = \"P400\" }";
        assert_eq!(sees(&RULE, &format!("surface = [{{ steps = [{step}] }}]")), "");
    }
}
