//! A lead piece that cannot be had.

use crate::derive::{OfferState, offer};
use crate::diag::{Code, Diagnostic, Place, Rank};
use crate::inspect::{Case, Check, Rule};

pub(super) static RULE: Rule = Rule { code: &CODE, check: Check::Piece(check), needs_whole: false };

static CODE: Code = Code {
    name: "lead-not-for-sale",
    rank: Rank::Hint,
    why: "What the showroom begins with is taken for what can be bought, so it begins with the newest piece for sale instead.",
    fix: "Write the number of another piece as `lead` in `workshop.toml`, or leave it out.",
};

fn check(case: &Case<'_>, seen: &mut Vec<Diagnostic>) {
    let lead = case.folder.workshop.as_ref().and_then(|workshop| workshop.lead.as_ref());
    let Some(lead) = lead.filter(|lead| lead.0 == case.record.number.0) else { return };
    let hidden = case.record.publish.as_ref().is_some_and(|publish| !publish.value);
    let state = offer(case.piece, case.record, case.today).state;
    let why = match state {
        _ if hidden => "is not published",
        OfferState::ForSale | OfferState::Reserved => return,
        OfferState::Sold | OfferState::ToBeCollected => "is sold",
        OfferState::NotForSale => "has no price asked",
    };
    let place = Place::at("workshop.toml", &lead.span);
    let message = format!("the lead piece `{}` {why}", lead.0);
    seen.push(
        Diagnostic::new(&CODE, place, message)
            .help("write the number of a piece for sale, or leave `lead` out"),
    );
}

#[cfg(test)]
mod tests {
    use super::RULE;
    use crate::inspect::testing::sees;

    fn lead(record: &str) -> String {
        sees(&RULE, &format!("{record}\n#- workshop.toml\nname = \"Bench\"\nlead = \"T-1\""))
    }

    #[test]
    fn sold_hidden_and_without_a_price() {
        assert!(lead("").starts_with("workshop.toml 2: the lead piece `T-1` has no price asked"));
        assert!(lead("asking = 1\npublish = false").contains("is not published"));
        assert!(lead("handover = { on = 2020-01-01 }").contains("is sold"));
        assert_eq!(lead("asking = 1"), "");
        assert_eq!(lead("asking = 1\nreserved = {}"), "");
    }
}
