//! A mark on a photograph that names no place on it.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "mark-without-place",
    rank: Rank::Mistake,
    why: "Its number would stand nowhere on the picture, so it would be left out.",
    fix: "Say where with `at`, `line` or `area`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    for mark in
        case.record.photos.iter().flat_map(|photo| &photo.marks).filter(|mark| mark.shapes().is_empty())
    {
        let help = "add `at = [x, y]`, `line = [[x, y], [x, y]]` or `area = [[x, y], …]`, in fractions of the photograph";
        seen.push(case.at(&CODE, &mark.span, "this mark says nowhere where it is").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mark(place: &str) -> String {
        sees(&RULE, &format!("photo = [{{ file = \"a.jpg\", marks = [{{ note = \"old ink\"{place} }}] }}]"))
    }

    #[test]
    fn any_of_the_three_is_a_place() {
        assert_eq!(
            mark(""),
            "1: this mark says nowhere where it is [add `at = [x, y]`, `line = [[x, y], [x, y]]` or `area = [[x, y], …]`, in fractions of the photograph]"
        );
        for place in ["at = [0, 0]", "line = [[0, 0], [1, 1]]", "area = [[0, 0], [1, 1], [0, 1]]"] {
            assert_eq!(mark(&format!(", {place}")), "");
        }
    }
}
