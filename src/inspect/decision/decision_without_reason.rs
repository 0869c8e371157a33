//! A decision without its reason.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "decision-without-reason",
    rank: Rank::Doubt,
    why: "What was chosen shows on the piece; why is what the next restorer cannot see.",
    fix: "Say with `because` what decided it.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for decision in case.record.decisions.iter().filter(|decision| decision.because.is_none()) {
        let message = format!("\"{}\" was decided, and nothing says why", decision.ask.0);
        seen.push(case.at(&CODE, &decision.ask.span, message).help("add `because = \"…\"`"));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn why_is_asked_for() {
        let decision = "ask = \"The burn?\", chose = \"leave it\"";
        assert_eq!(
            sees(&RULE, &format!("decision = [{{ {decision} }}]")),
            "1: \"The burn?\" was decided, and nothing says why [add `because = \"…\"`]"
        );
        assert_eq!(sees(&RULE, &format!("decision = [{{ {decision}, because = \"unknown\" }}]")), "");
    }
}
