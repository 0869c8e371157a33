//! A decision without the ways that were open.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "decision-without-options",
    rank: Rank::Hint,
    why: "A choice is only understood beside what it was chosen over, and doing nothing is always one of them.",
    fix: "List at least two `options`, with what speaks for and against each.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for decision in case.record.decisions.iter().filter(|decision| decision.options.len() < 2) {
        let message = format!("\"{}\" shows no way but the one taken", decision.ask.0);
        let help =
            "add `options = [{ plan = \"leave it\", against = \"…\" }, { plan = \"…\", for = \"…\" }]`";
        seen.push(case.at(&CODE, &decision.ask.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn decision(options: &str) -> String {
        sees(
            &RULE,
            &format!("decision = [{{ ask = \"The burn?\", chose = \"leave it\", options = [{options}] }}]"),
        )
    }

    #[test]
    fn two_ways_are_a_choice() {
        assert_eq!(
            decision("{ plan = \"leave it\" }"),
            "1: \"The burn?\" shows no way but the one taken \
             [add `options = [{ plan = \"leave it\", against = \"…\" }, { plan = \"…\", for = \"…\" }]`]"
        );
        assert_eq!(decision("{ plan = \"leave it\" }, { plan = \"patch\" }"), "");
    }
}
