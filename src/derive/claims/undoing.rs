//! How everything that was added comes off again, and what does not: for whoever restores the piece next.

use super::finishes::{coat_name, laid_or_found, surface_name};
use super::patches;
use super::substances::rests_on;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::finish::stratigraphy::Coat;
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::hazard::implied::Because;
use crate::derive::identity::standing::{standing_of, standing_of_fixing, standing_of_patch};
use crate::derive::name::{fixing_name, part_name};
use crate::fields::{Row, Said, Text};
use crate::record::{Act, FinishName, Fixing, Part, PartId, Patch, Standing, Step, Undoable, Work};
use crate::trade::{Layer, Readers, Sort};

/// How everything comes off again.
#[derive(Debug, Clone, Default)]
pub struct UndoClaims {
    /// What to beware of while opening the piece up.
    pub beware: Vec<Claim>,
    /// Layer by layer, glues and other fixings, and parts and patches of which no work tells: how each comes off.
    pub ways: Vec<Claim>,
    /// What is gone for good, and of how many works the record does not say.
    pub lost: Vec<Claim>,
    /// Mixtures, to match them again.
    pub mixes: Vec<Claim>,
}

pub(super) fn undoing(telling: &Telling<'_>) -> UndoClaims {
    let told = [layers(telling), parts(telling), fixings(telling)];
    UndoClaims {
        beware: beware(telling),
        ways: told.into_iter().flatten().collect(),
        lost: lost(telling),
        mixes: mixes(telling),
    }
}

/// What lies in the piece itself and harms whoever opens it up; what its buyer is told as well stands on other papers.
fn beware(telling: &Telling<'_>) -> Vec<Claim> {
    let lasts = |because: &&Because| {
        matches!(
            because,
            Because::Coat(_)
                | Because::Part { .. }
                | Because::Fixing(_)
                | Because::Timber { .. }
                | Because::Finding { .. }
                | Because::Tested
        )
    };
    let mut told: Vec<Claim> = Vec::new();
    for implied in telling.facts.hazards.iter().filter(|implied| implied.today.iter().any(|one| lasts(&one)))
    {
        let rows = implied.rows.iter().filter_map(|id| telling.trade.hazard(id));
        for row in rows.filter(|row| row.readers.value == Readers::Bench) {
            let message = says!("open-up", name = &row.name, what = &row.r#do);
            let basis = implied.today.iter().filter(lasts).flat_map(|because| rests_on(telling, because));
            let claim = Claim::new(message, Basis::table("hazard", row.id.0.clone())).and_all(basis);
            if told.iter().all(|other| other.message != claim.message) {
                told.push(claim);
            }
        }
    }
    told
}

/// The layers of today, topmost first; those of one kind on several surfaces stand together.
fn layers(telling: &Telling<'_>) -> Vec<Claim> {
    struct Alike<'a> {
        coat: &'a Coat,
        on: Vec<Value>,
        basis: Vec<Basis>,
    }
    let mut alike: Vec<Alike<'_>> = Vec::new();
    for facts in &telling.facts.surfaces {
        for layer in facts.today.layers.iter().rev() {
            let coat = &layer.coat;
            // A material that is its own surface is what the others come off from.
            if coat.layer == Some(Layer::Surface) {
                continue;
            }
            // What a surface is called may follow from the names of its parts.
            let basis = [laid_or_found(telling, facts, coat), telling.row(&facts.surface, "surface")];
            let basis: Vec<Basis> =
                basis.into_iter().chain(telling.part_rows(&facts.surface.parts)).collect();
            let name = surface_name(telling, facts);
            match alike
                .iter_mut()
                .find(|other| other.coat.name == coat.name && other.coat.finish == coat.finish)
            {
                Some(other) => {
                    if !other.on.contains(&name) {
                        other.on.push(name);
                    }
                    other.basis.extend(basis);
                }
                None => alike.push(Alike { coat, on: vec![name], basis }),
            }
        }
    }
    let claim = |Alike { coat, on, basis }: Alike<'_>| {
        let finish = coat.finish.as_deref().and_then(|id| telling.trade.finish(id));
        let layer = match coat.written {
            FinishName::Unknown => Value::from(says!("coat-not-known")),
            _ => Value::from(coat.name.clone()),
        };
        let on = Value::Series(on);
        let message = match finish {
            Some(finish) => says!("undo-layer", layer = layer, on = on, undo = &finish.undo),
            None => says!("undo-layer-not-known", layer = layer, on = on),
        };
        let mut basis = basis.into_iter();
        let claim = Claim::new(message, basis.next()?).and_all(basis);
        Some(claim.and_all(finish.map(|finish| Basis::table("finish", finish.id.0.clone()))))
    };
    alike.into_iter().filter_map(claim).collect()
}

/// What says how it comes off by itself, on a part that a work fitted or a patch that lies on one.
struct Fitted<'a> {
    part: &'a PartId,
    name: String,
    undo: &'a Said<Text>,
    basis: Basis,
}

/// Parts that are not as first made, and patches, of which the record says how they come off.
fn fitted<'a>(telling: &'a Telling<'_>) -> Vec<Fitted<'a>> {
    let part = |part: &'a Row<Part>| {
        let undo = part.undo.as_ref().filter(|_| standing_of(part) != Standing::Original)?;
        let basis = telling.row(part, "part");
        Some(Fitted { part: &part.id.value, name: part_name(part), undo, basis })
    };
    let patch = |patch: &'a Row<Patch>| {
        let undo = patch.undo.as_ref().filter(|_| standing_of_patch(patch) != Standing::Original)?;
        let basis = telling.row(patch, "patch");
        Some(Fitted { part: &patch.part.value, name: patch.what.to_string(), undo, basis })
    };
    let parts = telling.record.parts.iter().filter_map(part);
    parts.chain(patches::present(telling).filter_map(patch)).collect()
}

/// How a work is undone, with what it fitted; and what that rests on beside the work.
pub(super) fn undone(telling: &Telling<'_>, work: &Row<Work>) -> (Vec<Message>, Vec<Basis>) {
    let undo = match (work.undoable.as_ref().map(|undoable| undoable.value), &work.undo) {
        (Some(Undoable::No), None) => says!("undo-never"),
        (Some(Undoable::No), Some(undo)) => says!("undo-never-with", undo = undo),
        (Some(Undoable::Partly), Some(undo)) => says!("undo-in-part", undo = undo),
        (_, Some(undo)) => says!("to-undo", undo = undo),
        (Some(Undoable::Yes), None) => says!("undo-without-way"),
        (Some(Undoable::Partly), None) => says!("undo-in-part-without-way"),
        (Some(Undoable::Unknown) | None, None) => return (Vec::new(), Vec::new()),
    };
    let (mut said, mut basis) = (vec![undo], Vec::new());
    let own = work.undo.as_ref().map(|undo| undo.to_lowercase()).unwrap_or_default();
    for it in fitted(telling) {
        if !first_to_undo(telling, it.part).is_some_and(|first| first.is(work)) {
            continue;
        }
        basis.push(it.basis);
        if !own.starts_with(&it.undo.to_lowercase()) {
            said.push(says!("undo-fitted", what = it.name, undo = it.undo));
        }
    }
    (said, basis)
}

fn cannot(work: &Work) -> bool {
    work.undoable.as_ref().is_some_and(|undoable| undoable.value == Undoable::No)
}

/// The first work on a part that says how it is undone.
fn first_to_undo<'a>(telling: &Telling<'a>, part: &PartId) -> Option<&'a Row<Work>> {
    let on = |work: &&Row<Work>| {
        work.undo.is_some() && !cannot(work) && work.part.iter().any(|one| one.value == *part)
    };
    telling.record.works.iter().find(on)
}

/// Parts and patches that no such work tells of; and parts that were fitted of which nothing says how they come off.
fn parts(telling: &Telling<'_>) -> Vec<Claim> {
    let alone = fitted(telling).into_iter().filter(|it| first_to_undo(telling, it.part).is_none());
    let mut told: Vec<Claim> =
        alone.map(|it| Claim::new(says!("undo-part", part = it.name, undo = it.undo), it.basis)).collect();
    let added = [Standing::Later, Standing::Salvaged, Standing::New, Standing::OldRepair];
    let silent = telling.record.parts.iter().filter(|part| {
        part.undo.is_none()
            && added.contains(&standing_of(part))
            && first_to_undo(telling, &part.id.value).is_none()
    });
    let silent: Vec<(String, Basis)> =
        silent.map(|part| (part_name(part), telling.row(part, "part"))).collect();
    let (names, basis): (Vec<String>, Vec<Basis>) = silent.into_iter().unzip();
    let mut basis = basis.into_iter();
    told.extend(
        basis
            .next()
            .map(|first| Claim::new(says!("undo-parts-not-said", parts = names), first).and_all(basis)),
    );
    told
}

/// Glues of any age, and the other fixings that are not original; those of one kind stand together.
fn fixings(telling: &Telling<'_>) -> Vec<Claim> {
    let mut alike: Vec<(Vec<&Row<Fixing>>, Message)> = Vec::new();
    for fixing in &telling.record.fixings {
        let kind = telling.trade.fixing(&fixing.kind);
        let glue = kind.is_some_and(|kind| kind.sort.value == Sort::Glue);
        if !glue && standing_of_fixing(fixing) == Standing::Original {
            continue;
        }
        let undo = match (&fixing.undo, kind) {
            (Some(undo), _) => says!("own-words", said = undo),
            (None, Some(kind)) => says!("own-words", said = kind.undo.to_string()),
            (None, None) => says!("undo-fixing-not-known"),
        };
        match alike
            .iter_mut()
            .find(|(others, told)| *told == undo && others[0].kind.value == fixing.kind.value)
        {
            Some((others, _)) => others.push(fixing),
            None => alike.push((vec![fixing], undo)),
        }
    }
    let claim = |(fixings, undo): (Vec<&Row<Fixing>>, Message)| {
        let mut names: Vec<Value> = Vec::new();
        for name in fixings.iter().map(|fixing| fixing_name(fixing, telling.trade)) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let kind = telling.trade.fixing(&fixings[0].kind);
        let claim =
            Claim::new(says!("undo-fixing", name = names, undo = undo), telling.row(fixings[0], "fixing"));
        let claim = claim.and_all(kind.map(|kind| Basis::table("fixing", kind.id.0.clone())));
        claim.and_all(fixings.into_iter().map(|fixing| telling.row(fixing, "fixing")))
    };
    alike.into_iter().map(claim).collect()
}

/// Finishes that are gone, and how many works of which the record does not say.
fn lost(telling: &Telling<'_>) -> Vec<Claim> {
    let record = telling.record;
    let mut told: Vec<Claim> = Vec::new();
    for facts in telling.facts.surfaces.iter().filter(|facts| !facts.today.removed.is_empty()) {
        let SurfaceFacts { surface, today, .. } = facts;
        let coats = today.removed.iter().map(|coat| Value::from(coat_name(coat))).collect();
        let message = says!("gone-finish", coats = Value::All(coats), surface = surface_name(telling, facts));
        let taken_off = surface.steps.iter().filter(|step| matches!(step.act(), Some(Act::Remove(_))));
        let taken_off = taken_off.map(|step| telling.row(step, "surface.steps.remove"));
        let found = today.removed.iter().map(|coat| laid_or_found(telling, facts, coat));
        let claim = telling.claim(message, surface, "surface").and_all(taken_off).and_all(found);
        told.push(claim.and_all(telling.part_rows(&surface.parts)));
    }
    let silent = |work: &&Row<Work>| {
        let said = work.undoable.as_ref().map(|undoable| undoable.value);
        work.undo.is_none() && matches!(said, None | Some(Undoable::Unknown))
    };
    let silent: Vec<Basis> =
        record.works.iter().filter(silent).map(|work| telling.row(work, "work")).collect();
    let message = says!("undo-not-said", count = silent.len());
    let mut silent = silent.into_iter();
    told.extend(silent.next().map(|first| Claim::new(message, first).and_all(silent)));
    told
}

/// Mixtures that were laid, surface by surface.
fn mixes(telling: &Telling<'_>) -> Vec<Claim> {
    let of_step = |facts: &SurfaceFacts, step: &Row<Step>| {
        let Some(Act::Apply(what)) = step.act() else { return None };
        let coat = facts.today.layers.iter().map(|layer| &layer.coat).find(|coat| coat.laid_by(step));
        let name = coat.map_or_else(|| what.to_string(), |coat| coat.name.clone());
        let mix = step
            .mix
            .iter()
            .map(|one| Value::from(says!("mix-part", parts = Value::Span(one.parts.value), of = &one.of)));
        let message = says!(
            "mixed",
            what = name,
            surface = surface_name(telling, facts),
            mix = Value::All(mix.collect())
        );
        Some(telling.claim(message, step, "surface.steps.apply").and(telling.row(&facts.surface, "surface")))
    };
    let surfaces = telling.facts.surfaces.iter();
    let mixed = surfaces.flat_map(|facts| facts.surface.steps.iter().map(move |step| (facts, step)));
    mixed.filter(|(_, step)| !step.mix.is_empty()).filter_map(|(facts, step)| of_step(facts, step)).collect()
}
