//! Something still open on a piece that has left.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::day_book::Kind;
use crate::record::{Piece, Record};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "open-at-handover",
    rank: Rank::Doubt,
    why: "Whoever has the piece by now reads on its papers that something is still to be done, and by nobody.",
    fix: "Do it and record the work, or move it to `[[undone]]` so that the buyer is told.",
};

/// What to do with something that is still open.
const SETTLE: &str = "record the work that settled it, or move it to `[[undone]]`";

/// What to do with a plan of the day book.
const JOT: &str = "jot what was done since, or enter it as `[[undone]]`";

/// What is still open in a record and planned last in its day book, for a handover that is to come.
pub fn still_open(path: &str, piece: &Piece, record: &Record) -> Vec<Diagnostic> {
    let open = record.open.iter().map(|open| {
        let message = format!("\"{}\" is still open", open.what.0);
        Diagnostic::new(&CODE, Place::at(path, &open.what.span), message).help(SETTLE)
    });
    let planned = piece.jotted(record).into_iter().filter(|(_, kind)| *kind == Kind::Plan);
    let planned = planned.map(|(plan, _)| {
        let message = "the last plan of the day book is still open";
        Diagnostic::new(&CODE, Place::at(&plan.path, &plan.span), message).help(JOT)
    });
    open.chain(planned).collect()
}

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(on) = case.left_on() else { return };
    for open in &case.record.open {
        let message = format!("\"{}\" is still open, and the piece left on {on}", open.what.0);
        seen.push(case.at(&CODE, &open.what.span, message).help(SETTLE));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn handed_over(on: &str) -> String {
        sees(&RULE, &format!("open = [{{ what = \"fit felt under the feet\" }}]\nhandover = {{ on = {on} }}"))
    }

    #[test]
    fn today_is_handover_and_tomorrow_is_not() {
        assert_eq!(
            handed_over("2026-06-01"),
            "1: \"fit felt under the feet\" is still open, and the piece left on 2026-06-01 \
             [record the work that settled it, or move it to `[[undone]]`]"
        );
        assert_eq!(handed_over("2026-06-02"), "");
    }
}
