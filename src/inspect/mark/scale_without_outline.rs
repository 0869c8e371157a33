//! A known length on a mark that outlines nothing.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "scale-without-outline",
    rank: Rank::Doubt,
    why: "A known length gives the size of an outlined area, and here it would be left unread.",
    fix: "Outline the area with `area`, or take `scale` out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    for mark in case.record.photos.iter().flat_map(|photo| &photo.marks).filter(|mark| mark.area.is_none()) {
        if let Some(scale) = &mark.scale {
            let message = "this known length belongs to no outlined area";
            seen.push(
                case.at(&CODE, &scale.span, message).help("add `area = [[x, y], …]`, or take `scale` out"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mark(place: &str) -> String {
        let scale = "scale = { from = [0, 0], to = [1, 0], mm = 100 }";
        sees(&RULE, &format!("photo = [{{ file = \"a.jpg\", marks = [{{ {place}, {scale} }}] }}]"))
    }

    #[test]
    fn a_point_has_no_size() {
        assert_eq!(
            mark("at = [0, 0]"),
            "1: this known length belongs to no outlined area [add `area = [[x, y], …]`, or take `scale` out]"
        );
        assert_eq!(mark("area = [[0, 0], [1, 1], [0, 1]]"), "");
    }
}
