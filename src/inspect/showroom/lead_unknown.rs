//! A lead piece whose number no piece has.

use crate::diag::{Code, Diagnostic, Rank, nearest};
use crate::inspect::{Check, Rule, Shop};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Workshop(check), needs_whole: false };

static CODE: Code = Code {
    name: "lead-unknown",
    rank: Rank::Doubt,
    why: "The showroom is to begin with a piece that is not there, and begins with the newest one for sale instead.",
    fix: "Write the number of a piece as its record has it.",
};

fn check(shop: &Shop<'_>, seen: &mut Vec<Diagnostic>) {
    let lead = shop.folder.workshop.as_ref().and_then(|workshop| workshop.lead.as_ref());
    let Some(lead) = lead else { return };
    // A record that cannot be read may have the number.
    if shop.folder.pieces.iter().any(|piece| piece.record.is_none()) {
        return;
    }
    let records = || shop.folder.pieces.iter().filter_map(|piece| piece.record.as_ref());
    let numbers = || records().map(|record| record.number.0.as_str());
    if numbers().any(|number| *number == *lead.0) {
        return;
    }
    // Small letters on both sides: numbers are mostly written in capitals, and mistyped in small ones.
    let small: Vec<(String, &str)> = numbers().map(|number| (number.to_lowercase(), number)).collect();
    let near = nearest(&lead.0, small.iter().map(|(small, _)| small.as_str()));
    let near = near.and_then(|near| small.iter().find(|(small, _)| small == near));
    let help = match near {
        Some((_, near)) => format!("write \"{near}\""),
        None => "write the number of a piece, or leave `lead` out".to_owned(),
    };
    seen.push(shop.at(&CODE, &lead.span, format!("no piece has the number `{}`", lead.0)).help(help));
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn lead(number: &str) -> String {
        sees(&RULE, &format!("#- workshop.toml\nname = \"Bench\"\nlead = \"{number}\""))
    }

    #[test]
    fn the_nearest_number_is_told() {
        assert_eq!(lead("T1"), "workshop.toml 2: no piece has the number `T1` [write \"T-1\"]");
        assert!(lead("SE-012").ends_with("[write the number of a piece, or leave `lead` out]"));
        assert_eq!(lead("T-1"), "");
    }
}
