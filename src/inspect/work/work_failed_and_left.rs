//! Work that did not turn out, and was neither done again nor declared undone.

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Said;
use crate::inspect::{Case, Check, Rule};
use crate::record::{FindingId, Outcome, Work};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "work-failed-and-left",
    rank: Rank::Doubt,
    why: "A repair that failed and is still in the piece is what a buyer most needs to know.",
    fix: "Record the later work with `redoes`, or say in `[[undone]]` what is left and what it means for the buyer.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let works = &case.record.works;
    for (place, work) in works.iter().enumerate() {
        let Some(outcome) = &work.turned_out else { continue };
        let short = [Outcome::Failed, Outcome::Partly].contains(&outcome.value);
        let again = works[place + 1..].iter().any(|later| again(later, work)) || redone(case, work);
        if short && !again && !left(case, work) {
            let message = match outcome.value {
                Outcome::Failed => "this work failed, and nothing says what came of it",
                _ => "this work turned out in part, and nothing says what came of the rest",
            };
            let id = work.id.as_ref().map_or("…", |id| &id.0);
            let help =
                format!("write `redoes = \"{id}\"` at the work that did it again, or add an `[[undone]]`");
            seen.push(case.at(&CODE, &outcome.span, message).help(help));
        }
    }
}

/// Whether a later work mends the same finding once more.
fn again(later: &Work, work: &Work) -> bool {
    later.mends.iter().any(|mended| work.mends.iter().any(|first| first.value == mended.value))
}

/// Whether any work says that it does this one again.
fn redone(case: &Case<'_>, work: &Work) -> bool {
    let id = work.id.as_ref().map(|id| &id.value);
    let redoes = |other: &Work| other.redoes.as_ref().map(|redoes| &redoes.value) == id;
    id.is_some() && case.record.works.iter().any(|other| redoes(other))
}

/// Whether something undone speaks of what the work was to mend; one that names no finding may.
fn left(case: &Case<'_>, work: &Work) -> bool {
    let mends = |id: &FindingId| work.mends.iter().any(|mended| mended.value == *id);
    let speaks_of = |leaves: &[Said<FindingId>]| {
        leaves.is_empty() || work.mends.is_empty() || leaves.iter().any(|left| mends(&left.value))
    };
    case.record.undone.iter().any(|undone| speaks_of(&undone.leaves))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    const FAILED: &str = "finding = [{ id = \"f1\", seen = \"split\" }, { id = \"f2\", seen = \"burn\" }]
[[work]]
id = \"w1\"
did = \"closed it\"
mends = \"f1\"
turned-out = \"failed\"
";

    #[test]
    fn a_split_that_opened_again() {
        assert_eq!(
            sees(&RULE, FAILED),
            "6: this work failed, and nothing says what came of it \
             [write `redoes = \"w1\"` at the work that did it again, or add an `[[undone]]`]"
        );
        let other = "[[undone]]\nwhat = \"the burn\"\nleaves = \"f2\"\nwhy = \"not-needed\"";
        assert_ne!(sees(&RULE, &format!("{FAILED}{other}")), "");
    }

    #[test]
    fn done_again_or_left_is_quiet() {
        for then in [
            "[[work]]\ndid = \"closed it with keys\"\nredoes = \"w1\"",
            "[[work]]\ndid = \"closed it with keys\"\nmends = \"f1\"",
            "[[undone]]\nwhat = \"the split\"\nleaves = \"f1\"\nwhy = \"not-worth\"",
            "[[undone]]\nwhat = \"the split\"\nwhy = \"not-worth\"",
        ] {
            assert_eq!(sees(&RULE, &format!("{FAILED}{then}")), "", "{then}");
        }
        assert_eq!(sees(&RULE, &FAILED.replace("failed", "unknown")), "");
    }
}
