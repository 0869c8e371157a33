//! A patch that changes from one side to the other.

use super::which_span;
use crate::derive::Match;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-uneven",
    rank: Rank::Doubt,
    why: "Where the light falls off across a patch, or its rectangle takes in something else, the mean is the colour of neither.",
    fix: "Draw the rectangle well inside the colour, and light the patch evenly.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        for patch in seen_as.colours.iter().flat_map(Match::patches) {
            if patch.slope > case.trade.colour.value("slope") {
                let message = format!(
                    "the lightness of `{}` changes by {:.1} L* across it",
                    patch.which.word(),
                    patch.slope
                );
                let help = "draw the rectangle well inside the colour, or even out the light";
                seen.push(case.at(&CODE, &which_span(&seen_as.swatch, patch.which), message).help(help));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{pictured, swatch};

    /// A patch that grows lighter from left to right by so many samples in all.
    fn sloping(by: u32) -> String {
        pictured(&swatch(""), move |x, _| [120 + u8::try_from(x.min(99) * by / 99).unwrap(); 3]).sees(&RULE)
    }

    #[test]
    fn some_fall_of_the_light_is_common() {
        assert_eq!(
            sloping(16),
            "1: the lightness of `target` changes by 4.2 L* across it \
             [draw the rectangle well inside the colour, or even out the light]"
        );
        assert_eq!(sloping(12), "");
    }
}
