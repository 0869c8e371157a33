//! What was found, finding by finding in the order of the record, and what became of each.

use super::left::leaving;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::identity::standing::taken_away;
use crate::derive::looked_for::all_is_well;
use crate::derive::mended::{Mending, mending};
use crate::derive::name::seen;
use crate::fields::Row;
use crate::record::{Finding, FindingSeverity, Outcome, Undone, Work};

/// A finding, and what became of it.
#[derive(Debug, Clone)]
pub struct Found {
    /// Its number, by which pictures and papers call it: its place in the record, counted from 1.
    pub number: usize,
    /// How grave it is, the gravest first.
    pub rank: u8,
    /// What was seen, where and how far.
    pub seen: Claim,
    /// What became of it.
    pub became: Claim,
    /// What may have caused it, where the record makes a guess.
    pub cause: Option<Claim>,
}

/// Every finding, in the order of the record.
pub(super) fn found(telling: &Telling<'_>) -> Vec<Found> {
    let numbered = telling.record.findings.iter().zip(1..);
    numbered
        .map(|(finding, number)| Found {
            number,
            rank: rank(finding),
            seen: what(telling, finding),
            became: became(telling, finding),
            cause: cause(telling, finding, number),
        })
        .collect()
}

fn rank(finding: &Finding) -> u8 {
    match finding.severity.as_ref().map(|severity| severity.value) {
        Some(FindingSeverity::Major) => 0,
        Some(FindingSeverity::Moderate) => 1,
        Some(FindingSeverity::Minor | FindingSeverity::Unknown) | None => 2,
        Some(FindingSeverity::Trace) => 3,
    }
}

fn what(telling: &Telling<'_>, finding: &Row<Finding>) -> Claim {
    let said = finding.extent.iter().map(|extent| says!("own-words", said = extent)).collect();
    let (what, said) = (seen(&finding.seen, telling.trade), Value::Sentences(said));
    let message = match finding.part.is_empty() {
        true => says!("found", seen = what, said = said),
        false => says!("found-on", seen = what, said = said, on = telling.place(&finding.part)),
    };
    telling.claim(message, finding, "finding").and_all(telling.part_rows(&finding.part))
}

/// What may have caused it, where the record makes a guess.
fn cause(telling: &Telling<'_>, finding: &Row<Finding>, number: usize) -> Option<Claim> {
    let cause = finding.cause.as_ref()?;
    let confidence = Message::word("confidence", cause.confidence.word());
    let message = says!("found-cause", number = number, guess = &cause.guess, confidence = confidence);
    Some(telling.claim(message, finding, "finding"))
}

fn became(telling: &Telling<'_>, finding: &Row<Finding>) -> Claim {
    let ((works, best), left) = (mending(telling.record, finding), leaving(telling, finding));
    let mut basis = found_basis(telling, finding);
    basis.extend(left.map(|left| telling.row(left, "undone")));
    basis.extend(telling.part_rows(&finding.part));
    let told = works.iter().filter(|work| tells(best, work));
    let did: Vec<Message> = told.map(|work| says!("own-words", said = &work.did)).collect();
    let did = Value::Sentences(did);
    let message = match (best, left) {
        (Some(Mending::Held), None) => says!("became-mended", did = did),
        (Some(Mending::Held), Some(left)) => says!("became-mended-and-left", did = did, why = why(left)),
        (Some(Mending::Partly), _) => says!("became-mended-partly", did = did),
        (Some(Mending::Failed), None) => says!("became-failed", did = did),
        (Some(Mending::Failed), Some(left)) => says!("became-failed-and-left", did = did, why = why(left)),
        (None, _) if taken_away(telling.record, &finding.part) => says!("became-gone"),
        (None, Some(left)) => says!("became-left", why = why(left)),
        (None, None) if all_is_well(&finding.seen, telling.trade) => says!("became-nothing-to-mend"),
        (None, None) => says!("became-not-said"),
    };
    telling.claim(message, finding, "finding").and_all(basis)
}

/// What says how a finding fared: its row, and the works that mend it.
pub(super) fn found_basis(telling: &Telling<'_>, finding: &Row<Finding>) -> Vec<Basis> {
    let works = mending(telling.record, finding).0;
    [telling.row(finding, "finding")]
        .into_iter()
        .chain(works.into_iter().map(|work| telling.row(work, "work")))
        .collect()
}

/// Whether a finding tells of a work that mends it: what failed and was done again is told where the work is.
fn tells(best: Option<Mending>, work: &Work) -> bool {
    let failed = work.turned_out.as_ref().is_some_and(|outcome| outcome.value == Outcome::Failed);
    best != Some(Mending::Held) || !failed
}

/// The findings that tell what a work did: their rows and numbers.
pub(super) fn telling_of<'a>(telling: &Telling<'a>, work: &Row<Work>) -> Vec<(&'a Row<Finding>, usize)> {
    let findings = telling.record.findings.iter().zip(1..);
    let mended =
        |(finding, _): &(&Row<Finding>, usize)| work.mends.iter().any(|id| id.value == finding.id.value);
    findings.filter(mended).filter(|(finding, _)| tells(mending(telling.record, finding).1, work)).collect()
}

/// The other works because of which no finding tells of one that failed: they mended what it was for.
pub(super) fn told_instead<'a>(telling: &Telling<'a>, work: &Row<Work>) -> Vec<&'a Row<Work>> {
    let findings = telling.record.findings.iter();
    let for_it = findings.filter(|finding| work.mends.iter().any(|id| id.value == finding.id.value));
    for_it
        .map(|finding| mending(telling.record, finding))
        .filter(|(_, best)| !tells(*best, work))
        .flat_map(|(works, _)| works)
        .filter(|other| other.span != work.span)
        .collect()
}

fn why(left: &Undone) -> Message {
    Message::word("why", left.why.word())
}
