//! A pair with one to three landmarks.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "too-few-landmarks",
    rank: Rank::Doubt,
    why: "Four points are needed to lay one picture over the other in perspective; fewer are not used.",
    fix: "Add points that show in both pictures, spread over the whole piece, or leave all of them out.",
};

/// A homography has eight unknowns, and each point gives two of them.
const NEEDED: usize = 4;

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in &case.record.pairs {
        if let [first, ..] = pair.landmarks.as_slice()
            && pair.landmarks.len() < NEEDED
        {
            let count = pair.landmarks.len();
            let message = format!("{count} of the {NEEDED} landmarks that are needed");
            let help = "add points near the corners: [x before, y before, x after, y after]";
            seen.push(case.at(&CODE, &first.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn landmarks(count: usize) -> String {
        let points = vec!["[0.1, 0.2, 0.3, 0.4]"; count].join(", ");
        sees(&RULE, &format!("pair = [{{ before = \"a.jpg\", after = \"b.jpg\", landmarks = [{points}] }}]"))
    }

    #[test]
    fn none_or_four() {
        assert_eq!(landmarks(0), "");
        assert_eq!(
            landmarks(3),
            "1: 3 of the 4 landmarks that are needed \
             [add points near the corners: [x before, y before, x after, y after]]"
        );
        assert_eq!(landmarks(4), "");
    }
}
