//! Something original that replaces something.

use crate::diag::{Code, Diagnostic, Rank};
use crate::fields::{Said, Text};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "original-instead-of",
    rank: Rank::Doubt,
    why: "What replaces something came after it, so one of the two is wrong; the papers call it not known until it is settled.",
    fix: "Take `instead-of` out, or call it what it is: `new`, `salvaged`, `later` or `old-repair`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let record = case.record;
    let parts =
        record.parts.iter().map(|part| (&part.standing, &part.instead_of, format!("part `{}`", part.id.0)));
    let fixings = record
        .fixings
        .iter()
        .map(|fixing| (&fixing.standing, &fixing.instead_of, format!("`{}`", fixing.kind.0)));
    let patches = record
        .patches
        .iter()
        .map(|patch| (&patch.standing, &patch.instead_of, format!("patch `{}`", patch.what.0)));
    for (standing, instead_of, name) in parts.chain(fixings).chain(patches) {
        let replaced: Option<&Said<Text>> = instead_of.as_ref();
        if let (Standing::Original, Some(old)) = (standing.value, replaced) {
            let message = format!("{name} is original, and yet in place of something");
            let help = "write the standing of what replaced it, such as \"new\", or leave `instead-of` out";
            seen.push(case.at(&CODE, &old.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(standing: &str) -> String {
        sees(
            &RULE,
            &format!(
                "part = [{{ id = \"a\", name = \"A\", standing = \"{standing}\", instead-of = \"a lost one\" }}]"
            ),
        )
    }

    #[test]
    fn an_original_part_replaces_nothing() {
        assert_eq!(
            part("original"),
            "1: part `a` is original, and yet in place of something \
             [write the standing of what replaced it, such as \"new\", or leave `instead-of` out]"
        );
        assert_eq!(part("new"), "");
    }

    #[test]
    fn fixings_and_patches_are_looked_at_too() {
        let both = "fixing = [{ kind = \"hide-glue\", standing = \"original\", instead-of = \"nails\" }]\n\
                    part = [{ id = \"a\", name = \"A\", standing = \"original\" }]\n\
                    patch = [{ part = \"a\", what = \"filled hole\", standing = \"original\", instead-of = \"a knot\" }]";
        assert_eq!(sees(&RULE, both).lines().count(), 2);
    }
}
