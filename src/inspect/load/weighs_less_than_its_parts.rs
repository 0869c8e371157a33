//! A piece that weighs less than its parts can.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::unit::MassSpan;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "weighs-less-than-its-parts",
    rank: Rank::Doubt,
    why: "Either the scale or a size is wrong, and how many people lift it follows from them.",
    fix: "Weigh it again, or correct the sizes, counts and timbers; a hollow part needs its `wall`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(weighs) = &case.record.weighs else { return };
    let there = case.facts.parts.iter().filter(|facts| facts.part.present());
    let there = there.filter_map(|facts| facts.mass.as_ref().ok());
    let parts: MassSpan = there.map(|mass| mass.all).sum();
    if weighs.value < parts.low {
        let message = format!(
            "the piece weighs {} kg, and its parts alone at least {:.1} kg",
            weighs.kg(),
            parts.low.kg()
        );
        seen.push(
            case.at(&CODE, &weighs.span, message).help("weigh it again, or correct the sizes of its parts"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn weighs(kg: f64) -> String {
        let part = "{ id = \"a\", name = \"A\", standing = \"new\", build = \"glass\", \
                    size = { length = 1000, width = 1000, thick = 4 } }";
        let gone = part.replace("\"a\"", "\"b\"").replace("new", "removed");
        sees(&RULE, &format!("weighs = {kg}\npart = [{part}, {gone}]"))
    }

    #[test]
    fn a_pane_of_ten_kilograms() {
        assert_eq!(
            weighs(9.9),
            "1: the piece weighs 9.9 kg, and its parts alone at least 10.0 kg \
             [weigh it again, or correct the sizes of its parts]"
        );
        assert_eq!(weighs(10.0), "");
    }
}
