//! Something called old that did not exist yet at the time that is claimed for it.

use super::doubt::doubts;
use crate::derive::dating::Plausibility;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-before-its-time",
    rank: Rank::Doubt,
    why: "A part or fixing cannot be older than the first of its kind, so it, or the date, is later than said; buyers and dealers look for just this.",
    fix: "Look again at the part: `later` or `old-repair` may be the truth. Or widen `made`, or `since`, if the date was only a guess.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    doubts(case, &CODE, Plausibility::Impossible, seen);
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(more: &str) -> String {
        sees(&RULE, &format!("made = \"1900/1924~\"\npart = [{{ id = \"back\", name = \"Back\", {more} }}]"))
    }

    fn screws(made: &str, standing: &str) -> String {
        sees(
            &RULE,
            &format!(
                "made = \"{made}\"\nfixing = [{{ kind = \"screw-crosshead\", standing = \"{standing}\" }}]"
            ),
        )
    }

    #[test]
    fn screws_of_1936_in_a_piece_of_1935() {
        assert_eq!(
            screws("1935", "original"),
            "2: cross-head screws: not known before 1936, and `made` says 1935; evidence about the part alone \
             [write `standing = \"later\"`, or correct `made` if the part is beyond doubt]"
        );
        assert_eq!(screws("1936", "original"), "");
        assert_eq!(screws("1935?", "original"), "");
        assert_eq!(screws("1900/..", "original"), "");
    }

    #[test]
    fn only_what_is_called_old_is_doubted() {
        for standing in ["later", "new", "salvaged", "unknown", "old-repair"] {
            assert_eq!(screws("1935", standing), "", "{standing}");
        }
    }

    #[test]
    fn boards_behind_an_old_mirror() {
        assert_eq!(
            part("standing = \"original\", ground = \"mdf\""),
            "2: MDF in `back`: not known before 1966, and `made` says 1900/1924~; evidence about the part alone \
             [write `standing = \"later\"`, or correct `made` if the part is beyond doubt]"
        );
        // Hardboard is of 1924, and about 1924 reaches to 1934.
        assert_eq!(part("standing = \"original\", ground = \"hardboard\""), "");
    }

    #[test]
    fn an_old_repair_is_held_against_its_own_year() {
        let repair =
            |since: &str| part(&format!("standing = \"old-repair\", since = \"{since}\", ground = \"mdf\""));
        assert_eq!(
            repair("1964"),
            "2: MDF in `back`: not known before 1966, and `since` says 1964; evidence about the part alone \
             [write `standing = \"later\"`, or correct `since` if the part is beyond doubt]"
        );
        assert_eq!(repair("1966"), "");
    }
}
