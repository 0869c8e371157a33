//! A piece without a public photograph of how it was found.

use super::{Case, Check, Rule};
use crate::diag::{Code, Diagnostic, Severity};
use crate::record::Stage;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-before-photograph",
    severity: Severity::Warning,
    why: "Without a picture from before, nobody can see what the work changed.",
    fix: "Add a photograph named `before-….jpg`; where none was taken, say so in the story.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let mut photographs = case.facts.photographs.all.iter();
    if !photographs.any(|photo| photo.stage == Some(Stage::Before) && !photo.private) {
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
}
