//! A modern fixing put into an original part without a word why.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;
use crate::trade::Era;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "modern-fixing-unexplained",
    rank: Rank::Doubt,
    why: "A modern fixing in an old part is seen at once by whoever buys or mends the piece next, and asks for a reason.",
    fix: "Say with `why` what spoke for it, with `instead-of` what it replaces, or with `note` anything else.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for fixing in case.record.fixings.iter().filter(|fixing| fixing.standing.value == Standing::New) {
        let Some(kind) = case.trade.fixing(&fixing.kind) else { continue };
        let explained = fixing.why.is_some() || fixing.instead_of.is_some() || fixing.note.is_some();
        let original = |id: &str| case.part(id).is_some_and(|part| part.standing.value == Standing::Original);
        let part = fixing.part.iter().find(|part| original(&part.0));
        if let (Era::Modern, false, Some(part)) = (kind.era.value, explained, part) {
            let message =
                format!("new {} in the original part `{}` without a reason", kind.label_plural.0, part.0);
            let help = "add `why = \"…\"`, or `instead-of = \"…\"` where something was there before";
            seen.push(case.at(&CODE, &fixing.kind.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn fixing(kind: &str, more: &str) -> String {
        let part = "part = [{ id = \"top\", name = \"Top\", standing = \"original\" }, { id = \"rail\", name = \"Rail\", standing = \"new\" }]";
        sees(&RULE, &format!("{part}\nfixing = [{{ kind = \"{kind}\", {more} }}]"))
    }

    #[test]
    fn crosshead_screws_in_an_old_top() {
        assert_eq!(
            fixing("screw-crosshead", "standing = \"new\", part = [\"rail\", \"top\"]"),
            "2: new cross-head screws in the original part `top` without a reason \
             [add `why = \"…\"`, or `instead-of = \"…\"` where something was there before]"
        );
    }

    #[test]
    fn explained_traditional_old_or_in_a_new_part() {
        assert_eq!(fixing("screw-crosshead", "standing = \"new\", part = \"top\", why = \"to hand\""), "");
        assert_eq!(fixing("hide-glue", "standing = \"new\", part = \"top\""), "");
        assert_eq!(fixing("screw-crosshead", "standing = \"later\", part = \"top\""), "");
        assert_eq!(fixing("screw-crosshead", "standing = \"new\", part = \"rail\""), "");
    }
}
