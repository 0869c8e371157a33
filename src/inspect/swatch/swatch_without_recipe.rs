//! A colour match of which nothing says how it was made.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "swatch-without-recipe",
    rank: Rank::Hint,
    why: "The number says how close the colour came, and the next time the recipe is what is wanted.",
    fix: "Name the `surface` by its number, and write its stain as a step with `apply` and `mix`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        if seen_as.recipe.is_empty() {
            let (message, help) = match &seen_as.surface {
                Some(_) => (
                    "no step of its surface colours it",
                    "write what was laid as a step with `apply`, and with `mix = [{ of = \"…\", parts = 3 }]` where it was mixed",
                ),
                None => (
                    "this colour is for no surface of the record",
                    "add `surface = 1`, counted in the order of the record",
                ),
            };
            seen.push(case.at(&CODE, &seen_as.swatch.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{sees, swatch};

    fn surface(steps: &str) -> String {
        sees(
            &RULE,
            &format!("{}\nsurface = [{{ name = \"Top\", steps = [{steps}] }}]", swatch("surface = 1")),
        )
    }

    #[test]
    fn a_stain_or_a_mix_is_a_recipe() {
        let help = "write what was laid as a step with `apply`, and with `mix = [{ of = \"…\", parts = 3 }]` where it was mixed";
        let none = format!("1: no step of its surface colours it [{help}]");
        assert_eq!(surface("{ apply = \"oil-polyurethane\" }"), none);
        // What was taken off again made no colour.
        assert_eq!(surface("{ apply = \"oil-pigment-stain\" }, { remove = \"all\" }"), none);
        assert_eq!(surface("{ apply = \"oil-pigment-stain\" }"), "");
        assert_eq!(surface("{ apply = \"oil-polyurethane\", mix = [{ of = \"umber\", parts = 1 }] }"), "");
        assert_eq!(
            sees(&RULE, &swatch("")),
            "1: this colour is for no surface of the record [add `surface = 1`, counted in the order of the record]"
        );
    }
}
