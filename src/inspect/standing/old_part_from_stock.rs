//! A part that was there before this workshop, and yet made from its stock.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "old-part-from-stock",
    rank: Rank::Doubt,
    why: "What came out of the workshop's stock was not there before, so the papers call its standing not known.",
    fix: "Write `new` or `salvaged`; where only a piece was let in, record that as a `[[patch]]`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let old = [Standing::Original, Standing::OldRepair, Standing::Later];
    for part in case.record.parts.iter().filter(|part| old.contains(&part.standing.value)) {
        if let Some(stock) = &part.from_stock {
            let message =
                format!("part `{}` is {}, and yet made from stock", part.id.0, part.standing.word());
            let help =
                "write `standing = \"new\"` or `standing = \"salvaged\"`; a piece let in is a `[[patch]]`";
            seen.push(case.at(&CODE, &stock.span, message).help(help));
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
                "part = [{{ id = \"a\", name = \"A\", standing = \"{standing}\", from-stock = \"oak\" }}]"
            ),
        )
    }

    #[test]
    fn what_comes_from_stock_is_not_old_here() {
        assert_eq!(
            part("later"),
            "1: part `a` is later, and yet made from stock \
             [write `standing = \"new\"` or `standing = \"salvaged\"`; a piece let in is a `[[patch]]`]"
        );
        assert_eq!(part("salvaged"), "");
    }
}
