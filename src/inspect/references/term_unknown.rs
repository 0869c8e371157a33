//! A word for something seen that is almost one of the trade's.

use crate::diag::nearest;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "term-unknown",
    rank: Rank::Hint,
    why: "Terms of the tables are explained to the buyer and found again in the archive; a misspelt one is neither.",
    fix: "Take the suggested term; words that are like no term are printed as they are.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for what in case.record.findings.iter().map(|finding| &finding.seen) {
        let words = what.0.to_lowercase();
        if case.trade.term(&what.0).is_some() || case.trade.term(&words).is_some() {
            continue;
        }
        let terms = case.trade.terms.rows.iter().flat_map(|row| [row.id.0.as_str(), row.label.0.as_str()]);
        let also = case.trade.terms.rows.iter().flat_map(|row| row.also.iter().map(|also| also.0.as_str()));
        if let Some(near) = nearest(&words, terms.chain(also)) {
            let message = format!("\"{}\" is no term that is known here", what.0);
            seen.push(case.at(&CODE, &what.span, message).help(format!("did you mean \"{near}\"?")));
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
            "1: \"lose-joint\" is no term that is known here [did you mean \"loose-joint\"?]"
        );
    }

    #[test]
    fn terms_their_other_names_and_free_words() {
        for words in ["loose-joint", "Loose joint", "wobbly joint", "child's drawing in wax crayon"] {
            assert_eq!(finding(words), "", "{words}");
        }
    }
}
