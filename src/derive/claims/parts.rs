//! Parts: how many are as first made, and which are not.

use super::patches;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::identity::standing::standing_of;
use crate::derive::name::{part_name, timber_name};
use crate::fields::{Row, Said};
use crate::record::{Answer, Construction, Held, Part, Record, Rest, Standing};

/// So many parts at least, and most of all, are made of what is said once for all of them.
const ALIKE: usize = 4;

/// Every part, in the order of the record; what most are made of is said once, by the second of the lists.
pub(super) fn parts(telling: &Telling<'_>) -> (Vec<Claim>, Vec<Claim>) {
    let usual = usual(telling.record);
    let parts = telling.record.parts.iter().map(|part| of_part(telling, part, usual.as_ref())).collect();
    let alike = usual.map(|usual| {
        let ground = &telling.ground;
        let of_it = telling.record.parts.iter().filter(|part| usual.is_of(part));
        let said = of_it.flat_map(|part| {
            let timber = part.timber.as_ref().map(|timber| ground.said(timber, "part.timber"));
            let build = part.build.as_ref().map(|build| ground.said(build, "part.build"));
            [timber, build].into_iter().flatten()
        });
        let built = says!(
            "built-of",
            build = Message::word("build", usual.build.word()),
            timber = timber_name(usual.timber, telling.trade)
        );
        Claim::new(says!("parts-usual", built = built), ground.said(usual.timber, "part.timber"))
            .and_all(said)
    });
    (parts, alike.into_iter().collect())
}

/// What most parts are made of.
struct Usual<'a> {
    build: Construction,
    timber: &'a Said<Answer>,
}

impl Usual<'_> {
    fn is_of(&self, part: &Part) -> bool {
        built_of(part).is_some_and(|(build, timber)| build == self.build && timber.value == self.timber.value)
    }
}

/// How a part is made of which timber, where the record tells both and that in two words.
fn built_of(part: &Part) -> Option<(Construction, &Said<Answer>)> {
    let as_adjective = [Construction::Solid, Construction::Turned, Construction::Bent];
    let build = part.build.as_ref()?.value;
    let timber = part.timber.as_ref().filter(|timber| timber.known().is_some())?;
    as_adjective.contains(&build).then_some((build, timber))
}

/// What most parts are made of; nothing where the record is silent on what any other is made of, since that would then be
/// told of it too.
fn usual(record: &Record) -> Option<Usual<'_>> {
    let all: Vec<Usual<'_>> = record
        .parts
        .iter()
        .filter_map(|part| built_of(part).map(|(build, timber)| Usual { build, timber }))
        .collect();
    let count = |usual: &Usual<'_>| record.parts.iter().filter(|part| usual.is_of(part)).count();
    let (count, usual) =
        all.into_iter().map(|usual| (count(&usual), usual)).rev().max_by_key(|(count, _)| *count)?;
    let says = |part: &Part| part.build.is_some() || part.timber.is_some() || part.material.is_some();
    let told = count >= ALIKE && 2 * count > record.parts.len() && record.parts.iter().all(|part| says(part));
    told.then_some(usual)
}

/// `6 of its 8 recorded parts are as first made, as far as is known (a set counts once). Of the others: 2 new. Of those
/// that are as first made 1 is patched. The rest was not looked at.`
pub(super) fn counted(telling: &Telling<'_>) -> Claim {
    let (record, ground) = (telling.record, &telling.ground);
    let counts = &telling.facts.standings;
    let mut rows = record.parts.iter().map(|part| ground.said(&part.standing, "part.standing"));
    let rest = record.rest.as_ref();
    let rest_said = ground.either(rest, "rest");
    let Some(first) = rows.next() else {
        let message = match rest.map(|rest| rest.value) {
            None => return Claim::new(says!("parts-not-recorded"), ground.unsaid("part")).and(rest_said),
            Some(Rest::Original) => says!("whole-original"),
            Some(Rest::NotLookedAt) => says!("whole-not-looked-at"),
            Some(Rest::Unknown) => says!("whole-not-known"),
        };
        return Claim::new(message, rest_said).and(ground.unsaid("part"));
    };
    let others = [Standing::OldRepair, Standing::Later, Standing::Salvaged, Standing::New, Standing::Unknown];
    let gone = [Standing::Removed, Standing::Missing];
    let told = |standings: &[Standing]| -> Vec<Value> {
        let several = standings.iter().map(|standing| (*standing, counts.of(*standing)));
        several
            .filter(|(_, count)| *count > 0)
            .map(|(standing, count)| {
                let word = Message::word("standing", standing.word());
                Value::from(says!("so-many-are", count = count, standing = word))
            })
            .collect()
    };
    let mut said = Vec::new();
    let mut basis: Vec<Basis> = Vec::new();
    if counts.present() > 0 {
        let (original, present) = (counts.of(Standing::Original), counts.present());
        let sets = counts.sets();
        said.push(says!("parts-original", original = original, present = present, sets = sets));
        basis.extend(
            record
                .parts
                .iter()
                .filter_map(|part| part.count.as_ref())
                .map(|count| ground.said(count, "part.count")),
        );
        let others = told(&others);
        if !others.is_empty() {
            said.push(says!("parts-others", others = others));
        }
        let patched = patched_originals(telling, &mut basis);
        if patched > 0 {
            said.push(says!("parts-patched", count = patched));
        }
    }
    let gone = told(&gone);
    if !gone.is_empty() {
        said.push(says!("parts-gone", gone = gone));
    }
    said.push(match rest.map(|rest| rest.value) {
        None => says!("rest-not-said"),
        Some(rest) => Message::word("rest", rest.word()),
    });
    let message = says!("parts-counted", said = Value::Sentences(said));
    Claim::new(message, first).and_all(rows).and_all(basis).and(rest_said)
}

/// How many original parts have patches that are not.
fn patched_originals(telling: &Telling<'_>, basis: &mut Vec<Basis>) -> usize {
    let originals = telling.record.parts.iter().filter(|part| standing_of(part) == Standing::Original);
    let mut patched = 0;
    for part in originals {
        let patches = patches::not_original(telling, part);
        patched += usize::from(!patches.is_empty());
        basis.extend(patches.iter().map(|facts| telling.row(&facts.patch, "patch")));
    }
    patched
}

/// One part: what it is to the piece, what it is made of, how that is known, what it replaces.
fn of_part(telling: &Telling<'_>, part: &Row<Part>, usual: Option<&Usual<'_>>) -> Claim {
    let ground = &telling.ground;
    let mut basis = vec![ground.said(&part.name, "part.name")];
    let made_of = made_of(telling, part, usual, &mut basis);
    let standing = Message::word("standing", standing_of(part).word());
    // The list says once that a part is as first made where nothing else is said.
    let mut said = match (standing_of(part), made_of.is_empty()) {
        (Standing::Original, true) => Vec::new(),
        (Standing::Original, false) => vec![says!("series", of = Value::Series(made_of))],
        (_, true) => vec![standing],
        (_, false) => vec![says!("part-is", standing = standing, made_of = Value::Series(made_of))],
    };
    let patches = patches::not_original(telling, part);
    if !patches.is_empty() {
        let patches = patches.iter().map(|facts| patches::in_short(telling, facts, &mut basis).into());
        said.push(says!("part-patched", patches = Value::All(patches.collect())));
    }
    if let Some(known) = &part.how_known {
        basis.push(ground.said(known, "part.how-known"));
        said.push(says!("own-words", said = known));
    }
    if let Some(since) = &part.since {
        basis.push(ground.said(since, "part.since"));
        said.push(says!("part-since", years = since.value.clone()));
    }
    if let Some(old) = &part.instead_of {
        basis.push(ground.said(old, "part.instead-of"));
        said.push(says!("instead-of", old = old));
    }
    if let Some((id, item)) = part
        .from_stock
        .as_ref()
        .and_then(|id| Some((id, telling.stock.items.iter().find(|item| item.id.value == id.value)?)))
    {
        basis.push(ground.said(id, "part.from-stock"));
        basis.push(telling.stock_ground.said(item, "stock"));
        said.push(match &item.origin {
            Some(origin) => says!("part-from-stock-of", what = &item.what, origin = origin),
            None => says!("part-from-stock", what = &item.what),
        });
    }
    if let Some(note) = &part.note {
        basis.push(ground.said(note, "part.note"));
        said.push(says!("own-words", said = note));
    }
    let message = says!("part", name = part_name(part), said = Value::Sentences(said));
    Claim::new(message, ground.said(&part.standing, "part.standing")).and_all(basis)
}

/// Timber, build and size, with what they rest on.
fn made_of(
    telling: &Telling<'_>,
    part: &Part,
    usual: Option<&Usual<'_>>,
    basis: &mut Vec<Basis>,
) -> Vec<Value> {
    let ground = &telling.ground;
    let mut made_of = Vec::new();
    let timber = part.timber.as_ref().map(|timber| {
        basis.push(ground.said(timber, "part.timber"));
        timber_name(timber, telling.trade)
    });
    let build = part.build.as_ref().map(|build| {
        basis.push(ground.said(build, "part.build"));
        Message::word("build", build.word())
    });
    match (build, timber) {
        (Some(_), Some(_)) if usual.is_some_and(|usual| usual.is_of(part)) => {}
        (Some(word), Some(timber)) if built_of(part).is_some() => {
            made_of.push(Value::from(says!("built-of", build = word, timber = timber)));
        }
        (build, timber) => {
            made_of.extend(build.map(Value::from));
            made_of.extend(timber);
        }
    }
    if let Some(veneer) = &part.veneer {
        basis.push(ground.said(veneer, "part.veneer"));
        made_of.push(Value::from(says!("veneer-of", timber = timber_name(veneer, telling.trade))));
    }
    if let Some(material) = &part.material {
        basis.push(ground.said(material, "part.material"));
        made_of.push(Value::from(material.to_string()));
    }
    if let Some(under) = &part.ground {
        basis.push(ground.said(under, "part.ground"));
        made_of.push(Value::from(says!("on-ground", ground = under.to_string())));
    }
    if let Some(size) = &part.size {
        let lengths = [&size.length, &size.width, &size.thick].into_iter().flatten();
        let lengths: Vec<_> = lengths.map(|length| length.value).collect();
        if !lengths.is_empty() {
            made_of.push(Value::ListedLengths(lengths));
        }
        if let Some(diameter) = &size.diameter {
            made_of.push(Value::from(says!(
                "so-wide-across",
                diameter = Value::ListedLengths(vec![diameter.value])
            )));
        }
        basis.push(ground.said(size, "part.size"));
    }
    if let Some(lipping) = &part.lipping {
        basis.push(ground.said(lipping, "part.lipping"));
        made_of.push(Value::from(says!("lipped-with", timber = timber_name(&lipping.timber, telling.trade))));
    }
    // That wood may move is usual, and goes without saying.
    if let Some(held) = part.held.as_ref().filter(|held| held.value != Held::Free) {
        basis.push(ground.said(held, "part.held"));
        made_of.push(Value::from(Message::word("held", held.word())));
    }
    made_of
}
