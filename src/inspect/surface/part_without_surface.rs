//! A wooden part that lies on no surface.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::{Construction, Part, Standing};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "part-without-surface",
    rank: Rank::Hint,
    why: "How a part is cared for follows from what lies on it, and for this part the care sheet says nothing.",
    fix: "Name the part in a surface's `parts`; a part without any finish has `found = \"bare-wood\"`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let surfaces = &case.record.surfaces;
    let on_surface =
        |part: &Part| surfaces.iter().any(|surface| surface.parts.iter().any(|on| on.value == part.id.value));
    let bare: Vec<_> = case.record.parts.iter().filter(|part| is_wood(part) && !on_surface(part)).collect();
    match (bare.as_slice(), surfaces.is_empty()) {
        ([], _) => {}
        // Said once, not at every part, where the record has no surface yet.
        ([first, ..], true) => {
            let help = format!("add\n[[surface]]\nparts = [\"{}\"]\nfound = \"unknown\"", first.id.0);
            seen.push(case.whole(&CODE, "nothing says what lies on any of the parts").help(help));
        }
        (bare, false) => {
            for part in bare {
                let message = format!("part `{}` lies on no surface", part.id.0);
                let help = "add it to the `parts` of one; a part without finish has `found = \"bare-wood\"`";
                seen.push(case.at(&CODE, &part.id.span, message).help(help));
            }
        }
    }
}

/// Whether a part is there and known to be of wood.
fn is_wood(part: &Part) -> bool {
    let there = ![Standing::Removed, Standing::Missing].contains(&part.standing.value);
    there
        && match &part.build {
            Some(build) => [
                Construction::Solid,
                Construction::Veneered,
                Construction::Panel,
                Construction::Turned,
                Construction::Bent,
            ]
            .contains(&build.value),
            None => part.timber.is_some() || part.veneer.is_some(),
        }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    const PARTS: &str = r#"part = [
  { id = "top", name = "Top", standing = "new", timber = "oak" },
  { id = "leg", name = "Leg", standing = "new", build = "turned" },
  { id = "glass", name = "Glass", standing = "new", build = "glass" },
  { id = "stop", name = "Stop", standing = "missing", timber = "oak" },
]
"#;

    #[test]
    fn the_leg_was_forgotten() {
        assert_eq!(
            sees(&RULE, &format!("{PARTS}surface = [{{ parts = \"top\" }}]")),
            "3: part `leg` lies on no surface \
             [add it to the `parts` of one; a part without finish has `found = \"bare-wood\"`]"
        );
        assert_eq!(sees(&RULE, &format!("{PARTS}surface = [{{ parts = [\"top\", \"leg\"] }}]")), "");
    }

    #[test]
    fn without_any_surface_it_is_said_once() {
        assert_eq!(
            sees(&RULE, PARTS),
            "-: nothing says what lies on any of the parts \
             [add / [[surface]] / parts = [\"top\"] / found = \"unknown\"]"
        );
    }
}
