//! A surface that says neither what was found on it nor what was done.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "surface-without-layers",
    rank: Rank::Hint,
    why: "Care follows from the layers, and this surface has none that could be drawn.",
    fix: "Say with `found` what lies on it, or `unknown`; add the steps that were done.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        if surface.found.is_empty() && surface.steps.is_empty() {
            let help = "add `found = \"shellac\"`, or `found = \"unknown\"`";
            seen.push(case.at(&CODE, &surface.span, "nothing says what lies on this surface").help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn not_known_is_an_answer() {
        assert_eq!(
            sees(&RULE, "surface = [{ name = \"Top\" }]"),
            "1: nothing says what lies on this surface [add `found = \"shellac\"`, or `found = \"unknown\"`]"
        );
        assert_eq!(sees(&RULE, "surface = [{ name = \"Top\", found = \"unknown\" }]"), "");
        assert_eq!(sees(&RULE, "surface = [{ name = \"Top\", steps = [{ apply = \"shellac\" }] }]"), "");
    }
}
