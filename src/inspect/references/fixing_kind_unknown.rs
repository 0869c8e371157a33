//! A kind of fixing that is not in the tables.

use super::names::meant;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "fixing-kind-unknown",
    rank: Rank::Hint,
    why: "How it comes out again and what it says about the date are known only for fixings of the tables.",
    fix: "Write the id of a kind where one fits; free words are printed as they are.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for kind in case.record.fixings.iter().map(|fixing| &fixing.kind) {
        if declared_unknown(kind) || case.trade.fixing(kind).is_some() {
            continue;
        }
        let fixings = &case.trade.fixings.rows;
        let labelled =
            fixings.iter().find(|row| row.label.value == kind.value || row.label_plural.value == kind.value);
        let ids: Vec<&str> = fixings.iter().map(|row| row.id.0.as_str()).collect();
        let help = match labelled {
            Some(row) => format!("write \"{}\"", row.id.0),
            None => meant(kind, &ids).unwrap_or_else(|| "say with `undo` how it comes out again".to_owned()),
        };
        let message = format!("`{}` is no kind of fixing that is known here", kind.0);
        seen.push(case.at(&CODE, &kind.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn kind(kind: &str) -> String {
        sees(&RULE, &format!("fixing = [{{ kind = \"{kind}\", standing = \"new\" }}]"))
    }

    #[test]
    fn slips_labels_and_free_words() {
        assert_eq!(
            kind("screw-croshead"),
            "1: `screw-croshead` is no kind of fixing that is known here [write \"screw-crosshead\"]"
        );
        assert!(kind("cross dowel and bolt").ends_with("[write \"barrel-nut\"]"));
        assert!(kind("leather strap").ends_with("[perhaps \"hinge-strap\"]"));
        assert!(kind("rawhide").ends_with("[say with `undo` how it comes out again]"));
    }

    #[test]
    fn a_kind_of_the_tables_or_not_known() {
        assert_eq!(kind("screw-crosshead"), "");
        assert_eq!(kind("unknown"), "");
    }
}
