//! A surface that lies on nothing and has no name.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "surface-without-parts",
    rank: Rank::Doubt,
    why: "Care and build-up are printed under the surface's name or its parts' names, and here there is neither.",
    fix: "Name the surface's `parts`, or give it a `name`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        if surface.parts.is_empty() && surface.name.is_none() {
            let message = "this surface has neither parts nor a name";
            seen.push(
                case.at(&CODE, &surface.span, message)
                    .help("add `parts = [\"…\"]` with the ids of its parts"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_name_is_enough() {
        assert_eq!(
            sees(&RULE, "surface = [{ found = \"shellac\" }]"),
            "1: this surface has neither parts nor a name [add `parts = [\"…\"]` with the ids of its parts]"
        );
        assert_eq!(sees(&RULE, "surface = [{ name = \"Outside\", found = \"shellac\" }]"), "");
    }
}
