//! Fixings and glues.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::identity::standing::standing_of_fixing;
use crate::derive::name::fixing_name;
use crate::fields::Row;
use crate::record::Fixing;
use crate::trade::Era;

/// Every fixing and glue, in the order of the record.
pub(super) fn fixings(telling: &Telling<'_>) -> Vec<Claim> {
    telling.record.fixings.iter().map(|fixing| of_fixing(telling, fixing)).collect()
}

fn of_fixing(telling: &Telling<'_>, fixing: &Row<Fixing>) -> Claim {
    let ground = &telling.ground;
    let mut basis = vec![ground.said(&fixing.kind, "fixing.kind")];
    let standing = Message::word("standing", standing_of_fixing(fixing).word());
    let kind = telling.trade.fixing(&fixing.kind);
    let modern = kind.filter(|kind| kind.era.value == Era::Modern);
    if let Some(kind) = modern {
        basis.push(Basis::table("fixing", kind.id.0.clone()));
    }
    let standing = match modern {
        Some(_) => says!("fixing-modern", standing = standing),
        None => standing,
    };
    // Of several parts those that are there count; where none is, it is said so.
    let (there, gone): (Vec<_>, Vec<_>) = fixing.part.iter().cloned().partition(|id| telling.has(id));
    let mut said = vec![match (there.is_empty(), gone.is_empty()) {
        (true, true) => standing,
        (true, false) => says!("fixing-in-gone", standing = standing, parts = telling.parts(&gone)),
        (false, _) => says!("fixing-in", standing = standing, parts = telling.parts(&there)),
    }];
    basis.extend(fixing.part.iter().map(|part| ground.said(part, "fixing.part")));
    basis.extend(telling.part_rows(&fixing.part));
    if let Some(count) = &fixing.count {
        basis.push(ground.said(count, "fixing.count"));
    }
    if let Some(old) = &fixing.instead_of {
        basis.push(ground.said(old, "fixing.instead-of"));
        said.push(says!("instead-of", old = old));
    }
    for (own, key) in [(&fixing.why, "fixing.why"), (&fixing.note, "fixing.note")] {
        if let Some(own) = own {
            basis.push(ground.said(own, key));
            said.push(says!("own-words", said = own));
        }
    }
    let name = fixing_name(fixing, telling.trade);
    let message = says!("fixing", name = name, said = Value::Sentences(said));
    Claim::new(message, ground.said(&fixing.standing, "fixing.standing")).and_all(basis)
}
