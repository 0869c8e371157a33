//! A new or salvaged part that does not say what it replaces.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "replacement-without-old",
    rank: Rank::Doubt,
    why: "Whether a part replaces an old one or was added decides how much of the piece is as first made.",
    fix: "Say what it replaces with `instead-of`; where it replaces nothing, say so in `note`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in &case.record.parts {
        let ours = [Standing::New, Standing::Salvaged].contains(&part.standing.value);
        if ours && part.instead_of.is_none() && part.note.is_none() {
            let (id, standing) = (&part.id.0, part.standing.word());
            let message = format!("part `{id}` is {standing}, and nothing says what was there before");
            let help = "add `instead-of = \"…\"`, or `note = \"added: there was none\"`";
            seen.push(case.at(&CODE, &part.standing.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(more: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"back\", name = \"Back\", {more} }}]"))
    }

    #[test]
    fn a_salvaged_back_in_place_of_what() {
        assert_eq!(
            part("standing = \"salvaged\""),
            "1: part `back` is salvaged, and nothing says what was there before \
             [add `instead-of = \"…\"`, or `note = \"added: there was none\"`]"
        );
    }

    #[test]
    fn an_answer_or_an_old_part_is_quiet() {
        assert_eq!(part("standing = \"new\", instead-of = \"unknown\""), "");
        assert_eq!(part("standing = \"new\", note = \"added for the flex\""), "");
        assert_eq!(part("standing = \"later\""), "");
    }
}
