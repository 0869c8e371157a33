//! A board or another material that is not in the tables.

use super::names::meant;
use crate::derive::{MissingInput, PartFacts};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "unknown-material",
    rank: Rank::Doubt,
    why: "Weight and load follow from the material, and are left out where it is not known.",
    fix: "Write a board or material of the tables, or `unknown`; a trade name in the part's `note`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let boards = case.trade.panel.boards.iter().map(|row| row.id.0.as_str());
    let boards: Vec<&str> =
        boards.chain(case.trade.timbers.rows.iter().map(|row| row.id.0.as_str())).collect();
    let materials: Vec<&str> = case.trade.density.materials.iter().map(|row| row.id.0.as_str()).collect();
    for PartFacts { part, mass, .. } in &case.facts.parts {
        let (said, known) = match mass {
            Err(MissingInput::OtherBoard(_)) => (part.ground.as_ref().or(part.timber.as_ref()), &boards),
            Err(MissingInput::OtherMaterial(_)) => (part.material.as_ref(), &materials),
            _ => continue,
        };
        let Some(said) = said else { continue };
        let help = meant(said, known)
            .unwrap_or_else(|| "write what it is in common words, or \"unknown\"".to_owned());
        seen.push(
            case.at(&CODE, &said.span, format!("the material `{}` is not known here", said.value)).help(help),
        );
    }
}

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
            "1: the material `plywod` is not known here [write \"plywood\"]"
        );
        assert!(part("build = \"metal\", material = \"brasss\"").ends_with("[write \"brass\"]"));
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
