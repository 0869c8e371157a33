//! A grey card that is dark in the picture.

use super::which_span;
use crate::derive::{Unmeasured, Which};
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-grey-too-dark",
    rank: Rank::Doubt,
    why: "Every colour is scaled by the card, and a dark one is mostly the camera's noise.",
    fix: "Expose longer, or draw `grey` on the card and not on its shadow.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        let least = case.trade.colour.value("grey-lightness");
        let lightness = match &seen_as.colours {
            Ok(found) => found.grey.as_ref().map(|card| card.seen.l),
            Err(Unmeasured::BlackCard) => Some(0.0),
            Err(_) => None,
        };
        if let Some(lightness) = lightness.filter(|lightness| *lightness < least) {
            let message = format!("the grey card has a lightness of {lightness:.0} in the picture");
            let help =
                format!("at least {least} is wanted; expose longer, or draw `grey` on the card itself");
            seen.push(case.at(&CODE, &which_span(&seen_as.swatch, Which::Grey), message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{pictured, swatch};

    fn card(level: u8) -> String {
        pictured(
            &swatch("grey = [0, 0.5, 0.4, 0.5]"),
            move |_, y| if y < 50 { [150, 100, 60] } else { [level; 3] },
        )
        .sees(&RULE)
    }

    #[test]
    fn a_card_in_shadow_is_too_dark() {
        let help = "at least 25 is wanted; expose longer, or draw `grey` on the card itself";
        assert_eq!(card(58), format!("1: the grey card has a lightness of 24 in the picture [{help}]"));
        assert_eq!(card(0), format!("1: the grey card has a lightness of 0 in the picture [{help}]"));
        assert_eq!(card(62), "");
    }
}
