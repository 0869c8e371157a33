//! A piece without a story.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "no-story",
    rank: Rank::Hint,
    why: "Facts are believed sooner with the story that ties them together, and the page begins with it.",
    fix: "Write a few paragraphs into the piece's `story.md`: how it came, what was hard, what was decided.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // A prompt made of link definitions prints nothing, so it is no story yet.
    if case.piece.story.is_empty() {
        let help = format!("write a few paragraphs into pieces/{}/story.md", case.piece.folder);
        seen.push(case.whole(&CODE, "this piece has no story").help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn one_word_is_a_story() {
        assert_eq!(
            sees(&RULE, "#- story.md\n  \n"),
            "-: this piece has no story [write a few paragraphs into pieces/table/story.md]"
        );
        assert_eq!(sees(&RULE, "#- story.md\nSound."), "");
    }

    #[test]
    fn a_prompt_that_prints_nothing_is_no_story() {
        assert_ne!(sees(&RULE, "#- story.md\n[//]: # (How did it come?)\n"), "");
    }
}
