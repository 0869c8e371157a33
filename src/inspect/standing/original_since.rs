//! An original part that says when it was added.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;
use crate::words::Words;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "original-since",
    rank: Rank::Doubt,
    why: "An original part was never added, so the papers would contradict themselves.",
    fix: "Take `since` out, or call the part `later` or `old-repair`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in case.record.parts.iter().filter(|part| part.standing.value == Standing::Original) {
        if let Some(since) = &part.since {
            let message = format!(
                "part `{}` is original, and yet there only since {}",
                part.id.0,
                Words::for_diagnostics().years(since)
            );
            seen.push(
                case.at(&CODE, &since.span, message)
                    .help("write `standing = \"later\"`, or leave `since` out"),
            );
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
                "part = [{{ id = \"back\", name = \"Back\", standing = \"{standing}\", since = \"195X\" }}]"
            ),
        )
    }

    #[test]
    fn a_back_of_the_1950s_is_not_original() {
        assert_eq!(
            part("original"),
            "1: part `back` is original, and yet there only since the 1950s \
             [write `standing = \"later\"`, or leave `since` out]"
        );
        assert_eq!(part("later"), "");
    }
}
