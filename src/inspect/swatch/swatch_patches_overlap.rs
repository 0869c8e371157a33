//! A target and a result that were measured in one place.

use crate::derive::Which;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-patches-overlap",
    rank: Rank::Doubt,
    why: "A patch compared with itself always matches, and the papers would call that a colour that was met.",
    fix: "Draw `target` on the colour aimed at and `result` on the colour reached, beside it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for swatch in &case.record.swatches {
        let pairs =
            [(Which::Target, Which::Result), (Which::Grey, Which::Target), (Which::Grey, Which::Result)];
        for (one, other) in pairs {
            let Some((first, second)) = one.of(swatch).zip(other.of(swatch)) else { continue };
            if first.overlaps(second) {
                let message = format!("`{}` and `{}` lie over each other", one.word(), other.word());
                let help = "each is a rectangle of its own: x and y of its upper left corner, width, height";
                seen.push(case.at(&CODE, &second.span, message).help(help));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn result(rectangle: &str) -> String {
        sees(
            &RULE,
            &format!(
                "swatch = [{{ photo = \"a.jpg\", target = [0.1, 0.1, 0.2, 0.2], result = {rectangle} }}]"
            ),
        )
    }

    #[test]
    fn neighbours_are_no_overlap() {
        assert_eq!(
            result("[0.29, 0.1, 0.2, 0.2]"),
            "1: `target` and `result` lie over each other \
             [each is a rectangle of its own: x and y of its upper left corner, width, height]"
        );
        assert_eq!(result("[0.3, 0.1, 0.2, 0.2]"), "");
    }
}
