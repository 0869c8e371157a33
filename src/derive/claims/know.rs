//! Know before you buy: what a buyer must know, the worst first, five lines at most.
//!
//! Every paper takes these lines from here. How much a claim matters is said where it is made; here they are only
//! gathered, put in order and told once.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Weight};
use crate::fields::Row;
use crate::record::{Finding, FindingSeverity};

/// The most lines that a buyer reads.
const MOST: usize = 5;

/// The gravest of what is told of the piece. What was altered for good keeps one line, whatever else there is.
pub(super) fn know(telling: &Telling<'_>, lists: &[&[Claim]]) -> Vec<Claim> {
    let anchored = says_anchor(telling);
    let grave = lists.iter().copied().flatten().filter(|claim| claim.weight < Weight::Plain);
    let grave = grave.filter(|claim| !(anchored && tips(claim)));
    let mut told: Vec<&Claim> = Vec::new();
    for claim in grave {
        if !told.iter().any(|other| same_fault(telling, other, claim) || same_act(other, claim)) {
            told.push(claim);
        }
    }
    told.sort_by_key(|claim| (claim.weight, severity(telling, claim)));
    let altered = told.iter().position(|claim| claim.weight == Weight::Altered);
    if let Some(place) = altered.filter(|place| *place >= MOST) {
        let kept = told.remove(place);
        told.insert(MOST - 1, kept);
    }
    told.into_iter().take(MOST).cloned().collect()
}

/// The findings that a claim rests on.
fn findings<'a>(telling: &'a Telling<'_>, claim: &Claim) -> impl Iterator<Item = &'a Row<Finding>> {
    let rows: Vec<Basis> = claim.basis().to_vec();
    telling.record.findings.iter().filter(move |finding| rows.contains(&telling.row(finding, "finding")))
}

/// Whether a fault stands behind both, so that it is told once.
fn same_fault(telling: &Telling<'_>, one: &Claim, other: &Claim) -> bool {
    findings(telling, one).any(|finding| findings(telling, other).any(|also| also.is(finding)))
}

/// Whether both ask for one and the same thing: to anchor the piece, which several drawers may ask for, or to keep the
/// room steady.
fn same_act(one: &Claim, other: &Claim) -> bool {
    let moves = |claim: &Claim| claim.message.name == "movement-held";
    tips(one) && tips(other) || moves(one) && moves(other)
}

fn tips(claim: &Claim) -> bool {
    ["anchor", "tip"].iter().any(|start| claim.message.name.starts_with(start))
}

/// Whether the workshop tells in its own words to anchor the piece.
fn says_anchor(telling: &Telling<'_>) -> bool {
    let cautions = telling.record.r#use.iter().flat_map(|used| &used.cautions);
    cautions.into_iter().any(|caution| caution.to_lowercase().contains("anchor"))
}

/// What was left as it is and is not told by what a buyer must know.
pub(super) fn left(telling: &Telling<'_>, know: &[Claim], lists: &[&[Claim]]) -> Vec<Claim> {
    let known = |claim: &Claim| {
        know.iter().any(|told| told.message == claim.message || same_fault(telling, told, claim))
    };
    let mut left: Vec<&Claim> = Vec::new();
    for claim in lists.iter().copied().flatten().filter(|claim| !known(claim)) {
        if !left.iter().any(|other| same_fault(telling, other, claim)) {
            left.push(claim);
        }
    }
    left.into_iter().cloned().collect()
}

/// How serious the fault behind a claim is, the most serious first.
fn severity(telling: &Telling<'_>, claim: &Claim) -> u8 {
    let rank = |finding: &Row<Finding>| match finding.severity.as_ref().map(|severity| severity.value) {
        Some(FindingSeverity::Major) => 0,
        Some(FindingSeverity::Moderate) => 1,
        Some(FindingSeverity::Minor) | None | Some(FindingSeverity::Unknown) => 2,
        Some(FindingSeverity::Trace) => 3,
    };
    findings(telling, claim).map(rank).min().unwrap_or(2)
}
