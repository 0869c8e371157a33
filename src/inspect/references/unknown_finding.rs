//! An id that no finding has.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-finding",
    rank: Rank::Mistake,
    why: "The papers tie work and marks to what was found, and here there is nothing to tie them to.",
    fix: "Write the id of a finding, or add the finding.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let findings = KnownIds {
        kind: "finding",
        known: record.findings.iter().map(|finding| finding.id.0.as_str()).collect(),
        example: "`[[finding]]` with `id`, `part` and `seen`",
    };
    let mended = record.works.iter().flat_map(|work| work.mends.iter());
    let left = record.undone.iter().flat_map(|undone| undone.leaves.iter());
    let marks = record.photos.iter().flat_map(|photo| &photo.marks).filter_map(|mark| mark.finding.as_ref());
    let after = record.after.for_archive().iter().flat_map(|after| after.finding.iter());
    for used in mended.chain(left).chain(marks).chain(after) {
        findings.look_up(case, &CODE, used, seen);
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    const FINDING: &str = "finding = [{ id = \"split-1\", seen = \"split\" }]\n";

    #[test]
    fn work_marks_and_what_was_left() {
        let wrong = r#"
work = [{ did = "closed it", mends = "split1" }]
undone = [{ what = "a burn", leaves = "burn", why = "not-needed" }]
photo = [{ file = "a.jpg", marks = [{ at = [0.1, 0.1], finding = "split-2" }] }]
after = [{ on = 2026-05-02, what = "call", finding = "spilt-1" }]"#;
        assert_eq!(
            sees(&RULE, &format!("{FINDING}{}", wrong.trim_start())),
            "2: no finding has the id `split1` [write \"split-1\"]\n\
             3: no finding has the id `burn` [the ids are `split-1`]\n\
             4: no finding has the id `split-2` [write \"split-1\"]\n\
             5: no finding has the id `spilt-1` [write \"split-1\"]"
        );
    }

    #[test]
    fn the_right_id_is_quiet() {
        assert_eq!(
            sees(&RULE, &format!("{FINDING}work = [{{ did = \"closed it\", mends = \"split-1\" }}]")),
            ""
        );
    }
}
