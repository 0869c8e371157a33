//! A part made from stock that is not in `stock.toml`.

use super::names::KnownIds;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "unknown-stock",
    rank: Rank::Mistake,
    why: "The buyer is told where old material came from, and this part's origin leads nowhere.",
    fix: "Write the id of an item in `stock.toml`, or add the item there.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let stock = KnownIds {
        kind: "stock",
        known: case.folder.stock.items.iter().map(|item| item.id.0.as_str()).collect(),
        example: "`[[stock]]` with `id`, `what` and `origin` to stock.toml",
    };
    for used in case.intended().parts.iter().filter_map(|part| part.from_stock.as_ref()) {
        stock.look_up(case, &CODE, used, seen);
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(stock: &str) -> String {
        sees(
            &RULE,
            &format!(
                "part = [{{ id = \"top\", name = \"Top\", standing = \"salvaged\", from-stock = \"{stock}\" }}]
#- stock.toml
stock = [{{ id = \"ply-2025-03\", what = \"Birch plywood\" }}]"
            ),
        )
    }

    #[test]
    fn stock_is_looked_up_in_its_file() {
        assert_eq!(part("ply-2025-3"), "1: no stock has the id `ply-2025-3` [write \"ply-2025-03\"]");
        assert_eq!(part("ply-2025-03"), "");
    }
}
