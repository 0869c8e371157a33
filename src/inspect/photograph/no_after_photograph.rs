//! A piece that was worked on, without a public photograph of the result.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::PhotoStage;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-after-photograph",
    rank: Rank::Doubt,
    why: "The pictures lead the papers, and the one that the buyer looks for is missing.",
    fix: "Add a photograph named `after-….jpg`, best from the same spot as one from before.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    let after =
        |stage: Option<PhotoStage>| [Some(PhotoStage::After), Some(PhotoStage::Handover)].contains(&stage);
    let mut photographs = case.facts.photographs.all.iter();
    if case.has_work() && !photographs.any(|photo| after(photo.stage) && !photo.private) {
        let message = "no public photograph shows the piece after the work";
        let path = case.piece.photo_path("after-front.jpg");
        seen.push(
            case.whole(&CODE, message).help(format!("put one at {path}, best from the spot of one before")),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn only_where_something_was_done() {
        assert_eq!(sees(&RULE, "#- photos/before-front.jpg\n"), "");
        assert_eq!(
            sees(&RULE, "work = [{ did = \"waxed it\" }]\n#- photos/before-front.jpg\n"),
            "-: no public photograph shows the piece after the work \
             [put one at pieces/table/photos/after-front.jpg, best from the spot of one before]"
        );
    }

    #[test]
    fn one_from_the_handover_will_do() {
        assert_eq!(sees(&RULE, "work = [{ did = \"waxed it\" }]\n#- photos/handover-front.jpg\n"), "");
    }
}
