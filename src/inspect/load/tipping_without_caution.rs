//! A piece that can tip, and nothing in the record of how it is to be anchored.

use crate::derive::Prompt;
use crate::diag::{Code, Diagnostic, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "tipping-without-caution",
    rank: Rank::Hint,
    why: "Tall and drawered pieces fall on children who climb them. The papers tell to anchor it; whoever sells it knows best where and by what.",
    fix: "Add a caution to `[use]` that it must be anchored to the wall, or record the anchor as a `[[fixing]]`.",
};

/// Words that show that somebody thought of it.
const THOUGHT_OF: [&str; 4] = ["anchor", "tip", "to the wall", "to a wall"];

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let Some(found) = case.facts.stability.as_ref().filter(|found| !found.prompts.is_empty()) else { return };
    if said(case) {
        return;
    }
    let why: Vec<&str> = found
        .prompts
        .iter()
        .map(|prompt| match prompt {
            Prompt::High => "it is 686 mm high or more",
            Prompt::Kind => "it carries a screen",
            Prompt::Shallow => "it is tall for its depth",
            Prompt::Falls => "an open drawer or door can pull it over",
            Prompt::NearlyFalls => "an open drawer or door can nearly pull it over",
        })
        .collect();
    let message = format!("{}, and the record says nothing of an anchor", why.join(", "));
    let help = "add to `[use]`: cautions = [\"It can tip: anchor it to the wall.\"]";
    seen.push(match &case.record.size {
        Some(size) => case.at(&CODE, &size.span, message).help(help),
        None => case.whole(&CODE, message).help(help),
    });
}

/// Whether the record speaks of tipping or an anchor anywhere that reaches the buyer.
fn said(case: &Case<'_>) -> bool {
    let used = case.record.r#use.iter();
    let lines = used.flat_map(|used| used.cautions.iter().chain(&used.assembly).chain(&used.moving));
    let fixings = case.record.fixings.iter().flat_map(|fixing| [Some(&fixing.kind), fixing.note.as_ref()]);
    let given = case.record.handover.iter().flat_map(|handover| &handover.given);
    let thought_of = |text: &str| {
        let text = text.to_lowercase();
        // Whole words at their start: `tip` and `tipping`, but not `multiple`.
        THOUGHT_OF.iter().any(|wanted| {
            text.match_indices(wanted).any(|(at, _)| !text[..at].ends_with(char::is_alphanumeric))
        })
    };
    lines.chain(fixings.flatten()).chain(given).any(|text| thought_of(text))
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn case(height: u32, more: &str) -> String {
        let size = format!("size = {{ width = 900, depth = 300, height = {height} }}");
        sees(&RULE, &format!("kind = \"case/bookcase\"\n{size}\n{more}"))
    }

    #[test]
    fn as_high_as_rules_begin() {
        assert_eq!(
            case(686, ""),
            "2: it is 686 mm high or more, and the record says nothing of an anchor \
             [add to `[use]`: cautions = [\"It can tip: anchor it to the wall.\"]]"
        );
        assert!(case(900, "").contains("686 mm high or more, it is tall for its depth, and"));
        assert!(case(900, "[use]\ncautions = [\"Multiple shelves.\"]").contains("says nothing of an anchor"));
    }

    #[test]
    fn low_or_thought_of() {
        assert_eq!(case(685, ""), "");
        for more in [
            "[use]\ncautions = [\"It can tip over.\"]",
            "[use]\nassembly = [\"Screw it to the wall first.\"]",
            "[[fixing]]\nkind = \"anti-tip strap\"\nstanding = \"new\"",
            "[handover]\ngiven = [\"a wall anchor\"]",
        ] {
            assert_eq!(case(1800, more), "", "{more}");
        }
        let table = "kind = \"table/side\"\nsize = { width = 900, depth = 400, height = 735 }";
        assert_eq!(sees(&RULE, table), "");
    }
}
