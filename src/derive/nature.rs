//! What a piece of its kind is like, as far as the words for it tell.

use crate::record::Record;
use crate::trade::Trade;

/// Features of which something can be put into a piece.
const HOLDING: [&str; 5] = ["carcase", "doors", "drawers", "lid", "shelves"];

/// What a piece of its kind is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Nature {
    /// It holds things, or nobody knows its kind.
    pub holds_things: bool,
    /// It is for out of doors.
    pub outdoors: bool,
    /// It has the movement of a clock.
    pub movement: bool,
}

/// What a record's kind says of the piece; that it holds things is also told by a part that opens.
pub fn nature(record: &Record, trade: &Trade) -> Nature {
    let ear = trade.looking.ear();
    let heard = ear.heard(&record.kind);
    let has = |id: &str| {
        let of_kind = || heard.kinds.iter().flat_map(|kind| &kind.has).any(|has| has.0 == id);
        let besides = heard.with.iter().any(|feature| feature.id.0 == id);
        (besides || of_kind()) && !heard.without.iter().any(|feature| feature.id.0 == id)
    };
    let opens = record.parts.iter().any(|part| part.present() && part.opens.is_some());
    Nature {
        holds_things: opens || heard.kinds.is_empty() || HOLDING.into_iter().any(has),
        // Benches may be for out of doors, and a pew is none of those: only a word of its own tells.
        outdoors: record
            .kind
            .split(|sign: char| !sign.is_alphanumeric())
            .any(|word| ear.heard(word).with.iter().any(|feature| feature.id.0 == "outdoors")),
        movement: has("movement"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::derive::testing::facts;

    fn of(kind: &str) -> [bool; 3] {
        let Nature { holds_things, outdoors, movement } =
            facts(&format!("kind = \"{kind}\"\n"), "name = \"Bench\"\n").nature;
        [holds_things, outdoors, movement]
    }

    #[test]
    fn a_kind_tells_what_a_piece_is_like() {
        assert_eq!(of("case/chest-of-drawers"), [true, false, false]);
        assert_eq!(of("chair/upholstered"), [false, false, false]);
        assert_eq!(of("clock/longcase"), [false, false, true]);
        assert_eq!(of("table/garden"), [false, true, false]);
        assert_eq!(of("garden bench"), [false, true, false]);
        assert_eq!(of("seating/pew"), [false, false, false]);
        assert_eq!(of("zograscope"), [true, false, false], "nobody knows what that is");
    }
}
