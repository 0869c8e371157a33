//! Steps on a surface without their day.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "step-without-date",
    rank: Rank::Hint,
    why: "From when a surface may be used follows from the day of its last coat.",
    fix: "Say with `on` the day of each step.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.record.surfaces {
        let undated: Vec<_> = surface.steps.iter().filter(|step| step.on.is_none()).collect();
        if let Some(first) = undated.first() {
            let message =
                format!("{} of {} steps on this surface have no date", undated.len(), surface.steps.len());
            seen.push(case.at(&CODE, &first.span, message).help("add `on = 2026-03-14`"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn said_once_for_each_surface() {
        let steps =
            "{ on = 2026-03-14, clean = \"water\" },\n{ abrade = \"P240\" },\n{ apply = \"shellac\" }";
        assert_eq!(
            sees(&RULE, &format!("surface = [{{ steps = [{steps}] }}]")),
            "2: 2 of 3 steps on this surface have no date [add `on = 2026-03-14`]"
        );
        assert_eq!(sees(&RULE, "surface = [{ steps = [{ on = 2026-03-14, clean = \"water\" }] }, {}]"), "");
    }
}
