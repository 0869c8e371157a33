//! A word for something seen that is almost one of the trade's.

use super::names::not_taken;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "term-unknown",
    rank: Rank::Doubt,
    why: "Terms of the tables are explained to the buyer and found again in the archive; a misspelt one is neither.",
    fix: "Take the suggested term, or one that answers the question; words that are like no term are printed as they are.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for what in case.intended().findings.iter().map(|finding| &finding.seen) {
        // Free words are as good, and nothing needs to be said of them.
        let told =
            not_taken(&what.0, &case.trade.term_words(), "term", "").filter(|(_, help)| !help.is_empty());
        if let Some((message, help)) = told {
            seen.push(case.at(&CODE, &what.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn finding(words: &str) -> String {
        sees(&RULE, &format!("finding = [{{ id = \"f1\", seen = \"{words}\" }}]"))
    }

    #[test]
    fn a_misspelt_term() {
        assert_eq!(
            finding("lose-joint"),
            "1: `lose-joint` is no term that is known here [write \"loose-joint\"]"
        );
    }

    #[test]
    fn a_term_of_several_meanings() {
        assert!(finding("Ring").contains("`Ring` may mean more than one term [Is the ring white"));
    }

    #[test]
    fn terms_their_other_names_and_free_words() {
        for words in ["loose-joint", "Loose joint", "wobbly joint", "child's drawing in wax crayon"] {
            assert_eq!(finding(words), "", "{words}");
        }
    }
}
