//! Something that came after the piece had left, from before that day.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "after-before-leaving",
    rank: Rank::Doubt,
    why: "What happened before a piece left is part of its papers, and `[[after]]` stands in none that a buyer reads.",
    fix: "Correct the day, say on which day it left, or tell it as a work, a finding or a call-back.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let left = case.piece.days_of_leaving().first().copied();
    for after in case.record.after.for_archive() {
        let (message, help) = match left {
            Some(left) if after.on.value >= left => continue,
            Some(left) => (
                format!("this is of {}, and the piece left on {left}", after.on.value),
                "correct the day; what was done before belongs in `[[work]]`",
            ),
            None => (
                "no day says that the piece has left".to_owned(),
                "write the day as `on` in `[handover]`, or tell it as `[[work]]` or `[[open]]`",
            ),
        };
        seen.push(case.at(&CODE, &after.on.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    const CALL: &str = "after = [{ on = 2026-03-14, what = \"call\" }]\n";

    #[test]
    fn the_day_it_left_is_late_enough() {
        let left = |on: &str| sees(&RULE, &format!("{CALL}handover = {{ on = {on} }}"));
        assert_eq!(left("2026-03-14"), "");
        assert_eq!(
            left("2026-03-15"),
            "1: this is of 2026-03-14, and the piece left on 2026-03-15 \
             [correct the day; what was done before belongs in `[[work]]`]"
        );
    }

    #[test]
    fn a_piece_that_is_still_here_has_no_after() {
        assert_eq!(
            sees(&RULE, CALL),
            "1: no day says that the piece has left [write the day as `on` in `[handover]`, or tell it as `[[work]]` \
             or `[[open]]`]"
        );
    }
}
