//! A fixing that holds nothing that is there.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "fixing-in-part-gone",
    rank: Rank::Doubt,
    why: "A fixing cannot hold what the piece does not have, so it is gone as well, or sits in another part.",
    fix: "Name the part that it sits in today, or call the fixing `removed` or `missing`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for fixing in &case.record.fixings {
        let gone = [Standing::Removed, Standing::Missing].contains(&fixing.standing.value);
        let absent = |id: &str| case.part(id).is_some_and(|part| !part.present());
        if let (Some(first), false) = (fixing.part.first(), gone)
            && fixing.part.iter().all(|part| absent(&part.0))
        {
            let message =
                format!("`{}` is said to sit in `{}`, which is not there today", fixing.kind.0, first.0);
            let help = "name the part that it sits in today, or write `standing = \"removed\"`";
            seen.push(case.at(&CODE, &first.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn fixing(parts: &str, standing: &str) -> String {
        let rows = "part = [{ id = \"a\", name = \"A\", standing = \"removed\" }, { id = \"b\", name = \"B\", standing = \"new\" }]\n";
        sees(
            &RULE,
            &format!(
                "{rows}fixing = [{{ kind = \"screw-slotted\", part = {parts}, standing = \"{standing}\" }}]"
            ),
        )
    }

    #[test]
    fn screws_in_a_part_that_was_taken_away() {
        assert_eq!(
            fixing("\"a\"", "new"),
            "2: `screw-slotted` is said to sit in `a`, which is not there today \
             [name the part that it sits in today, or write `standing = \"removed\"`]"
        );
        assert_eq!(fixing("[\"a\", \"b\"]", "new"), "");
        assert_eq!(fixing("\"a\"", "removed"), "");
    }
}
