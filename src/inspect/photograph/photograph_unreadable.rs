//! A photograph that cannot be opened.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "photograph-unreadable",
    rank: Rank::Doubt,
    why: "The papers are written without it, and what it shows is lost to them.",
    fix: "Copy it again from the camera, or export it as an ordinary JPEG; of a file that may not be read, change the rights.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for (file, check) in case.checks() {
        if let Err(fault) = check {
            let message = format!("the photograph `{file}` is left out: {fault}");
            seen.push(case.photo(&CODE, file, message).help(fault.remedy()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_text_is_no_photograph() {
        assert_eq!(
            sees(&RULE, "#- photos/before-front.jpg\nno photograph"),
            "photos/before-front.jpg: the photograph `before-front.jpg` is left out: \
             not a photograph: JPEG, PNG, WebP, TIFF, BMP and GIF can be read \
             [copy it again from the camera, or export it as JPEG]"
        );
    }

    #[test]
    fn a_photograph_not_opened_is_not_judged() {
        assert_eq!(sees(&RULE, "#- photos/before-front.jpg\n"), "");
    }
}
