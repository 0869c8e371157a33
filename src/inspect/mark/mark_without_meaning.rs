//! A mark on a photograph that points at nothing.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "mark-without-meaning",
    rank: Rank::Doubt,
    why: "A number on a picture that leads nowhere leaves the reader looking for its words.",
    fix: "Say with `finding`, `part`, `patch`, `work` or `note` what the mark points at.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    for mark in case.record.photos.iter().flat_map(|photo| &photo.marks) {
        let pointed =
            mark.finding.is_some() || mark.part.is_some() || mark.patch.is_some() || mark.work.is_some();
        if !pointed && mark.note.is_none() {
            let help = "add `finding`, `part` or `work` with an id, or `note = \"…\"`";
            seen.push(case.at(&CODE, &mark.span, "this mark points at nothing").help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mark(more: &str) -> String {
        sees(&RULE, &format!("photo = [{{ file = \"a.jpg\", marks = [{{ at = [0.4, 0.6]{more} }}] }}]"))
    }

    #[test]
    fn a_note_is_enough() {
        assert_eq!(
            mark(""),
            "1: this mark points at nothing [add `finding`, `part` or `work` with an id, or `note = \"…\"`]"
        );
        assert_eq!(mark(", note = \"old ink\""), "");
    }
}
