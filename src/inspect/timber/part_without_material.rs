//! A part of metal or stone that does not say of which.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{Construction, Standing};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-without-material",
    rank: Rank::Hint,
    why: "Weight follows from the material, materials identify a piece, and `build` keeps no more than that it is metal or stone, whatever was written.",
    fix: "Say with `material` which metal or stone it is, or `unknown`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in &case.record.parts {
        let Some(build) = &part.build else { continue };
        let gone = [Standing::Removed, Standing::Missing].contains(&part.standing.value);
        let example = match build.value {
            Construction::Metal => "brass",
            Construction::Stone => "marble",
            _ => continue,
        };
        if !gone && part.material.is_none() {
            let message = format!("part `{}` is of {}, and nothing says of which", part.id.0, build.word());
            let help = format!("add `material = \"{example}\"`, or `material = \"unknown\"`");
            seen.push(case.at(&CODE, &build.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"rail\", name = \"Rail\", {keys} }}]"))
    }

    #[test]
    fn metal_and_stone_are_asked_for_their_kind() {
        assert_eq!(
            part("standing = \"new\", build = \"brass\""),
            "1: part `rail` is of metal, and nothing says of which [add `material = \"brass\"`, or `material = \"unknown\"`]"
        );
        assert!(part("standing = \"new\", build = \"stone\"").contains("add `material = \"marble\"`"));
    }

    #[test]
    fn an_answer_another_build_or_a_part_that_is_gone() {
        for keys in [
            "standing = \"new\", build = \"metal\", material = \"unknown\"",
            "standing = \"new\", build = \"metal\", material = \"brass\"",
            "standing = \"new\", build = \"glass\"",
            "standing = \"missing\", build = \"metal\"",
            "standing = \"new\"",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
