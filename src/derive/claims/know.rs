//! Know before you buy: what a buyer must know, the worst first, five lines at most.
//!
//! Every paper takes these lines from here. How much a claim matters is said where it is made; here they are only
//! gathered, put in order and told once.

use std::collections::{HashMap, HashSet};

use super::telling::Telling;
use super::twice::{Twice, twice};
use crate::claim::{Basis, Claim, Weight};
use crate::fields::Row;
use crate::record::{FindingSeverity, Undone};

/// The most lines that a buyer reads.
const MOST: usize = 5;

/// The findings of a record by where they stand in it.
struct Faults<'a> {
    telling: &'a Telling<'a>,
    by_place: HashMap<(usize, usize), usize>,
}

impl<'a> Faults<'a> {
    fn of(telling: &'a Telling<'a>) -> Faults<'a> {
        let findings = telling.record.findings.iter().enumerate();
        let by_place = findings.map(|(at, finding)| ((finding.span.start, finding.span.end), at)).collect();
        Faults { telling, by_place }
    }

    /// The findings that a claim rests on, by their place in the record.
    fn behind(&self, claim: &Claim) -> Vec<usize> {
        let found = claim.basis().iter().filter_map(|basis| match basis {
            Basis::Said { place, key } if key == "finding" => self.by_place.get(&place.span?).copied(),
            _ => None,
        });
        found.collect()
    }

    /// The row of what was left that a claim tells.
    fn left(&self, claim: &Claim) -> Option<&'a Row<Undone>> {
        let is_told = |row: &&Row<Undone>| claim.basis().first() == Some(&self.telling.row(row, "undone"));
        self.telling.record.undone.iter().find(is_told)
    }

    /// How serious the fault behind a claim is, the most serious first.
    fn severity(&self, behind: &[usize]) -> u8 {
        let rank = |at: &usize| match self.telling.record.findings[*at]
            .severity
            .as_ref()
            .map(|severity| severity.value)
        {
            Some(FindingSeverity::Major) => 0,
            Some(FindingSeverity::Moderate) => 1,
            Some(FindingSeverity::Minor | FindingSeverity::Unknown) | None => 2,
            Some(FindingSeverity::Trace) => 3,
        };
        behind.iter().map(rank).min().unwrap_or(2)
    }
}

/// The gravest of what is told of the piece; of several that tell one fault or ask for one act, the first, and nothing that
/// a caution tells too. What was altered for good keeps one line, whatever else there is. The second list has what warns and
/// has no line of these, but for faults and for what was left, which are listed by themselves.
pub(super) fn know(telling: &Telling<'_>, lists: &[&[Claim]]) -> (Vec<Claim>, Vec<Claim>) {
    let faults = Faults::of(telling);
    let anchored = says_anchor(telling);
    let grave = lists.iter().copied().flatten().filter(|claim| claim.weight < Weight::Plain);
    let mut told: Vec<(Weight, u8, &Claim)> = Vec::new();
    let (mut told_faults, mut told_acts) = (HashSet::new(), HashSet::new());
    for claim in grave {
        let (act, behind) = (act(claim), faults.behind(claim));
        let cautioned = faults.left(claim).is_some_and(|row| twice(telling, row) != Twice::default());
        let told_before = cautioned
            || act.is_some_and(|act| !told_acts.insert(act) || anchored && act == Act::Anchor)
            // Of the workshop's own cautions each stands for itself.
            || claim.message.name != "own-words" && behind.iter().any(|fault| told_faults.contains(fault));
        if !told_before {
            told.push((claim.weight, faults.severity(&behind), claim));
            told_faults.extend(behind);
        }
    }
    told.sort_by_key(|(weight, severity, _)| (*weight, *severity));
    let altered = told.iter().position(|(weight, ..)| *weight == Weight::Altered);
    if let Some(place) = altered.filter(|place| *place >= MOST) {
        let kept = told.remove(place);
        told.insert(MOST - 1, kept);
    }
    let further = told.split_off(told.len().min(MOST)).into_iter().map(|(.., claim)| claim);
    // A hazard of which a finding tells is no line of the findings.
    let is_hazard = |basis: &Basis| matches!(basis, Basis::Table { table: "hazard", .. });
    let listed = |claim: &Claim| match claim.basis().first() {
        Some(Basis::Said { key, .. }) => {
            ["undone", "finding"].contains(&key.as_str()) && !claim.basis().iter().any(is_hazard)
        }
        _ => false,
    };
    let further = further.filter(|claim| claim.weight.warns() && !listed(claim)).cloned().collect();
    (told.into_iter().map(|(.., claim)| claim.clone()).collect(), further)
}

/// What several claims may ask for alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
enum Act {
    /// To anchor the piece.
    Anchor,
    /// To keep the room steady.
    SteadyRoom,
}

fn act(claim: &Claim) -> Option<Act> {
    let name = claim.message.name.as_str();
    match () {
        () if ["anchor", "tip"].iter().any(|start| name.starts_with(start)) => Some(Act::Anchor),
        () if name == "movement-held" => Some(Act::SteadyRoom),
        () => None,
    }
}

/// What keeps it standing, but for what warns a buyer and for what a caution of the workshop's own tells.
pub(super) fn standing(telling: &Telling<'_>, know: &[Claim], stability: &[Claim]) -> Vec<Claim> {
    let anchored = says_anchor(telling);
    let told = |claim: &&Claim| {
        know.contains(claim)
            || anchored
                && act(claim) == Some(Act::Anchor)
                && claim.weight.warns()
                && claim.message.name.starts_with("anchor")
    };
    stability.iter().filter(|claim| !told(claim)).cloned().collect()
}

/// Whether the workshop tells in its own words to anchor the piece.
fn says_anchor(telling: &Telling<'_>) -> bool {
    let cautions = telling.record.r#use.iter().flat_map(|used| &used.cautions);
    cautions.into_iter().any(|caution| caution.to_lowercase().contains("anchor"))
}

/// What was left as it is and is not told by what a buyer must know nor named by a caution, the gravest first; each fault
/// once.
pub(super) fn left(telling: &Telling<'_>, know: &[Claim], lists: &[&[Claim]]) -> Vec<Claim> {
    let faults = Faults::of(telling);
    let mut told: HashSet<usize> = know.iter().flat_map(|claim| faults.behind(claim)).collect();
    let mut left = Vec::new();
    for claim in lists.iter().copied().flatten() {
        let behind = faults.behind(claim);
        let known = know.iter().any(|known| known.message == claim.message)
            || behind.iter().any(|fault| told.contains(fault))
            || faults.left(claim).is_some_and(|row| twice(telling, row).what);
        if !known {
            left.push((claim.weight, faults.severity(&behind), claim.clone()));
            told.extend(behind);
        }
    }
    left.sort_by_key(|(weight, severity, _)| (*weight, *severity));
    left.into_iter().map(|(.., claim)| claim).collect()
}
