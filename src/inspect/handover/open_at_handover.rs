//! Something still open on a piece that has left.

use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Record;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "open-at-handover",
    rank: Rank::Doubt,
    why: "Whoever has the piece by now reads on its papers that something is still to be done, and by nobody.",
    fix: "Do it and record the work, or move it to `[[undone]]` so that the buyer is told.",
};

/// What to do with something that is still open.
const SETTLE: &str = "record the work that settled it, or move it to `[[undone]]`";

/// What is still open in a record, for a handover that is to come.
pub fn still_open(path: &str, record: &Record) -> Vec<Diagnostic> {
    let open = record.open.iter().map(|open| {
        let message = format!("\"{}\" is still open", open.what.0);
        Diagnostic::new(&CODE, Place::at(path, &open.what.span), message).help(SETTLE)
    });
    open.collect()
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
