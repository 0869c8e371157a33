//! A mark on a photograph that is a point and a line, or an area, at once.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "mark-in-two-places",
    rank: Rank::Mistake,
    why: "A mark has one number, and its number one place on the picture.",
    fix: "Keep one of `at`, `line` and `area`, and make a mark of its own of the other.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for mark in case.record.photos.iter().flat_map(|photo| &photo.marks) {
        let shapes = mark.shapes().len();
        if shapes > 1 {
            let message = format!("this mark has {shapes} of `at`, `line` and `area`");
            seen.push(
                case.at(&CODE, &mark.span, message).help("keep one, and write another mark for the rest"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mark(places: &str) -> String {
        sees(
            &RULE,
            &format!("photo = [{{ file = \"a.jpg\", marks = [{{ note = \"old ink\", {places} }}] }}]"),
        )
    }

    #[test]
    fn one_place_is_enough() {
        assert_eq!(
            mark("at = [0, 0], line = [[0, 0], [1, 1]]"),
            "1: this mark has 2 of `at`, `line` and `area` [keep one, and write another mark for the rest]"
        );
        assert_eq!(mark("line = [[0, 0], [1, 1]]"), "");
    }
}
