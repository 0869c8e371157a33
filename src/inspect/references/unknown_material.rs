//! A board or another material that is not in the tables.

use super::names::not_taken;
use crate::derive::{MissingInput, PartFacts};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::trade::{Taken, TradeRow, Words};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "unknown-material",
    rank: Rank::Doubt,
    why: "Weight and load follow from the material, and are left out where it is not known.",
    fix: "Write a board or material of the tables, or `unknown`; a trade name in the part's `note`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let (boards, timbers) = (case.trade.board_words(), case.trade.timber_words());
    for PartFacts { part, mass, .. } in &case.facts.parts {
        let (said, wrong) = match mass {
            Err(MissingInput::OtherBoard(word)) => {
                // Veneer lies on boards and on solid timber, so that a word of either is understood.
                let as_board = not_taken(word, &boards, "board", "");
                let as_timber = || not_taken(word, &timbers, "board or timber", AS_TYPED);
                let wrong = as_board.filter(|(_, help)| !help.is_empty()).or_else(as_timber);
                (part.ground.as_ref().or(part.timber.as_ref()), wrong)
            }
            Err(MissingInput::OtherMaterial(word)) => {
                let wrong = not_taken(word, &case.trade.material_words(), "material", AS_TYPED);
                let of_wood = if is_taken(&timbers, word) {
                    Some(format!("a timber is named with `timber = \"{word}\"`"))
                } else if is_taken(&boards, word) {
                    Some(format!("a board is named with `ground = \"{word}\"`"))
                } else {
                    None
                };
                let wrong = wrong.map(|(message, help)| match of_wood {
                    Some(of_wood) if help == AS_TYPED => (message, of_wood),
                    _ => (message, help),
                });
                (part.material.as_ref(), wrong)
            }
            _ => continue,
        };
        if let Some((said, (message, help))) = said.zip(wrong) {
            seen.push(case.at(&CODE, &said.span, message).help(help));
        }
    }
}

fn is_taken<R: TradeRow>(words: &Words<'_, R>, word: &str) -> bool {
    matches!(words.taken(word), Taken::Row(_) | Taken::Asked(_))
}

const AS_TYPED: &str = "it is printed as typed, and nothing is reckoned from it; write what it is in common words, or \"unknown\"";

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"a\", name = \"A\", standing = \"new\", {keys} }}]"))
    }

    #[test]
    fn a_slip_is_put_right() {
        assert_eq!(
            part("build = \"panel\", ground = \"plywod\""),
            "1: `plywod` is no board that is known here [write \"plywood\"]"
        );
        assert!(part("build = \"metal\", material = \"brasss\"").ends_with("[write \"brass\"]"));
        assert_eq!(
            part("build = \"metal\", material = \"elm\""),
            "1: `elm` is no material that is known here [a timber is named with `timber = \"elm\"`]"
        );
        assert!(
            part("build = \"veneered\", ground = \"cedar\"")
                .contains("may mean more than one board or timber [Which cedar")
        );
        assert!(
            part("build = \"panel\", ground = \"kelp board\"")
                .contains("is no board or timber that is known")
        );
    }

    #[test]
    fn known_ones_and_unknown_are_quiet() {
        for keys in [
            "build = \"panel\", ground = \"Plywood\"",
            "build = \"veneered\", ground = \"scots-pine\"",
            "build = \"panel\", ground = \"unknown\"",
            "build = \"stone\", material = \"marble\"",
            "build = \"metal\"",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
