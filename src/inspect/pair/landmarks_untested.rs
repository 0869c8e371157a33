//! Four landmarks, which fit whatever they are.

use crate::derive::NEEDED;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "landmarks-untested",
    rank: Rank::Hint,
    why: "Four points always meet exactly, so nothing tells whether one of them is off; a fifth shows it.",
    fix: "Add a fifth point in the same plane, or leave it where the two pictures meet as they should.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in &case.photographs.pairs {
        let (Some(entry), Some(Ok(alignment))) = (&pair.pairing.entry, &pair.alignment) else { continue };
        if let ([first, ..], false) = (entry.landmarks.as_slice(), alignment.tested()) {
            let message = format!("{NEEDED} landmarks meet whether they are right or not");
            seen.push(case.at(&CODE, &first.span, message).help("add a fifth point in the same plane"));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::laid;

    const FOUR: &str =
        "[0.1, 0.1, 0.1, 0.1], [0.9, 0.1, 0.9, 0.1], [0.9, 0.9, 0.9, 0.9], [0.1, 0.9, 0.1, 0.9]";

    #[test]
    fn four_but_not_five() {
        assert_eq!(
            laid(&RULE, &format!("[{FOUR}]")),
            "1: 4 landmarks meet whether they are right or not [add a fifth point in the same plane]"
        );
        assert_eq!(laid(&RULE, &format!("[{FOUR}, [0.5, 0.4, 0.5, 0.4]]")), "");
    }
}
