//! A finding that nothing mends and nothing leaves.

use crate::derive::{all_is_well, nobody_looked, taken_away};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "finding-left-open",
    rank: Rank::Doubt,
    why: "The papers list the finding, and the buyer cannot tell whether it was mended or is still there.",
    fix: "Name it in the `mends` of the work that mended it, or in the `leaves` of an `[[undone]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    let mended = record.works.iter().flat_map(|work| work.mends.iter());
    let left = record.undone.iter().flat_map(|undone| undone.leaves.iter());
    let answered: Vec<&str> = mended.chain(left).map(|id| id.0.as_str()).collect();
    let today = record.findings.iter().filter(|finding| !taken_away(record, &finding.part));
    let faults =
        today.filter(|finding| !all_is_well(&finding.seen, case.trade) && !nobody_looked(&finding.seen));
    for finding in faults.filter(|finding| !answered.contains(&finding.id.0.as_str())) {
        let (id, what) = (&finding.id.0, &finding.seen.0);
        let message = format!("finding `{id}` ({what}) is neither mended nor left");
        let help = format!(
            "write `mends = \"{id}\"` at the work that mended it, or add\n\
             [[undone]]\nwhat = \"{}\"\nleaves = \"{id}\"\nwhy = \"not-needed\"\neffect = \"…\"",
            what.replace(['"', '\\'], "'")
        );
        seen.push(case.at(&CODE, &finding.id.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_split_of_which_nothing_more_is_heard() {
        let record = "finding = [{ id = \"f1\", seen = \"split\" }, { id = \"f2\", seen = \"burn\" }]
work = [{ did = \"closed it\", mends = \"f1\" }]";
        assert_eq!(
            sees(&RULE, record),
            "1: finding `f2` (burn) is neither mended nor left [write `mends = \"f2\"` at the work that mended it, \
             or add / [[undone]] / what = \"burn\" / leaves = \"f2\" / why = \"not-needed\" / effect = \"…\"]"
        );
    }

    #[test]
    fn what_went_with_its_part_needs_no_word() {
        let record = |standing: &str| {
            format!(
                "part = [{{ id = \"foot\", name = \"Foot\", standing = \"{standing}\" }}]\n\
                 finding = [{{ id = \"f1\", part = \"foot\", seen = \"split\" }}]"
            )
        };
        assert_eq!(sees(&RULE, &record("removed")), "");
        assert_eq!(sees(&RULE, &record("original")).lines().count(), 1);
    }

    #[test]
    fn one_word_on_each_is_enough() {
        let record = "finding = [{ id = \"f1\", seen = \"split\" }, { id = \"f2\", seen = \"burn\" }]
work = [{ did = \"closed it\", mends = \"f1\" }]
undone = [{ what = \"the burn\", leaves = \"f2\", why = \"would-cost-original\" }]";
        assert_eq!(sees(&RULE, record), "");
    }
}
