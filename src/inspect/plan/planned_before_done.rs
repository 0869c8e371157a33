//! A planned step that stands before one that was done.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Planned;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "planned-before-done",
    rank: Rank::Doubt,
    why: "The steps of a surface stand in the order of the work, and what is still to come cannot lie below what was done.",
    fix: "Put the planned step behind those that were done, or take `planned` away where it was done after all.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for surface in &case.intended().surfaces {
        let last = surface.steps.iter().rposition(|step| !step.is_planned()).unwrap_or(0);
        let early = surface.steps[..last].iter().filter(|step| step.is_planned());
        for step in early {
            let message = "this step is planned, and a later one was done already";
            let help = "put it behind those that were done, or take `planned = true` away";
            seen.push(case.at(&CODE, &step.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn before_and_behind() {
        let steps = |steps: &str| sees(&RULE, &format!("surface = [{{ steps = [{steps}] }}]"));
        let told = steps("{ clean = \"water\", planned = true }, { apply = \"shellac\" }");
        assert_eq!(
            told,
            "1: this step is planned, and a later one was done already \
             [put it behind those that were done, or take `planned = true` away]"
        );
        assert_eq!(steps("{ clean = \"water\" }, { apply = \"shellac\", planned = true }"), "");
    }
}
