//! A patch of few pixels.

use super::which_span;
use crate::derive::{Match, Unmeasured};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-too-small",
    rank: Rank::Doubt,
    why: "Over a few pixels the grain, the camera's noise and the blocks of the JPEG form decide the mean, and not the colour.",
    fix: "Photograph the patch from nearer, or draw its rectangle larger.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        let least = case.trade.colour.value("side");
        let help =
            format!("make its rectangle at least {least} pixels wide and high, or photograph it from nearer");
        for patch in
            seen_as.colours.iter().flat_map(Match::patches).filter(|patch| f64::from(patch.side) < least)
        {
            let message = format!("`{}` is {} pixels at its shorter side", patch.which.word(), patch.side);
            seen.push(case.at(&CODE, &which_span(&seen_as.swatch, patch.which), message).help(&help));
        }
        if let Err(Unmeasured::TooSmall(which)) = seen_as.colours {
            let message = format!("`{}` covers next to no pixels, so nothing was measured", which.word());
            seen.push(case.at(&CODE, &which_span(&seen_as.swatch, which), message).help(&help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::pictured;

    fn target(rectangle: &str) -> String {
        let record =
            format!("swatch = [{{ photo = \"a.jpg\", target = {rectangle}, result = [0.5, 0, 0.5, 1] }}]");
        pictured(&record, |_, _| [150, 100, 60]).sees(&RULE)
    }

    #[test]
    fn thirty_two_pixels_are_enough() {
        assert_eq!(
            target("[0, 0, 0.1, 0.31]"),
            "1: `target` is 30 pixels at its shorter side \
             [make its rectangle at least 32 pixels wide and high, or photograph it from nearer]"
        );
        assert_eq!(
            target("[0, 0, 0.5, 0.01]"),
            "1: `target` covers next to no pixels, so nothing was measured \
             [make its rectangle at least 32 pixels wide and high, or photograph it from nearer]"
        );
        assert_eq!(target("[0, 0, 0.2, 0.32]"), "");
    }
}
