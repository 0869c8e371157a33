//! An id that no patch has.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-patch",
    rank: Rank::Mistake,
    why: "An outline tells how large a patch is, and here there is no patch that it could be the outline of.",
    fix: "Give the patch that is meant an id, or correct the id here.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let patches = KnownIds {
        kind: "patch",
        known: record.patches.iter().filter_map(|patch| patch.id.as_ref()).map(|id| id.0.as_str()).collect(),
        example: "an `id` to the `[[patch]]` that is meant",
    };
    let marks = record.photos.iter().flat_map(|photo| &photo.marks);
    for used in marks.filter_map(|mark| mark.patch.as_ref()) {
        patches.look_up(case, &CODE, used, seen);
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn mark(patch: &str) -> String {
        let part = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }]\n";
        let patches =
            "patch = [{ id = \"burn\", part = \"top\", what = \"veneer patch\", standing = \"new\" }]\n";
        let photo =
            format!("photo = [{{ file = \"a.jpg\", marks = [{{ at = [0.1, 0.1], patch = \"{patch}\" }}] }}]");
        sees(&RULE, &(part.to_owned() + patches + &photo))
    }

    #[test]
    fn a_mark_of_no_patch() {
        assert_eq!(mark("burn-1"), "3: no patch has the id `burn-1` [write \"burn\"]");
        assert_eq!(mark("burn"), "");
    }
}
