//! Something called old that was hardly in use at the time that is claimed for it.

use super::doubt::doubts;
use crate::derive::dating::Plausibility;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-early-for-its-time",
    rank: Rank::Hint,
    why: "The first of a kind are rare in ordinary furniture, so a later part is the likelier reading; a word on how it is known would settle it.",
    fix: "Look again at the part and say with `how-known` why it is old, or correct its standing or the date.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    doubts(case, &CODE, Plausibility::Unlikely, seen);
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn screws(made: &str) -> String {
        sees(
            &RULE,
            &format!(
                "made = \"{made}\"\nfixing = [{{ kind = \"screw-crosshead\", standing = \"original\" }}]"
            ),
        )
    }

    #[test]
    fn the_year_of_common_use_is_late_enough() {
        assert_eq!(
            screws("1937"),
            "2: cross-head screws: first known in 1936 and not common before 1938, and `made` says 1937; evidence about \
             the part alone [write `standing = \"later\"`, or correct `made` if the part is beyond doubt]"
        );
        assert_ne!(screws("1900?"), "", "a date in doubt makes nothing impossible");
        assert_eq!(screws("1938"), "");
        assert_eq!(screws("1935"), "", "what did not exist is told by another rule");
    }
}
