//! A piece without a public photograph of how it was found.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::PhotoStage;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-before-photograph",
    rank: Rank::Doubt,
    why: "Without a picture from before, nobody can see what the work changed.",
    fix: "Add a photograph named `before-….jpg`; where none was taken, say so in the story.",
};

/// A piece that was only just opened has time until something is done to it.
fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") || case.is_just_opened() {
        return;
    }
    let mut photographs = case.facts.photographs.all.iter();
    if !photographs.any(|photo| photo.stage == Some(PhotoStage::Before) && !photo.private) {
        let message = "no public photograph shows the piece as it was found";
        let path = case.piece.photo_path("before-front.jpg");
        seen.push(case.whole(&CODE, message).help(format!("put one at {path}")));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_private_one_does_not_count() {
        let private =
            "photo = [{ file = \"before-front.jpg\", private = true }]\n#- photos/before-front.jpg\n";
        assert_eq!(
            sees(&RULE, private),
            "-: no public photograph shows the piece as it was found \
             [put one at pieces/table/photos/before-front.jpg]"
        );
        assert_eq!(sees(&RULE, &private.replace("true", "false")), "");
    }

    #[test]
    fn a_piece_just_opened_has_time_until_work_begins() {
        assert_eq!(sees(&RULE, "publish = false\n"), "");
        assert_ne!(sees(&RULE, "publish = false\nwork = [{ did = \"cleaned it\" }]\n"), "");
    }
}
