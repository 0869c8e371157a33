//! An id that no work has.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-work",
    rank: Rank::Mistake,
    why: "Rework and marks point at an act of work, and here there is nothing they could point at.",
    fix: "Give the work that is meant an id, or correct the id here.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let works = KnownIds {
        kind: "work",
        known: record.works.iter().filter_map(|work| work.id.as_ref()).map(|id| id.0.as_str()).collect(),
        example: "an `id` to the `[[work]]` that is meant",
    };
    let redone = record.works.iter().flat_map(|work| work.redoes.iter().chain(work.follows.iter()));
    let marks = record.photos.iter().flat_map(|photo| &photo.marks).filter_map(|mark| mark.work.as_ref());
    for used in redone.chain(marks) {
        works.look_up(case, &CODE, used, seen);
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn rework_of_nothing() {
        assert_eq!(
            sees(&RULE, "work = [{ did = \"glued it\" }, { did = \"glued it again\", redoes = \"glue\" }]"),
            "1: no work has the id `glue` [nothing gives a work its id yet; \
             add an `id` to the `[[work]]` that is meant]"
        );
    }

    #[test]
    fn rework_of_something() {
        let work =
            "work = [{ id = \"glue\", did = \"glued it\" }, { did = \"glued it again\", redoes = \"glue\" }]";
        assert_eq!(sees(&RULE, work), "");
    }
}
