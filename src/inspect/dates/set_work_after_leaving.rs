//! Work on all pieces of a set, of which one had left.

use std::ops::Range;

use chrono::NaiveDate;

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::Said;
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "set-work-after-leaving",
    rank: Rank::Doubt,
    why: "What a set's record says without naming a piece stands on the papers of each, and a piece that had left had none of it done.",
    fix: "Name with `piece` those that it was done to.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let (Some(set), Some(left)) = (&case.piece.set, case.piece.handed_over()) else { return };
    let record = case.record;
    let works = record.works.iter().map(|work| ("work", &work.span, work.on.as_ref()));
    let tests = record.tests.iter().map(|test| ("a test", &test.span, test.on.as_ref()));
    let steps = record.surfaces.iter().flat_map(|surface| {
        surface.steps.iter().map(|step| ("a surface step", &surface.span, step.on.as_ref()))
    });
    let rows = works.chain(tests).chain(steps);
    let late = rows.filter_map(|(what, row, on): (&str, &Range<usize>, Option<&Said<NaiveDate>>)| {
        let of_all = case.piece.shared_between(row).is_some_and(|(between, _)| between == set.pieces());
        on.filter(|on| of_all && on.value > left).map(|on| (what, on))
    });
    for (what, on) in late {
        let number = &*record.number;
        let message = format!(
            "{what} of {} is of all {} pieces, and {number} had left on {left}",
            on.value,
            set.pieces()
        );
        let others = case.folder.pieces.iter().filter(|piece| piece.is_set_with(case.piece));
        let here = others.filter(|piece| piece.handed_over().is_none_or(|left| left >= on.value));
        let names: Vec<String> =
            here.filter_map(|piece| Some(format!("\"{}\"", piece.record.as_ref()?.number.value.0))).collect();
        let help = match names.is_empty() {
            true => "correct one of the two dates".to_owned(),
            false => format!("name those that it was done to, such as\npiece = [{}]", names.join(", ")),
        };
        seen.push(case.at(&CODE, &on.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn told(row: &str) -> String {
        let set = format!("title = \"Chairs\"\nnumber = \"C\"\nkind = \"seating/chair\"\nset-of = 2\n{row}");
        let other = "set = \"six\"\nnumber = \"C-2\"\n";
        sees(
            &RULE,
            &format!(
                "set = \"six\"\nhandover = {{ on = 2026-04-02 }}\n#- pieces/six/record.toml\n{set}\n\
                 #- pieces/other/record.toml\n{other}"
            ),
        )
    }

    #[test]
    fn what_was_done_after_one_of_the_set_had_left() {
        let late = told("work = [{ did = \"waxed\", on = 2026-04-03 }]\n");
        assert!(
            late.contains("work of 2026-04-03 is of all 2 pieces, and T-1 had left on 2026-04-02"),
            "{late}"
        );
        assert!(late.ends_with("[name those that it was done to, such as / piece = [\"C-2\"]]"), "{late}");
        assert_eq!(told("work = [{ did = \"waxed\", on = 2026-04-02 }]\n"), "");
        assert_eq!(told("work = [{ did = \"waxed\", on = 2026-04-03, piece = \"C-2\" }]\n"), "");
        assert!(
            told("surface = [{ parts = \"top\", steps = [{ on = 2026-05-01, clean = \"soap\" }] }]\n")
                .contains("a surface step")
        );
    }
}
