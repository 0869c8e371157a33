//! What a sealed record says today that it did not say when it was sealed.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::words::{Words, capital};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "changed-since-seal",
    rank: Rank::Hint,
    why: "The buyer holds papers of the sealed record, so each change to it is told on every paper written since.",
    fix: "Take it back if it was not meant; if it was, say why in `[[amendment]]`, or seal anew with `witnessmark handover`.",
};

/// Changes that are listed one by one.
const MOST: usize = 25;

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let words = Words::for_diagnostics();
    let amendments = &case.facts.amendments;
    for amendment in amendments.iter().take(MOST) {
        seen.push(Diagnostic::new(&CODE, amendment.place.clone(), capital(&words.say(&amendment.message))));
    }
    if let Some(more) = amendments.len().checked_sub(MOST).filter(|more| *more > 0) {
        let message = format!("and {more} more changes since the seal");
        seen.push(Diagnostic::new(&CODE, crate::diag::Place::file(&case.path), message));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{amended, sees};

    #[test]
    fn each_change_is_told_where_it_stands() {
        let was = "maker = \"A\"\nhours = 3";
        assert_eq!(sees(&RULE, &amended(was, "hours = 4\nmaker = \"B\"")), "2: Maker: “A” before, “B” now");
        assert_eq!(sees(&RULE, &amended(was, "hours = 4\nmaker = \"A\"")), "");
        assert_eq!(sees(&RULE, was), "");
    }

    #[test]
    fn many_changes_are_cut_and_counted() {
        let many: String =
            (0..30).map(|n| format!("[[undone]]\nwhat = \"x {n}\"\nwhy = \"too-worn\"\n")).collect();
        let told = sees(&RULE, &amended("", &many));
        assert_eq!(told.lines().count(), 26);
        assert!(told.contains("-: and 5 more changes since the seal"), "{told}");
    }
}
