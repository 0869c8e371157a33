//! Something that is still planned for a piece that has left.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Planned;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "planned-after-handover",
    rank: Rank::Doubt,
    why: "A piece that has left is worked on no more, and what was planned for it stands on no paper.",
    fix: "Take `planned` away where it was done; say with `[[undone]]` what was left; or take the row out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.piece.handed_over().is_none_or(|left| left > case.today) {
        return;
    }
    let record = case.intended();
    let steps = record.surfaces.iter().flat_map(|surface| &surface.steps);
    let spans = (record.works.iter().filter(|row| row.is_planned()).map(|row| &row.span))
        .chain(steps.filter(|row| row.is_planned()).map(|row| &row.span))
        .chain(record.parts.iter().filter(|row| row.is_planned()).map(|row| &row.span))
        .chain(record.fixings.iter().filter(|row| row.is_planned()).map(|row| &row.span));
    for span in spans {
        let help = "take `planned = true` away where it was done, or say with `[[undone]]` that it was left";
        seen.push(case.at(&CODE, span, "this is still planned, and the piece has left").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn left_and_not_yet() {
        let record = |handover: &str| {
            sees(&RULE, &format!("{handover}\nwork = [{{ did = \"wax it\", planned = true }}]"))
        };
        assert_eq!(
            record("handover = { on = 2001-02-03 }"),
            "2: this is still planned, and the piece has left \
             [take `planned = true` away where it was done, or say with `[[undone]]` that it was left]"
        );
        assert_eq!(record("handover = { on = 2999-02-03 }"), "");
        assert_eq!(record(""), "");
    }
}
