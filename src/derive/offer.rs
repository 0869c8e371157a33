//! Whether the piece can be had on a day.

use chrono::NaiveDate;

use crate::claim::{Claim, Ground, says};
use crate::record::{Piece, Record};
use crate::unit::Money;

/// Whether a piece can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfferState {
    /// For the price asked.
    ForSale,
    /// It is kept for somebody.
    Reserved,
    /// It is sold and still here.
    ToBeCollected,
    /// It has left.
    Sold,
    /// It is in the workshop, and nothing says that it can be had.
    NotForSale,
}

/// Whether a piece can be had on a day, what is asked for it, and what that rests on.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// Whether it can be had.
    pub state: OfferState,
    /// The price asked; `None` where it cannot be had, or no price is asked.
    pub asking: Option<Money>,
    /// The same as a claim.
    pub claim: Claim,
}

/// Whether a piece can be had on this day. A reservation that ran out keeps it for nobody.
pub fn offer(piece: &Piece, record: &Record, today: NaiveDate) -> Offer {
    let ground = Ground::of(piece.record_path());
    let asked = record.asking.as_ref();
    let handover = record.handover.as_ref().and_then(|handover| handover.on.as_ref());
    let left = || ground.either(handover, "handover.on");
    let none = |state, claim| Offer { state, asking: None, claim };
    if let Some(on) = piece.handed_over() {
        return match on <= today {
            true => none(OfferState::Sold, Claim::new(says!("offer-sold"), left())),
            false => none(OfferState::ToBeCollected, Claim::new(says!("offer-to-be-collected"), left())),
        };
    }
    let asking = asked.map(|asking| asking.value);
    let reserved = record.reserved.as_ref();
    let kept = reserved.filter(|kept| kept.until.as_ref().is_none_or(|until| until.value >= today));
    if let Some(kept) = kept {
        let message = match &kept.until {
            Some(until) => says!("offer-reserved-until", day = until.value),
            None => says!("offer-reserved"),
        };
        return Offer {
            state: OfferState::Reserved,
            asking,
            claim: Claim::new(message, ground.said(kept, "reserved")),
        };
    }
    match asked {
        Some(said) => {
            let claim = Claim::new(says!("offer-for-sale"), ground.said(said, "asking"));
            Offer { state: OfferState::ForSale, asking, claim }
        }
        None => {
            none(OfferState::NotForSale, Claim::new(says!("offer-in-the-workshop"), ground.unsaid("asking")))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::folder;

    #[track_caller]
    fn case(record: &str, state: OfferState, message: &str) {
        let folder = folder(record, "");
        let piece = &folder.pieces[0];
        let today = NaiveDate::from_ymd_opt(2026, 5, 10).expect("a day");
        let found = offer(piece, piece.record.as_ref().expect("it reads"), today);
        assert_eq!((found.state, found.claim.message.name.as_str()), (state, message), "{record}");
    }

    #[test]
    fn a_piece_is_had_reserved_waited_for_or_gone() {
        case("", OfferState::NotForSale, "offer-in-the-workshop");
        case("asking = 240", OfferState::ForSale, "offer-for-sale");
        case("asking = 240\nreserved = {}", OfferState::Reserved, "offer-reserved");
        case("asking = 240\nreserved = { until = 2026-05-10 }", OfferState::Reserved, "offer-reserved-until");
        case("asking = 240\nreserved = { until = 2026-05-09 }", OfferState::ForSale, "offer-for-sale");
        case("handover = { on = 2026-05-11 }", OfferState::ToBeCollected, "offer-to-be-collected");
        case("handover = { on = 2026-05-10 }\nreserved = {}", OfferState::Sold, "offer-sold");
    }
}
