//! Something planned for a day that has passed.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Planned;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "planned-day-passed",
    rank: Rank::Hint,
    why: "What was done and is still called planned stands on no paper.",
    fix: "Take `planned` away where it was done, or set another day.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.intended();
    let works = record.works.iter().filter(|work| work.is_planned()).filter_map(|work| work.on.as_ref());
    let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
    let steps = steps.filter(|step| step.is_planned()).filter_map(|step| step.on.as_ref());
    for on in works.chain(steps).filter(|on| on.value < case.today) {
        let message = format!("this is planned for {}, which has passed", on.value);
        seen.push(
            case.at(&CODE, &on.span, message)
                .help("take `planned = true` away where it was done, or set another day"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn long_ago_and_to_come() {
        let work =
            |day: &str| sees(&RULE, &format!("work = [{{ on = {day}, did = \"wax it\", planned = true }}]"));
        assert_eq!(
            work("2001-02-03"),
            "1: this is planned for 2001-02-03, which has passed \
             [take `planned = true` away where it was done, or set another day]"
        );
        assert_eq!(work("2999-01-01"), "");
        assert_eq!(sees(&RULE, "work = [{ on = 2001-02-03, did = \"waxed it\" }]"), "");
    }
}
