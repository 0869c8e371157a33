//! A part called original without a reason.

use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};
use crate::record::Standing;

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: true };

static CODE: Code = Code {
    name: "original-without-how-known",
    rank: Rank::Doubt,
    why: "\"Original\" is the claim that buyers pay for, and a claim without its evidence is only an opinion.",
    fix: "Say with `how-known` what it rests on; where nothing does, call the part `unknown`.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    for part in case.record.parts.iter().filter(|part| part.standing.value == Standing::Original) {
        if part.how_known.is_none() {
            let message =
                format!("part `{}` is called original, and nothing says how that is known", part.id.0);
            let help = "add `how-known = \"same tool marks as …\"`, or write `standing = \"unknown\"`";
            seen.push(case.at(&CODE, &part.standing.span, message).help(help));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn part(more: &str) -> String {
        sees(&RULE, &format!("part = [{{ id = \"top\", name = \"Top\", {more} }}]"))
    }

    #[test]
    fn a_claim_without_evidence() {
        assert_eq!(
            part("standing = \"original\""),
            "1: part `top` is called original, and nothing says how that is known \
             [add `how-known = \"same tool marks as …\"`, or write `standing = \"unknown\"`]"
        );
    }

    #[test]
    fn evidence_or_no_claim() {
        assert_eq!(part("standing = \"original\", how-known = \"one board with the rail\""), "");
        assert_eq!(part("standing = \"unknown\""), "");
    }
}
