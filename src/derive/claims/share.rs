//! How much of the piece is as first made, by count and by mass.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::identity::originality::{Originality, StandingShare, percent};
use crate::derive::identity::standing::standing_of;
use crate::record::Standing;
use crate::unit::Mass;

/// The parts of each standing, and what the shares cover; nothing where no part is recorded that the piece has.
pub(super) fn shares(telling: &Telling<'_>) -> Vec<Claim> {
    let found = &telling.facts.originality;
    let mut claims: Vec<Claim> = found.shares.iter().map(|share| of_standing(telling, share)).collect();
    if let Some((message, basis)) = by_mass(telling, found) {
        claims.push(Claim::new(message, basis));
    }
    claims
}

/// How many parts have a standing, and their shares where they can be told of the whole.
fn of_standing(telling: &Telling<'_>, share: &StandingShare) -> Claim {
    let mut said = vec![Value::from(says!("share-count", count = share.count))];
    said.extend(share.count_percent.map(|percent| Value::from(by_count(share.standing, percent))));
    if let Some(percent) = share.mass_percent {
        said.push(Value::from(match share.mass.high > Mass::default() {
            true => says!("share-mass", percent = printed(percent), mass = share.mass),
            false => says!("share-mass-not-known"),
        }));
    }
    let standing = Message::word("standing", share.standing.word());
    let message = says!("share", standing = standing, said = Value::Series(said));
    let counted =
        telling.record.parts.iter().filter(|part| part.present() && standing_of(part) == share.standing);
    let mut basis = counted.map(|part| telling.row(part, "part"));
    let claim = Claim::new(message, basis.next().unwrap_or_else(|| telling.ground.unsaid("part")));
    claim.and_all(basis).and(telling.ground.either(telling.record.rest.as_ref(), "rest"))
}

/// A share of the recorded parts as one of the whole, whose other parts are as first made.
fn by_count(standing: Standing, percent: u32) -> Message {
    match (standing, percent) {
        (_, 0 | 100) => says!("share-of-parts", percent = printed(percent)),
        (Standing::Original, _) => says!("share-at-least", percent = printed(percent)),
        _ => says!("share-at-most", percent = printed(percent)),
    }
}

/// A share that is there but rounds to nothing is under one in a hundred.
fn printed(percent: u32) -> Message {
    match percent {
        0 => says!("percent-under-one"),
        percent => says!("percent", percent = percent),
    }
}

/// Why there is no share by mass, or how much of the piece it covers; nothing where it covers all.
fn by_mass(telling: &Telling<'_>, found: &Originality) -> Option<(Message, Basis)> {
    let covered = found.covered.map(|covered| percent(covered, 1.0).unwrap_or(0));
    let message = match (covered, found.unweighed) {
        _ if found.parts == 0 => return None,
        (Some(100), 0) => return None,
        // What is left out weighs something.
        (Some(covered), left) if found.is_weighed() => {
            let most = if left > 0 { 99 } else { 100 };
            says!("shares-cover", percent = printed(covered.min(most)))
        }
        (Some(covered), _) => says!("shares-cover-too-little", percent = printed(covered)),
        (None, 0) => says!("shares-not-weighed"),
        (None, left) => says!("shares-left-out", left = left),
    };
    Some((message, telling.ground.either(telling.record.weighs.as_ref(), "weighs")))
}
