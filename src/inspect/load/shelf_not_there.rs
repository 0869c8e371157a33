//! A shelf to be loaded that the piece does not have.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "shelf-not-there",
    rank: Rank::Doubt,
    why: "The buyer would be told how much to put on a shelf that is not in the piece.",
    fix: "Take the shelf out of `[use]`, or correct the part's standing.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for shelf in case.record.r#use.iter().flat_map(|r#use| &r#use.shelves) {
        let standing = case.part(&shelf.part.0).map(|part| part.standing.value);
        if let Some(standing @ (Standing::Removed | Standing::Missing)) = standing {
            let message =
                format!("the shelf `{}` is {}, and no load can be put on it", shelf.part.0, standing.word());
            let help = "take it out of `shelves`, or correct the part's `standing`";
            seen.push(case.at(&CODE, &shelf.part.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn shelf(standing: &str) -> String {
        let part = format!("part = [{{ id = \"shelf\", name = \"Shelf\", standing = \"{standing}\" }}]");
        sees(&RULE, &format!("use = {{ shelves = [{{ part = \"shelf\" }}] }}\n{part}"))
    }

    #[test]
    fn a_missing_shelf_carries_nothing() {
        assert_eq!(
            shelf("missing"),
            "1: the shelf `shelf` is missing, and no load can be put on it \
             [take it out of `shelves`, or correct the part's `standing`]"
        );
        assert_eq!(shelf("unknown"), "");
    }
}
