//! Landmarks from which no map follows.

use crate::derive::Unfit;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "landmarks-refused",
    rank: Rank::Doubt,
    why: "The two photographs cannot be laid onto each other by these points, so they are shown side by side.",
    fix: "Take four or more points in one plane of the piece, far apart, no three in a line, each the same in both pictures.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in &case.photographs.pairs {
        let (Some(entry), Some(Err(unfit))) = (&pair.pairing.entry, &pair.alignment) else { continue };
        let landmarks = &entry.landmarks;
        let (number, help) = match unfit {
            // Another rule counts them.
            Unfit::TooFew(_) => continue,
            Unfit::Same(_, second, _) => (*second, "take another point in place of one of the two"),
            Unfit::InLine(..) => (1, "add a point well to the side of that line"),
            Unfit::Clumped(_) => (1, "take points near the corners of the piece"),
            Unfit::Open => (1, "add points, far apart and no three in a line"),
            Unfit::Mirrored | Unfit::Torn => {
                (1, "see whether two of the points are swapped in one of the pictures")
            }
            Unfit::Contradicting(worst, _) => (
                *worst,
                "take this point again in both pictures, or leave it out where it lies in another plane",
            ),
            Unfit::Strangers(_) => (1, "see whether the points are the same in both pictures"),
        };
        // There are landmarks, or there would be no answer.
        let Some(landmark) = landmarks.get(number - 1) else { continue };
        seen.push(case.at(&CODE, &landmark.span, unfit.to_string()).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::laid;

    #[test]
    fn three_in_a_line() {
        assert_eq!(
            laid(
                &RULE,
                "[[0.1, 0.1, 0.1, 0.1],\n[0.2, 0.2, 0.2, 0.2],\n[0.3, 0.3, 0.3, 0.3],\n[0.4, 0.9, 0.4, 0.9]]"
            ),
            "1: points 1, 2, 3 lie nearly in one line in the picture before \
             [add a point well to the side of that line]"
        );
    }

    #[test]
    fn two_at_one_place_at_the_second() {
        let points =
            "[[0.1, 0.1, 0.1, 0.1],\n[0.9, 0.1, 0.9, 0.1],\n[0.9, 0.9, 0.9, 0.9],\n[0.1, 0.101, 0.1, 0.9]]";
        assert_eq!(
            laid(&RULE, points),
            "4: points 1 and 4 lie at one place in the picture before \
             [take another point in place of one of the two]"
        );
    }

    #[test]
    fn four_good_ones_and_three() {
        let good = "[[0.1, 0.1, 0.1, 0.1], [0.9, 0.1, 0.9, 0.1], [0.9, 0.9, 0.9, 0.9], [0.1, 0.9, 0.1, 0.9]]";
        assert_eq!(laid(&RULE, good), "");
        assert_eq!(laid(&RULE, "[[0.1, 0.1, 0.1, 0.1], [0.9, 0.1, 0.9, 0.1], [0.9, 0.9, 0.9, 0.9]]"), "");
        assert_eq!(laid(&RULE, "[]"), "");
    }
}
