//! Work that can be undone and does not say how.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Undoable;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "undoable-without-how",
    rank: Rank::Doubt,
    why: "\"Can be undone\" is worth nothing to the next restorer without the way.",
    fix: "Say with `undo` how it comes apart again.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for work in case.record.works.iter().filter(|work| work.undo.is_none()) {
        let Some(undoable) = &work.undoable else { continue };
        if [Undoable::Yes, Undoable::Partly].contains(&undoable.value) {
            let message = format!("\"{}\" can be undone, and nothing says how", work.did.0);
            let help = "add `undo = \"…\"`, such as `undo = \"warm and damp; the keys lift out\"`";
            seen.push(case.at(&CODE, &undoable.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn work(more: &str) -> String {
        sees(&RULE, &format!("work = [{{ did = \"glued it\", {more} }}]"))
    }

    #[test]
    fn partly_asks_for_the_way_too() {
        assert_eq!(
            work("undoable = \"partly\""),
            "1: \"glued it\" can be undone, and nothing says how \
             [add `undo = \"…\"`, such as `undo = \"warm and damp; the keys lift out\"`]"
        );
        assert_eq!(work("undoable = \"partly\", undo = \"steam\""), "");
        assert_eq!(work("undoable = \"no\""), "");
        assert_eq!(work("undoable = \"unknown\""), "");
    }
}
