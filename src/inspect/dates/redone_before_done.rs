//! Work that does again what was done only later.

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Said;
use crate::inspect::{Case, Check, Rule};
use crate::record::WorkId;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "redone-before-done",
    rank: Rank::Doubt,
    why: "The dates contradict the order of the work, so the papers would tell the story backwards.",
    fix: "Correct one of the two dates, or the id in `redoes`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let works = &case.record.works;
    for work in works {
        let Some(redoes) = &work.redoes else { continue };
        let same = |id: &Option<Said<WorkId>>| id.as_ref().is_some_and(|id| id.value == redoes.value);
        let id = &redoes.0;
        if same(&work.id) {
            let message = format!("work `{id}` says that it does itself again");
            seen.push(case.at(&CODE, &redoes.span, message).help("write the id of the earlier work"));
            continue;
        }
        let first = works.iter().find(|first| same(&first.id)).and_then(|first| first.on.as_ref());
        if let (Some(first), Some(on)) = (first, &work.on)
            && on.value < first.value
        {
            let message = format!("done on {}, and again already on {}: `{id}`", first.value, on.value);
            seen.push(case.at(&CODE, &on.span, message).help("correct one of the two dates, or `redoes`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn again(on: &str) -> String {
        let first = "{ id = \"glue\", on = 2026-03-11, did = \"glued it\" }";
        sees(&RULE, &format!("work = [{first}, {{ on = {on}, did = \"glued it\", redoes = \"glue\" }}]"))
    }

    #[test]
    fn the_same_day_is_in_order() {
        assert_eq!(
            again("2026-03-10"),
            "1: done on 2026-03-11, and again already on 2026-03-10: `glue` \
             [correct one of the two dates, or `redoes`]"
        );
        assert_eq!(again("2026-03-11"), "");
    }

    #[test]
    fn nothing_does_itself_again() {
        assert_eq!(
            sees(&RULE, "work = [{ id = \"glue\", did = \"glued it\", redoes = \"glue\" }]"),
            "1: work `glue` says that it does itself again [write the id of the earlier work]"
        );
    }
}
