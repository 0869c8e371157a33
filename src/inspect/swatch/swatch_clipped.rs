//! A patch with pixels at the very end of their range.

use super::which_span;
use crate::derive::Match;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-clipped",
    rank: Rank::Doubt,
    why: "A channel at its end may have been anything beyond it, so the colour of such pixels is not known and the match may be wrong.",
    fix: "Expose so that neither the patch nor the card is white or black in the picture, and keep reflections off them.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        for patch in seen_as.colours.iter().flat_map(Match::patches) {
            let span = which_span(&seen_as.swatch, patch.which);
            if patch.clipped > case.trade.colour.value("clipped") {
                let share = (patch.clipped * 100.0).round().max(1.0);
                let message = format!(
                    "{share} % of the pixels of `{}` are at the end of their range",
                    patch.which.word()
                );
                let help = "take the picture with less light, or set the patch beside the reflection";
                seen.push(case.at(&CODE, &span, message).help(help));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{pictured, swatch};

    fn white(rows: u32) -> String {
        pictured(&swatch(""), move |_, y| if y < rows { [255, 200, 90] } else { [200, 160, 90] }).sees(&RULE)
    }

    #[test]
    fn two_in_a_hundred_may_be_lost() {
        assert_eq!(
            white(3),
            "1: 3 % of the pixels of `target` are at the end of their range \
             [take the picture with less light, or set the patch beside the reflection]\n\
             1: 3 % of the pixels of `result` are at the end of their range \
             [take the picture with less light, or set the patch beside the reflection]"
        );
        assert_eq!(white(2), "");
    }
}
