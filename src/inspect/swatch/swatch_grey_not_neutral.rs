//! A grey card that is far from grey in the picture.

use super::which_span;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-grey-not-neutral",
    rank: Rank::Doubt,
    why: "Colours are scaled until the card has none; where it has much, it is no grey card, or the light is too far from daylight to be undone.",
    fix: "Draw `grey` on a neutral card, or take the picture by daylight.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for seen_as in &case.photographs.swatches {
        let Some(card) = seen_as.colours.as_ref().ok().and_then(|found| found.grey.as_ref()) else {
            continue;
        };
        let most = case.trade.colour.value("grey-chroma");
        if card.seen.chroma() > most {
            let message = format!("the grey card has a chroma of {:.0} in the picture", card.seen.chroma());
            let help =
                format!("up to {most} can be undone; draw `grey` on the card, or photograph by daylight");
            seen.push(case.at(&CODE, &which_span(&seen_as.swatch, card.which), message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{pictured, swatch};

    fn card(colour: [u8; 3]) -> String {
        pictured(
            &swatch("grey = [0, 0.5, 0.4, 0.5]"),
            move |_, y| if y < 50 { [150, 100, 60] } else { colour },
        )
        .sees(&RULE)
    }

    #[test]
    fn warm_light_is_undone_and_an_orange_card_is_none() {
        assert_eq!(
            card([170, 120, 70]),
            "1: the grey card has a chroma of 38 in the picture \
             [up to 25 can be undone; draw `grey` on the card, or photograph by daylight]"
        );
        assert_eq!(card([140, 118, 96]), "");
    }
}
