//! An outlined area with a known length whose size cannot be worked out.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "area-without-size",
    rank: Rank::Doubt,
    why: "A known length was given so that the papers could say how large the area is, and they cannot.",
    fix: "Set the corners one after the other around the area, and the known length along something as long as the area.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[photo]]") {
        return;
    }
    for marked in case.photographs.all.iter().flat_map(|photograph| &photograph.marks) {
        if let Some(Err(why)) = marked.area {
            let message = format!("no size can be given: {why}");
            seen.push(case.at(&CODE, &marked.mark.span, message).help(why.cure()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::pictured;

    fn mark(area: &str, to: &str) -> String {
        let scale = format!("scale = {{ from = [0, 0], to = {to}, mm = 100 }}");
        let record = format!("photo = [{{ file = \"a.jpg\", marks = [{{ area = {area}, {scale} }}] }}]");
        pictured(&record, |_, _| [90; 3]).sees(&RULE)
    }

    #[test]
    fn only_a_plain_outline_has_a_size() {
        assert_eq!(
            mark("[[0, 0], [1, 1], [1, 0], [0, 1]]", "[1, 0]"),
            "1: no size can be given: the outline crosses itself [set the corners one after the other around the area]"
        );
        assert_eq!(
            mark("[[0, 0], [1, 0], [0, 1]]", "[0.05, 0]"),
            "1: no size can be given: the known length is less than a tenth of the way across the area \
             [measure something longer in the picture, in the plane of the area]"
        );
        assert_eq!(mark("[[0, 0], [1, 0], [0, 1]]", "[1, 0]"), "");
    }
}
