//! A finding that was mended on a part that is not there.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "mended-on-part-gone",
    rank: Rank::Doubt,
    why: "What was mended stays on the piece, and what is gone was not mended; the papers say that it went with its part.",
    fix: "Take the finding out of `mends`, or correct the standing of the part.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    let absent = |id: &str| case.part(id).is_some_and(|part| !part.present());
    // Work that names what took the part's place mended the fault by replacing it.
    let on_gone = record
        .works
        .iter()
        .filter(|work| !work.part.is_empty() && work.part.iter().all(|part| absent(&part.0)));
    for mended in on_gone.flat_map(|work| work.mends.iter()) {
        let Some(finding) = record.findings.iter().find(|finding| finding.id.value == mended.value) else {
            continue;
        };
        let gone = finding.part.iter().all(|part| absent(&part.0));
        if let (Some(part), true) = (finding.part.first(), gone) {
            let message = format!("`{}` is mended on `{}`, which is not there today", mended.0, part.0);
            let help = "take it out of `mends`, or correct the part's `standing`";
            seen.push(case.at(&CODE, &mended.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mended(standing: &str) -> String {
        sees(
            &RULE,
            &format!(
                "part = [{{ id = \"foot\", name = \"Foot\", standing = \"{standing}\" }}]\n\
                 finding = [{{ id = \"f1\", part = \"foot\", seen = \"split\" }}]\n\
                 work = [{{ part = \"foot\", did = \"closed it\", mends = \"f1\" }}]"
            ),
        )
    }

    #[test]
    fn a_split_in_a_foot_that_was_taken_away() {
        assert_eq!(
            mended("removed"),
            "3: `f1` is mended on `foot`, which is not there today \
             [take it out of `mends`, or correct the part's `standing`]"
        );
        assert_eq!(mended("original"), "");
    }
}
