//! Short lines for one page: each part in a line, finishes by surface, fixings by their names.

use super::telling::Telling;
use crate::claim::{Claim, Message, Value, says};
use crate::derive::finish::stratigraphy::Coat;
use crate::derive::finish::surface::SurfaceFacts;
use crate::derive::identity::standing::{standing_of, standing_of_fixing};
use crate::derive::name::{fixing_name, part_name};
use crate::fields::Row;
use crate::record::{Part, PartId, Standing};

use super::care::layer_name;
use super::finishes::{laid_or_found, surface_name};

/// The most lines of parts that one page has room for.
const MOST: usize = 8;

/// Standings in the order in which their parts are joined into one line where there are too many.
const JOINED: [Standing; 7] = [
    Standing::Original,
    Standing::New,
    Standing::Salvaged,
    Standing::Later,
    Standing::OldRepair,
    Standing::Unknown,
    Standing::Missing,
];

/// One part in a line, or several of one standing.
#[derive(Debug, Clone)]
pub struct PartLine {
    /// What they are to the piece.
    pub standing: Standing,
    /// The parts.
    pub parts: Vec<PartId>,
    /// Name and standing, and shortly what else matters.
    pub claim: Claim,
}

/// Every part but those that were taken away, in eight lines at most: where there are more parts, the last of one standing
/// stand together in a line, original ones first.
pub(super) fn part_lines(telling: &Telling<'_>) -> Vec<PartLine> {
    let parts = telling.record.parts.iter();
    let parts: Vec<&Row<Part>> = parts.filter(|part| standing_of(part) != Standing::Removed).collect();
    let mut groups: Vec<(Standing, Vec<&Row<Part>>)> =
        JOINED.map(|standing| (standing, of_standing(&parts, standing))).into();
    groups.retain(|(_, parts)| !parts.is_empty());
    let mut too_many = parts.len().saturating_sub(MOST);
    let mut lines = Vec::new();
    for (standing, parts) in groups {
        // A line that holds several takes one line itself.
        let joined = if too_many > 0 && parts.len() > 1 { parts.len().min(too_many + 1) } else { 0 };
        too_many -= joined.saturating_sub(1);
        let (alone, together) = parts.split_at(parts.len() - joined);
        lines.extend(alone.iter().map(|part| one(telling, part)));
        if !together.is_empty() {
            lines.push(several(telling, standing, together));
        }
    }
    lines
}

fn of_standing<'a>(parts: &[&'a Row<Part>], standing: Standing) -> Vec<&'a Row<Part>> {
    parts.iter().copied().filter(|part| standing_of(part) == standing).collect()
}

fn one(telling: &Telling<'_>, part: &Row<Part>) -> PartLine {
    let (standing, ground) = (standing_of(part), &telling.ground);
    let word = Message::word("as", standing.word());
    let name = part_name(part);
    let message = match (&part.instead_of, &part.since) {
        (Some(old), _) => says!("part-line-instead", name = name, standing = word, old = old),
        (None, Some(since)) => {
            says!("part-line-since", name = name, standing = word, years = since.value.clone())
        }
        (None, None) => says!("part-line", name = name, standing = word),
    };
    let claim = Claim::new(message, ground.said(&part.standing, "part.standing"));
    let claim = claim
        .and(ground.said(&part.name, "part.name"))
        .and_all(part.instead_of.as_ref().map(|old| ground.said(old, "part.instead-of")))
        .and_all(part.since.as_ref().map(|since| ground.said(since, "part.since")));
    PartLine { standing, parts: vec![part.id.value.clone()], claim }
}

fn several(telling: &Telling<'_>, standing: Standing, parts: &[&Row<Part>]) -> PartLine {
    let word = Message::word("as", standing.word());
    let names: Vec<String> = parts.iter().map(|part| part_name(part)).collect();
    let message = says!("part-line-several", count = parts.len(), standing = word, names = names);
    let mut rows = parts.iter().map(|part| telling.ground.said(&part.standing, "part.standing"));
    let first = rows.next().expect("a group has parts");
    let parts = parts.iter().map(|part| part.id.value.clone()).collect();
    PartLine { standing, parts, claim: Claim::new(message, first).and_all(rows) }
}

/// What lies on each surface today, the uppermost first; and what was found there and is gone.
pub(super) fn finishes(telling: &Telling<'_>) -> (Vec<Claim>, Vec<Claim>) {
    let line = |facts: &SurfaceFacts, coats: Vec<&Coat>| {
        let name = |coat: &Coat| layer_name(coat, telling.trade);
        let laid_too = |found: &Coat| {
            found.step.is_none() && coats.iter().any(|laid| laid.step.is_some() && name(laid) == name(found))
        };
        let names = coats.iter().map(|coat| match laid_too(coat) {
            true => Value::from(says!("coat-as-found", coat = name(coat))),
            false => Value::from(name(coat)),
        });
        let names = names.collect();
        let message =
            says!("finish-line", surface = surface_name(telling, facts), coats = Value::Series(names));
        let claim = telling.claim(message, &facts.surface, "surface");
        let claim = claim.and_all(coats.into_iter().map(|coat| laid_or_found(telling, facts, coat)));
        claim.and_all(telling.part_rows(&facts.surface.parts))
    };
    let (mut today, mut lost) = (Vec::new(), Vec::new());
    for facts in &telling.facts.surfaces {
        let layers: Vec<&Coat> = facts.today.layers.iter().rev().map(|layer| &layer.coat).collect();
        if !layers.is_empty() {
            today.push(line(facts, layers));
        }
        if !facts.today.removed.is_empty() {
            lost.push(line(facts, facts.today.removed.iter().collect()));
        }
    }
    (today, lost)
}

/// Fixings and glues that are not original, each by its name and standing.
pub(super) fn fixings(telling: &Telling<'_>) -> Vec<Claim> {
    let others = telling.record.fixings.iter();
    let others = others.filter(|fixing| standing_of_fixing(fixing) != Standing::Original);
    others
        .map(|fixing| {
            let standing = Message::word("standing", standing_of_fixing(fixing).word());
            let name = fixing_name(fixing, telling.trade);
            let message = says!("fixing-line", name = name, standing = standing);
            telling.claim(message, fixing, "fixing").and(telling.ground.said(&fixing.kind, "fixing.kind"))
        })
        .collect()
}
