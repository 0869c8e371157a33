//! Patches that are larger than the part they are on.

use std::collections::BTreeMap;

use crate::derive::face;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "patch-larger-than-part",
    rank: Rank::Doubt,
    why: "How much of a part is patched follows from both sizes, and is left out where they contradict each other.",
    fix: "Correct the size of the patch or of the part; where little of the part is left, the part itself was replaced.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let mut sums: BTreeMap<&str, f64> = BTreeMap::new();
    for facts in &case.photographs.patches {
        let (Some(area), Some(face)) = (facts.area, face(&facts.part)) else { continue };
        let id = facts.part.id.0.as_str();
        let sum = sums.entry(id).or_default();
        let before = *sum;
        *sum += area.m2();
        // Told once, at the patch that makes it too much.
        if before <= face.m2() && *sum > face.m2() {
            let cm2 = |m2: f64| (m2 * 1e4).round();
            let message = format!(
                "with this patch, {} cm² of `{id}` are patched, and its face has {} cm²",
                cm2(*sum),
                cm2(face.m2())
            );
            let help =
                "correct one of the sizes; they are in millimetres, and `area` is in square centimetres";
            seen.push(case.at(&CODE, &facts.patch.what.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn patches(areas: &[u32]) -> String {
        let part = "part = [{ id = \"a\", name = \"A\", standing = \"original\", size = { length = 200, width = 100 } }]\n";
        let patch =
            |area: &u32| format!("{{ part = \"a\", what = \"filled\", standing = \"new\", area = {area} }}");
        let patches: Vec<String> = areas.iter().map(patch).collect();
        sees(&RULE, &format!("{part}patch = [{}]", patches.join(", ")))
    }

    #[test]
    fn two_patches_may_be_too_much_together() {
        assert_eq!(patches(&[120, 80]), "");
        assert_eq!(
            patches(&[120, 81, 5]),
            "2: with this patch, 201 cm² of `a` are patched, and its face has 200 cm² \
             [correct one of the sizes; they are in millimetres, and `area` is in square centimetres]"
        );
    }
}
