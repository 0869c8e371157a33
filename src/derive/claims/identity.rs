//! What a piece is: its type, years, maker, size and materials, and how far the work went.

use super::telling::Telling;
use crate::claim::{Claim, Message, Value, says};
use crate::derive::identity::level::level_word;
use crate::derive::name::timber_name;
use crate::fields::{Said, Text};
use crate::record::Answer;

/// Type, years, maker, size, materials, inscriptions and features.
pub(super) fn identity(telling: &Telling<'_>) -> Vec<Claim> {
    let (record, ground) = (telling.record, &telling.ground);
    let kind = says!("fact-kind", kind = kind(&record.kind));
    let mut identity = vec![Claim::new(kind, ground.said(&record.kind, "kind"))];
    if let Some(of) = record.set_of.as_ref().filter(|_| record.set.is_some()) {
        let message = says!("fact-of-set", count = of.0);
        identity.push(
            Claim::new(message, ground.said(of, "set-of"))
                .and_all(record.set.iter().map(|set| ground.said(set, "set"))),
        );
    }
    let made = match (&record.made, &record.basis) {
        (Some(made), Some(basis)) => {
            let message = says!("fact-made-by", years = made.value.clone(), basis = basis);
            Claim::new(message, ground.said(made, "made")).and(ground.said(basis, "basis"))
        }
        (Some(made), None) => {
            Claim::new(says!("fact-made", years = made.value.clone()), ground.said(made, "made"))
        }
        (None, _) => Claim::new(says!("fact-made-not-known"), ground.unsaid("made")),
    };
    identity.push(made);
    identity.push(match &record.maker {
        Some(maker) if maker.value != Answer::Unknown => {
            Claim::new(says!("fact-maker", maker = maker.to_string()), ground.said(maker, "maker"))
        }
        said => Claim::new(says!("fact-maker-not-known"), ground.either(said.as_ref(), "maker")),
    });
    if let Some(size) = &record.size {
        let lengths = Value::Lengths(vec![size.width.value, size.depth.value, size.height.value]);
        let (message, folded) = match &size.folded {
            Some(folded) => {
                let all = vec![folded.width.value, folded.depth.value, folded.height.value];
                let message = says!("fact-size-folded", size = lengths, folded = Value::Lengths(all));
                (message, Some(ground.said(folded, "size.folded")))
            }
            None => (says!("fact-size", size = lengths), None),
        };
        identity.push(Claim::new(message, ground.said(size, "size")).and_all(folded));
    }
    identity.extend(materials(telling));
    let mut told = |said: &Option<Said<Text>>, key: &str, message: fn(Value) -> Message| {
        let claim = |said: &Said<Text>| Claim::new(message(Value::from(said)), ground.said(said, key));
        identity.extend(said.as_ref().map(claim));
    };
    told(&record.inscriptions, "inscriptions", |said| says!("fact-inscriptions", said = said));
    let pictured = record.subject.clone().filter(|subject| !subject.trim().eq_ignore_ascii_case("none"));
    told(&pictured, "subject", |said| says!("fact-subject", said = said));
    told(&record.told_by, "told-by", |said| says!("fact-told-by", said = said));
    identity
}

/// How far the work went, and in the workshop's words why.
pub(super) fn level(telling: &Telling<'_>) -> Vec<Claim> {
    let (record, ground) = (telling.record, &telling.ground);
    let word = level_word(record, &telling.facts.day_book);
    let mut told = vec![resting_on_work(telling, Message::word("level", word))];
    told.extend(
        record
            .stance
            .as_ref()
            .map(|stance| Claim::new(says!("own-words", said = stance), ground.said(stance, "stance"))),
    );
    told
}

/// A claim of how far the work went: it rests on the record's word for it, and without one on the first thing that was done.
pub(super) fn resting_on_work(telling: &Telling<'_>, message: Message) -> Claim {
    let (record, ground) = (telling.record, &telling.ground);
    let level = record.level.as_ref();
    let claim = Claim::new(message, ground.either(level, "level"));
    if level.is_some() {
        return claim;
    }
    let steps = || record.surfaces.iter().flat_map(|surface| &surface.steps);
    let first = None
        .or_else(|| record.works.first().map(|work| telling.row(work, "work")))
        .or_else(|| record.fixings.first().map(|fixing| telling.row(fixing, "fixing")))
        .or_else(|| steps().next().map(|step| telling.row(step, "surface.steps")));
    claim.and(first.unwrap_or_else(|| ground.unsaid("work")))
}

/// Type of piece, in words: `table, gateleg`; the narrower alone where it says the wider too: `mule chest`.
fn kind(kind: &str) -> String {
    let levels: Vec<String> = kind.split('/').map(|level| level.trim().replace('-', " ")).collect();
    match levels.as_slice() {
        [wide, narrow] if narrow.split(' ').any(|word| word == wide) => narrow.clone(),
        levels => levels.join(", "),
    }
}

/// The timbers of the parts that are there today, each once, in the order of the parts.
fn materials(telling: &Telling<'_>) -> Option<Claim> {
    let mut names: Vec<Value> = Vec::new();
    let mut basis = Vec::new();
    for part in telling.record.parts.iter().filter(|part| part.present()) {
        let told = [(&part.timber, "part.timber"), (&part.veneer, "part.veneer")];
        for (timber, key) in told.into_iter().filter_map(|(timber, key)| Some((timber.as_ref()?, key))) {
            let name = timber_name(timber, telling.trade);
            if timber.value != Answer::Unknown && !names.contains(&name) {
                names.push(name);
                basis.push(telling.ground.said(timber, key));
            }
        }
    }
    let mut basis = basis.into_iter();
    let first = basis.next()?;
    Some(Claim::new(says!("fact-materials", materials = names), first).and_all(basis))
}
