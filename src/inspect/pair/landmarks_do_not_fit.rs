//! Landmarks that miss each other by more than can be overlooked.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "landmarks-do-not-fit",
    rank: Rank::Doubt,
    why: "Where points miss each other by more than a hundredth of the width, the piece jumps as the two pictures are compared.",
    fix: "Take the point that misses most again in both pictures, and keep to points in one plane of the piece.",
};

/// The largest miss that is passed over, as a share of the width of the photograph after.
const PASSED: f64 = 0.01;

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for pair in &case.photographs.pairs {
        let (Some(entry), Some(Ok(alignment))) = (&pair.pairing.entry, &pair.alignment) else { continue };
        let (worst, miss) = alignment.worst();
        let width = alignment.after.0;
        if miss <= PASSED * f64::from(width) {
            continue;
        }
        let message = format!("point {worst} misses its place by {miss:.0} of the picture's {width} pixels");
        let help =
            "take it again in both pictures, or leave it out where it lies nearer or farther than the others";
        // Every miss has its landmark.
        let Some(landmark) = entry.landmarks.get(worst - 1) else { continue };
        seen.push(case.at(&CODE, &landmark.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::laid;

    /// Nine points of which the fifth, in the middle, has slipped to the right by a share of the width.
    fn slipped(by: f64) -> String {
        let point = |index: usize| {
            let (x, y) = (0.1 + 0.4 * (index % 3) as f64, 0.1 + 0.4 * (index / 3) as f64);
            format!("[{x}, {y}, {}, {y}]", if index == 4 { x + by } else { x })
        };
        format!("[{}]", (0..9).map(point).collect::<Vec<_>>().join(",\n"))
    }

    #[test]
    fn one_that_slipped_is_named() {
        assert_eq!(
            laid(&RULE, &slipped(0.03)),
            "5: point 5 misses its place by 19 of the picture's 800 pixels \
             [take it again in both pictures, or leave it out where it lies nearer or farther than the others]"
        );
    }

    #[test]
    fn a_hundredth_of_the_width_is_passed_over() {
        assert_eq!(laid(&RULE, &slipped(0.01)), "");
        assert_eq!(laid(&RULE, &slipped(0.0)), "");
    }
}
