//! Hours given as a total and with the work as well.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "hours-twice",
    rank: Rank::Doubt,
    why: "Hours with the work are added up and the total is then left out, so it must not hold work of its own.",
    fix: "Keep one of the two: hours with each work, or one total.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(total) = case.record.hours.for_archive() else { return };
    let timed = case.record.works.iter().filter(|work| work.hours.for_archive().is_some()).count();
    if timed > 0 {
        let message =
            format!("a total of {} hours beside {timed} works with hours of their own", total.count());
        let help = "leave the total out, or the hours of the works";
        seen.push(case.at(&CODE, &total.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_total_or_each() {
        assert_eq!(
            sees(&RULE, "hours = 14\nwork = [{ did = \"glued it\", hours = 1.5 }, { did = \"waxed it\" }]"),
            "1: a total of 14 hours beside 1 works with hours of their own \
             [leave the total out, or the hours of the works]"
        );
        assert_eq!(sees(&RULE, "hours = 14\nwork = [{ did = \"glued it\" }]"), "");
        assert_eq!(sees(&RULE, "work = [{ did = \"glued it\", hours = 1.5 }]"), "");
    }
}
