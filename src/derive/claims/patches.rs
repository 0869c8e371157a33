//! Places of parts that are not what their part is: patches, fillings, losses.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::identity::originality::percent;
use crate::derive::identity::standing::standing_of_patch;
use crate::derive::photograph::patch::PatchFacts;
use crate::fields::Row;
use crate::record::{Part, Patch, Standing};

/// The patches on parts that are there today.
pub(super) fn patches(telling: &Telling<'_>) -> Vec<Claim> {
    telling.photographs.patches.iter().map(|facts| of_patch(telling, facts)).collect()
}

/// The rows of the patches on parts that are there today.
pub(super) fn present<'a>(telling: &Telling<'a>) -> impl Iterator<Item = &'a Row<Patch>> {
    telling.photographs.patches.iter().map(|facts| &facts.patch)
}

/// The patches of a part that are not as first made, or not known to be.
pub(super) fn not_original<'a>(telling: &Telling<'a>, part: &Part) -> Vec<&'a PatchFacts> {
    let on = |facts: &&PatchFacts| {
        facts.part.id.value == part.id.value && standing_of_patch(&facts.patch) != Standing::Original
    };
    telling.photographs.patches.iter().filter(on).collect()
}

/// `veneer patch (new, about 3 % of its face)`
pub(super) fn in_short(telling: &Telling<'_>, facts: &PatchFacts, basis: &mut Vec<Basis>) -> Message {
    let patch = &facts.patch;
    basis.push(telling.row(patch, "patch"));
    let standing = Message::word("standing", standing_of_patch(patch).word());
    let what = patch.what.to_string();
    match share(telling, facts, basis) {
        Some(share) => says!("patch-short-share", what = what, standing = standing, share = share),
        None => says!("patch-short", what = what, standing = standing),
    }
}

/// How much of its part's face a patch is.
fn share(telling: &Telling<'_>, facts: &PatchFacts, basis: &mut Vec<Basis>) -> Option<Message> {
    let percent = percent(facts.share?, 1.0)?;
    let ground = &telling.ground;
    basis.extend(facts.part.size.as_ref().map(|size| ground.said(size, "part.size")));
    basis.extend(facts.outline.as_ref().map(|mark| ground.row(mark, "photo.marks")));
    Some(match percent {
        0 => says!("share-of-face-small"),
        percent => says!("share-of-face", percent = percent),
    })
}

fn of_patch(telling: &Telling<'_>, facts: &PatchFacts) -> Claim {
    let (patch, ground) = (&facts.patch, &telling.ground);
    let mut basis = vec![
        ground.said(&patch.part, "patch.part"),
        ground.said(&patch.what, "patch.what"),
        ground.row(&facts.part, "part"),
    ];
    let mut first = vec![Value::from(Message::word("standing", standing_of_patch(patch).word()))];
    let size = patch
        .size
        .as_ref()
        .map(|size| [&size.length, &size.width, &size.diameter].into_iter().flatten().map(|side| side.value));
    first.extend(size.map(|sides| Value::Lengths(sides.collect())));
    first.extend(facts.area.filter(|_| patch.size.is_none()).map(Value::from));
    first.extend(share(telling, facts, &mut basis).map(Value::from));
    let figures = [
        patch.size.as_ref().map(|size| ground.said(size, "patch.size")),
        patch.area.as_ref().map(|area| ground.said(area, "patch.area")),
        facts.outline.as_ref().map(|mark| ground.row(mark, "photo.marks")),
    ];
    basis.extend(figures.into_iter().flatten());
    let mut said = vec![says!("series", of = Value::Series(first))];
    if let Some(with) = &patch.with {
        basis.push(ground.said(with, "patch.with"));
        said.push(says!("made-with", with = with));
    }
    if let Some(old) = &patch.instead_of {
        basis.push(ground.said(old, "patch.instead-of"));
        said.push(says!("instead-of", old = old));
    }
    if let Some(note) = &patch.note {
        basis.push(ground.said(note, "patch.note"));
        said.push(says!("own-words", said = note));
    }
    let message = says!(
        "patch",
        what = patch.what.to_string(),
        part = facts.part.name.to_string(),
        said = Value::Sentences(said)
    );
    Claim::new(message, ground.said(&patch.standing, "patch.standing")).and_all(basis)
}
