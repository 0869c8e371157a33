//! A surface step on a part that is not of the surface.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "step-on-other-part",
    rank: Rank::Doubt,
    why: "The step would be drawn in the layers of parts that it was never done to.",
    fix: "Add the part to the surface's `parts`, or correct `only`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in case.record.surfaces.iter().filter(|surface| !surface.parts.is_empty()) {
        let on_surface = |id: &str| surface.parts.iter().any(|part| part.0 == id);
        for part in surface.steps.iter().flat_map(|step| step.only.iter()) {
            // A part that there is not is for another rule.
            if !on_surface(&part.0) && case.part(&part.0).is_some() {
                let message = format!("part `{}` is not of this surface", part.0);
                let help = format!("add \"{}\" to the surface's `parts`, or correct `only`", part.0);
                seen.push(case.at(&CODE, &part.span, message).help(help));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn only(part: &str) -> String {
        let parts = "part = [{ id = \"top\", name = \"Top\", standing = \"new\" }, { id = \"leg\", name = \"Leg\", standing = \"new\" }]";
        sees(
            &RULE,
            &format!(
                "{parts}\nsurface = [{{ parts = \"top\", steps = [{{ clean = \"water\", only = \"{part}\" }}] }}]"
            ),
        )
    }

    #[test]
    fn a_leg_is_not_of_the_top() {
        assert_eq!(
            only("leg"),
            "2: part `leg` is not of this surface [add \"leg\" to the surface's `parts`, or correct `only`]"
        );
        assert_eq!(only("top"), "");
        assert_eq!(only("nothing"), "");
    }
}
