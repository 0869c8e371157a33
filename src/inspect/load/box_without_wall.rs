//! A part with the outline of a box that does not say how thick its walls are.

use crate::derive::{MissingInput, PartFacts};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "box-without-wall",
    rank: Rank::Hint,
    why: "Taken as a solid block it would weigh many times what it does, so it is left out of the weight.",
    fix: "Add `wall`, the thickness of its sides in millimetres; half of its own for a block that is indeed solid.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for PartFacts { part, mass, .. } in &case.facts.parts {
        let (Some(size), true) = (&part.size, part.present()) else { continue };
        if *mass == Err(MissingInput::Wall) {
            let message = format!(
                "part `{}` has the outline of a box, and nothing says how thick its walls are",
                part.id.0
            );
            seen.push(case.at(&CODE, &size.span, message).help("add `wall = 10`, with their thickness"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"d\", name = \"D\", timber = \"european-oak\", {keys} }}]"))
    }

    #[test]
    fn a_drawer_is_no_block() {
        assert_eq!(
            part("standing = \"new\", size = { length = 330, width = 260, thick = 75 }"),
            "1: part `d` has the outline of a box, and nothing says how thick its walls are \
             [add `wall = 10`, with their thickness]"
        );
        let thin = "standing = \"new\", size = { length = 330, width = 260, thick = 40 }, opens = { as = \"drawer\" }";
        assert!(part(thin).contains("outline of a box"));
    }

    #[test]
    fn a_plank_a_post_a_box_with_walls_and_one_that_is_gone() {
        for keys in [
            "standing = \"new\", size = { length = 330, width = 260, thick = 74 }",
            "standing = \"new\", size = { length = 900, width = 149, thick = 149 }",
            "standing = \"new\", size = { length = 330, width = 260, thick = 95, wall = 9 }",
            "standing = \"missing\", size = { length = 330, width = 260, thick = 95 }",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
