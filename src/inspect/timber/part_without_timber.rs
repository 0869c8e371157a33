//! A wooden part that does not say of which wood.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{Construction, Standing};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-without-timber",
    rank: Rank::Hint,
    why: "Movement, weight and what a shelf carries all follow from the timber, and materials identify a piece.",
    fix: "Say with `timber`, or `veneer` for a veneered part, which wood it is, or `unknown`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in &case.record.parts {
        let Some(build) = &part.build else { continue };
        let gone = [Standing::Removed, Standing::Missing].contains(&part.standing.value);
        let key = match build.value {
            Construction::Solid => "timber",
            Construction::Veneered if part.veneer.is_none() => "veneer",
            _ => continue,
        };
        if !gone && part.timber.is_none() {
            let message = format!("part `{}` is {}, and nothing says of which wood", part.id.0, build.word());
            let help = format!("add `{key} = \"white-oak\"`, or `{key} = \"unknown\"`");
            seen.push(case.at(&CODE, &build.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(keys: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"top\", name = \"Top\", {keys} }}]"))
    }

    #[test]
    fn solid_and_veneered_parts_are_asked() {
        assert_eq!(
            part("standing = \"new\", build = \"solid\""),
            "1: part `top` is solid, and nothing says of which wood [add `timber = \"white-oak\"`, or `timber = \"unknown\"`]"
        );
        assert!(part("standing = \"new\", build = \"veneered\"").contains("add `veneer = \"white-oak\"`"));
    }

    #[test]
    fn an_answer_another_build_or_a_part_that_is_gone() {
        for keys in [
            "standing = \"new\", build = \"solid\", timber = \"unknown\"",
            "standing = \"new\", build = \"veneered\", veneer = \"paper-birch\"",
            "standing = \"new\", build = \"glass\"",
            "standing = \"missing\", build = \"solid\"",
            "standing = \"new\"",
        ] {
            assert_eq!(part(keys), "", "{keys}");
        }
    }
}
