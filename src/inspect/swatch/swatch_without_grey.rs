//! Colours measured without a grey card in the picture.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-without-grey",
    rank: Rank::Hint,
    why: "Without something neutral in the picture nobody can tell the colour of the wood from the colour of the light.",
    fix: "Lay a grey card beside the patches, draw its rectangle as `grey`, and state its reflectance if it is known.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[swatch]]") {
        return;
    }
    for swatch in case.record.swatches.iter().filter(|swatch| swatch.grey.is_none()) {
        let seen_as = match &swatch.grey_reflectance {
            Some(reflectance) => case.at(
                &CODE,
                &reflectance.span,
                "this is the reflectance of a grey card that is nowhere in the picture",
            ),
            None => case.at(&CODE, &swatch.span, "this colour was measured without a grey card"),
        };
        seen.push(
            seen_as.help("add `grey = [x, y, width, height]`, where a neutral card lies in the same light"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::{sees, swatch};

    #[test]
    fn a_card_without_its_reflectance_will_do() {
        let help = "add `grey = [x, y, width, height]`, where a neutral card lies in the same light";
        assert_eq!(
            sees(&RULE, &swatch("")),
            format!("1: this colour was measured without a grey card [{help}]")
        );
        assert_eq!(
            sees(&RULE, &swatch("grey-reflectance = 18")),
            format!("1: this is the reflectance of a grey card that is nowhere in the picture [{help}]")
        );
        assert_eq!(sees(&RULE, &swatch("grey = [0, 0, 1, 0.2]")), "");
    }
}
