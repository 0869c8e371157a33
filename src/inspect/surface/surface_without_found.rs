//! A coat on a surface of which nobody said what lay there before.

use crate::derive::face::Face;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "surface-without-found",
    rank: Rank::Hint,
    why: "What one may put on a coat depends on all that lies below it, so the papers tell the buyer to put nothing on it.",
    fix: "Say with `found` what lay there before the work; on bare wood that is `bare-wood`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    // Something was laid, and what may lie below is not recorded.
    let open = |face: &Face| {
        let (laid, below): (Vec<_>, Vec<_>) = face.layers.iter().partition(|layer| layer.place.is_some());
        !laid.is_empty() && !below.is_empty()
    };
    for facts in &case.facts.surfaces {
        let surface = &facts.surface;
        if surface.found.is_empty() && facts.faces.iter().any(open) {
            let message = "nothing says what lay on this surface before the coat";
            let help = "add `found = \"bare-wood\"`, or the finish that was there";
            seen.push(case.at(&CODE, &surface.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn what_lay_there_is_asked_of_old_parts_alone() {
        let told = |standing: &str, surface: &str| {
            let part =
                format!("{{ id = \"seat\", name = \"Seat\", standing = \"{standing}\", build = \"solid\" }}");
            sees(&RULE, &format!("part = [{part}]\nsurface = [{{ parts = [\"seat\"], {surface} }}]"))
        };
        let waxed = "steps = [{ apply = \"paste-wax\" }]";
        assert_eq!(
            told("original", waxed),
            "2: nothing says what lay on this surface before the coat \
             [add `found = \"bare-wood\"`, or the finish that was there]"
        );
        assert_eq!(told("original", &format!("found = \"bare-wood\", {waxed}")), "");
        assert_eq!(told("new", waxed), "");
        assert_eq!(told("original", "steps = [{ clean = \"white spirit\" }]"), "");
    }
}
