//! Something still open on a piece that has left.

use super::{Case, Check, Rule};
use crate::diag::{Code, Diagnostic, Severity};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "open-at-handover",
    severity: Severity::Warning,
    why: "What is open is not printed for the buyer, who has the piece by now.",
    fix: "Do it and record the work, or move it to `[[undone]]` so that the buyer is told.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(on) = case.left_on() else { return };
    for open in &case.record.open {
        let message = format!("\"{}\" is still open, and the piece left on {on}", open.what.0);
        let help = "record the work that settled it, or move it to `[[undone]]`";
        seen.push(case.at(&CODE, &open.what.span, message).help(help));
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
