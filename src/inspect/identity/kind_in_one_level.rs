//! A kind in one word where two levels are asked.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::words::declared_unknown;
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "kind-in-one-level",
    rank: Rank::Hint,
    why: "Object ID asks for the type of object; two levels let the archive find both all tables and all gatelegs.",
    fix: "Write the wider kind, a stroke and the narrower one, such as `table/gateleg`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let kind = &case.record.kind;
    let levels = kind.0.split('/').filter(|level| !level.trim().is_empty()).count();
    if levels < 2 && !declared_unknown(kind) {
        let wide = kind.0.trim_matches(['/', ' ']);
        let wide = if wide.is_empty() { "table" } else { wide };
        let message = format!("the kind `{}` has one level", kind.0);
        seen.push(case.at(&CODE, &kind.span, message).help(format!("write `kind = \"{wide}/…\"`")));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    #[test]
    fn a_stroke_alone_is_no_second_level() {
        assert_eq!(
            sees(&RULE, "kind = \"table/\""),
            "1: the kind `table/` has one level [write `kind = \"table/…\"`]"
        );
        assert_eq!(sees(&RULE, "kind = \"table/gateleg\""), "");
        assert_eq!(sees(&RULE, "kind = \"unknown\""), "");
    }
}
