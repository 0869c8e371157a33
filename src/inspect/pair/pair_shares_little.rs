//! Before and after of which little shows in both.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "pair-shares-little",
    rank: Rank::Doubt,
    why: "Both pictures are cut to what both show, so most of the view after the work is lost from the comparison.",
    fix: "Pair photographs that were taken from nearly the same place, or leave the landmarks out to show both whole.",
};

/// Less of the photograph after than this is little.
const LITTLE: f64 = 0.4;

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in &case.photographs.pairs {
        let (Some(entry), Some(Ok(alignment))) = (&pair.pairing.entry, &pair.alignment) else { continue };
        let share = alignment.share();
        if share < LITTLE {
            let message = format!("the two share {:.0} % of the view after the work", share * 100.0);
            let help = "pair photographs from nearly the same place, or leave the landmarks out";
            seen.push(case.at(&CODE, &entry.before.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::laid;

    /// The picture before fills a share of the width and of the height of the one after.
    fn filling(share: f64) -> String {
        let point = |x: f64, y: f64| format!("[{x}, {y}, {}, {}]", x * share, y * share);
        format!("[{}, {}, {}, {}]", point(0.1, 0.1), point(0.9, 0.1), point(0.9, 0.9), point(0.1, 0.9))
    }

    #[test]
    fn a_third_but_not_a_half() {
        assert_eq!(
            laid(&RULE, &filling(0.6)),
            "1: the two share 36 % of the view after the work \
             [pair photographs from nearly the same place, or leave the landmarks out]"
        );
        assert_eq!(laid(&RULE, &filling(0.7)), "");
    }
}
