//! A colour measured for a surface that there is not.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "swatch-surface-missing",
    rank: Rank::Doubt,
    why: "The colour and its recipe would be printed with no surface.",
    fix: "Count the record's surfaces from 1, or name a `part` instead.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    if case.lost("[[surface]]") {
        return;
    }
    let surfaces = case.record.surfaces.len();
    for surface in case.record.swatches.iter().filter_map(|swatch| swatch.surface.as_ref()) {
        if surface.value.0 as usize > surfaces {
            let message = format!("there is no surface {}: the record has {surfaces}", surface.value.0);
            let help = "surfaces are counted from 1 in the order of the record";
            seen.push(case.at(&CODE, &surface.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn swatch(surface: u32) -> String {
        let swatch =
            format!("photo = \"a.jpg\", target = [0, 0, 1, 1], result = [0, 0, 1, 1], surface = {surface}");
        sees(
            &RULE,
            &format!("swatch = [{{ {swatch} }}]\nsurface = [{{ name = \"Top\" }}, {{ name = \"Base\" }}]"),
        )
    }

    #[test]
    fn the_last_surface_is_there() {
        assert_eq!(
            swatch(3),
            "1: there is no surface 3: the record has 2 [surfaces are counted from 1 in the order of the record]"
        );
        assert_eq!(swatch(2), "");
    }
}
