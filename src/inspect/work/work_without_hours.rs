//! Works without the hours they took.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "work-without-hours",
    rank: Rank::Hint,
    why: "Hours are added up and compared across pieces, and what is not written down counts as none.",
    fix: "Say with `hours` how long each work took, or give one total for the piece; only the archive sees either.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.record.hours.for_archive().is_some() {
        return;
    }
    let works = &case.record.works;
    let untimed: Vec<_> = works.iter().filter(|work| work.hours.for_archive().is_none()).collect();
    if let Some(first) = untimed.first() {
        let message = format!("{} of {} works do not say how long they took", untimed.len(), works.len());
        let help = match untimed.len() == works.len() {
            true => "add `hours = 1.5` to each, or one total at the top of the record",
            false => "add `hours = 1.5`",
        };
        seen.push(case.at(&CODE, &first.did.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn said_once_for_the_piece() {
        assert_eq!(
            sees(&RULE, "work = [{ did = \"glued it\", hours = 1 },\n{ did = \"waxed it\" }]"),
            "2: 1 of 2 works do not say how long they took [add `hours = 1.5`]"
        );
        assert_eq!(sees(&RULE, "work = [{ did = \"glued it\", hours = 0 }]"), "");
        assert_eq!(sees(&RULE, "hours = 14\nwork = [{ did = \"glued it\" }]"), "");
    }
}
