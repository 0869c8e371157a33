//! A kind of fixing that is not in the tables.

use super::names::not_taken;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "fixing-kind-unknown",
    rank: Rank::Doubt,
    why: "How it comes out again and what it says about the date are known only for fixings of the tables.",
    fix: "Write the id of a kind where one fits; free words are printed as they are.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for kind in case.intended().fixings.iter().map(|fixing| &fixing.kind) {
        if declared_unknown(kind) {
            continue;
        }
        if let Some((message, help)) = not_taken(kind, &case.trade.fixing_words(), "kind of fixing", AS_TYPED)
        {
            seen.push(case.at(&CODE, &kind.span, message).help(help));
        }
    }
}

const AS_TYPED: &str = "it is printed as typed; say with `undo` how it comes out again";

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn kind(kind: &str) -> String {
        sees(&RULE, &format!("fixing = [{{ kind = \"{kind}\", standing = \"new\" }}]"))
    }

    #[test]
    fn slips_doubtful_and_free_words() {
        assert_eq!(
            kind("screw-croshead"),
            "1: `screw-croshead` is no kind of fixing that is known here [write \"screw-crosshead\"]"
        );
        for word in ["leather strap", "rawhide"] {
            assert!(kind(word).ends_with("[it is printed as typed; say with `undo` how it comes out again]"));
        }
        assert!(kind("pin").contains("may mean more than one kind of fixing [Which pin"));
    }

    #[test]
    fn a_kind_of_the_tables_or_not_known() {
        for word in ["screw-crosshead", "Cross head screws", "cross dowel and bolt", "PVA"] {
            assert_eq!(kind(word), "", "{word}");
        }
        assert_eq!(kind("unknown"), "");
    }
}
