//! A piece without its one sentence.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "no-summary",
    rank: Rank::Hint,
    why: "Lists, feeds and labels have room for one sentence and would show none.",
    fix: "Say with `summary` what the piece is and is good for.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.record.summary.is_none() {
        let help = "add `summary = \"A table for six, made sound.\"`";
        seen.push(case.whole(&CODE, "nothing says in a sentence what the piece is").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_sentence_is_asked_for() {
        assert_eq!(
            sees(&RULE, ""),
            "-: nothing says in a sentence what the piece is [add `summary = \"A table for six, made sound.\"`]"
        );
        assert_eq!(sees(&RULE, "summary = \"A table for six.\""), "");
    }
}
