//! A wide solid part held fast across its grain, and nothing said about it.

use crate::derive::PartFacts;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "wide-part-held-fast",
    rank: Rank::Hint,
    why: "It wants to move with the seasons and cannot, so it may split; the buyer is cautioned, and should read why it is so.",
    fix: "Say in the part's `note` how it is held and why it was left so, or free it and write `held = \"free\"`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for PartFacts { part, movement, .. } in &case.facts.parts {
        let moves = movement.as_ref().and_then(|found| found.as_ref().ok());
        let fast = moves.filter(|found| found.held_fast).zip(part.held.as_ref());
        let Some((found, held)) = fast.filter(|_| part.note.is_none()) else { continue };
        let message = format!(
            "part `{}` is held fast across its grain and wants to move by up to {:.1} mm",
            part.id.0, found.most
        );
        let help = "say in its `note` how it is held and why, or free it";
        seen.push(case.at(&CODE, &held.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn lid(keys: &str) -> String {
        let keys = format!("build = \"solid\", timber = \"red-oak\", grain = \"length\", {keys}");
        sees(&RULE, &format!("part = [{{ id = \"lid\", name = \"Lid\", standing = \"original\", {keys} }}]"))
    }

    #[test]
    fn two_millimetres_are_wide() {
        assert_eq!(
            lid("held = \"fixed-across\", size = { width = 108 }"),
            "1: part `lid` is held fast across its grain and wants to move by up to 2.0 mm \
             [say in its `note` how it is held and why, or free it]"
        );
    }

    #[test]
    fn a_narrow_a_free_and_an_explained_part_are_quiet() {
        for keys in [
            "held = \"fixed-across\", size = { width = 107 }",
            "held = \"free\", size = { width = 500 }",
            "held = \"unknown\", size = { width = 500 }",
            "held = \"fixed-across\", size = { width = 500 }, note = \"Battened from the beginning.\"",
        ] {
            assert_eq!(lid(keys), "", "{keys}");
        }
    }
}
