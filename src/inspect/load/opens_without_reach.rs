//! A drawer or door that does not say how far it reaches when it is open.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "opens-without-reach",
    rank: Rank::Hint,
    why: "Whether an open drawer or door pulls the piece over follows from how far it then reaches in front.",
    fix: "Add `by` in millimetres: a drawer's way, a door's width.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in case.record.parts.iter().filter(|part| part.present()) {
        let Some(opens) = part.opens.as_ref().filter(|opens| opens.by.is_none()) else { continue };
        let message = format!("part `{}` opens, and nothing says how far", part.id.0);
        let help = format!("write `opens = {{ as = \"{}\", by = 300 }}`", opens.r#as.word());
        seen.push(case.at(&CODE, &opens.span, message).help(help));
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn door(standing: &str, opens: &str) -> String {
        let part = format!("id = \"d\", name = \"D\", standing = \"{standing}\", opens = {opens}");
        sees(&RULE, &format!("part = [{{ {part} }}]"))
    }

    #[test]
    fn a_door_asks_for_its_width() {
        assert_eq!(
            door("new", "{ as = \"door\" }"),
            "1: part `d` opens, and nothing says how far [write `opens = { as = \"door\", by = 300 }`]"
        );
    }

    #[test]
    fn one_that_says_it_or_is_gone() {
        assert_eq!(door("new", "{ as = \"drawer\", by = 1 }"), "");
        assert_eq!(door("missing", "{ as = \"door\" }"), "");
    }
}
