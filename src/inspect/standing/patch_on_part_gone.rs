//! A patch on a part that is not there.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "patch-on-part-gone",
    rank: Rank::Doubt,
    why: "A patch went with its part, so the papers leave it out.",
    fix: "Name the part that it is on today, or take the patch out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for patch in &case.record.patches {
        if case.part(&patch.part.0).is_some_and(|part| !part.present()) {
            let message = format!("`{}` is on `{}`, which is not there today", patch.what.0, patch.part.0);
            let help = "name the part that it is on today, or take the patch out";
            seen.push(case.at(&CODE, &patch.part.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn patch(standing: &str) -> String {
        let part = format!("part = [{{ id = \"a\", name = \"A\", standing = \"{standing}\" }}]\n");
        sees(
            &RULE,
            &format!("{part}patch = [{{ part = \"a\", what = \"filled hole\", standing = \"new\" }}]"),
        )
    }

    #[test]
    fn a_patch_goes_with_its_part() {
        assert_eq!(
            patch("removed"),
            "2: `filled hole` is on `a`, which is not there today \
             [name the part that it is on today, or take the patch out]"
        );
        assert_eq!(patch("original"), "");
    }
}
