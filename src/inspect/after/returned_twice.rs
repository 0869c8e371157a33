//! A piece that came back while it was here.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Aftermath;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "returned-twice",
    rank: Rank::Doubt,
    why: "A piece comes back once for each time that it left, and no seal or handover says that it left in between.",
    fix: "Take one of the two out, or correct its day.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let left = case.piece.days_of_leaving();
    let back = case.record.after.for_archive().iter().filter(|after| after.what.value == Aftermath::Return);
    let mut back: Vec<_> = back.map(|after| &after.on).collect();
    back.sort_by_key(|on| on.value);
    for pair in back.windows(2) {
        let between = |day: &chrono::NaiveDate| (pair[0].value..=pair[1].value).contains(day);
        if !left.iter().any(between) {
            let message = format!("this came back on {}, and did not leave since", pair[0].value);
            seen.push(
                case.at(&CODE, &pair[1].span, message).help("take one of the two out, or correct its day"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{amended, sees};

    #[test]
    fn it_has_to_leave_in_between() {
        let twice =
            "after = [{ on = 2026-05-20, what = \"return\" }, { on = 2026-05-30, what = \"return\" }]\n";
        assert_eq!(
            sees(&RULE, &amended("", twice)),
            "1: this came back on 2026-05-20, and did not leave since [take one of the two out, or correct its day]"
        );
        let again = format!("{twice}handover = {{ on = 2026-05-25 }}");
        assert_eq!(sees(&RULE, &amended("", &again)), "");
        let once = twice.replace("2026-05-20, what = \"return\"", "2026-05-20, what = \"call\"");
        assert_eq!(sees(&RULE, &amended("", &once)), "");
    }
}
