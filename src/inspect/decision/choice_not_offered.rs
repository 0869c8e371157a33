//! A choice that is none of the ways that were open.

use crate::diag::nearest;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::quoted;
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "choice-not-offered",
    rank: Rank::Doubt,
    why: "The papers show the options with the one taken among them, and here none of them was taken.",
    fix: "Write in `chose` the words of one `plan`, or add the way taken to `options`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for decision in &case.record.decisions {
        let plans: Vec<&str> = decision.options.iter().map(|option| option.plan.0.as_str()).collect();
        let chose = &decision.chose;
        if plans.is_empty() || plans.contains(&chose.0.as_str()) {
            continue;
        }
        let help = match nearest(chose, plans.iter().copied()) {
            Some(near) => format!("write \"{near}\""),
            None => format!("write one of {}, or add it to `options`", quoted(plans)),
        };
        seen.push(
            case.at(&CODE, &chose.span, format!("\"{}\" was not among the options", chose.0)).help(help),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn chose(words: &str) -> String {
        let options = "options = [{ plan = \"leave it\" }, { plan = \"scrape and colour\" }]";
        sees(&RULE, &format!("decision = [{{ ask = \"The burn?\", chose = \"{words}\", {options} }}]"))
    }

    #[test]
    fn the_words_must_be_those_of_an_option() {
        assert_eq!(
            chose("scrape & colour"),
            "1: \"scrape & colour\" was not among the options [write \"scrape and colour\"]"
        );
        assert_eq!(
            chose("patch"),
            "1: \"patch\" was not among the options \
             [write one of `leave it`, `scrape and colour`, or add it to `options`]"
        );
        assert_eq!(chose("leave it"), "");
    }

    #[test]
    fn without_options_there_is_nothing_to_compare() {
        assert_eq!(sees(&RULE, "decision = [{ ask = \"The burn?\", chose = \"leave it\" }]"), "");
    }
}
