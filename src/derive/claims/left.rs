//! What was found and what became of it; what was left, what failed, what is open, and what goes with the piece.

use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::identity::standing::taken_away;
use crate::derive::looked_for::{all_is_well, nobody_looked};
use crate::derive::mended::{Mending, mending};
use crate::derive::name::seen;
use crate::diag::Place;
use crate::fields::Row;
use crate::record::{Finding, FindingSeverity, Jotting, Open, Outcome, Undone, Work};

/// Findings that stand, or of which it is not said what became. What was found on parts that were taken away, and what
/// was mended, is history.
pub(super) fn standing_faults(telling: &Telling<'_>) -> Vec<Claim> {
    let today = telling.record.findings.iter().filter(|finding| !taken_away(telling.record, &finding.part));
    // What was left of them, and nobody worked on, is told where it is said why.
    let worked_on = |finding: &Row<Finding>| mending(telling.record, finding).1.is_some();
    let told = today.filter(|finding| !all_is_well(&finding.seen, telling.trade));
    let told = told.filter(|finding| worked_on(finding) || leaving(telling, finding).is_none());
    told.filter_map(|finding| standing_fault(telling, finding)).collect()
}

/// What was left unmended, and why.
pub(super) fn undone(telling: &Telling<'_>) -> Vec<Claim> {
    let claim = |undone: &Row<Undone>| {
        let why = Message::word("why", undone.why.word());
        let message = match &undone.effect {
            Some(effect) => says!("undone-left-with", what = &undone.what, why = why, effect = effect),
            None => says!("undone-left", what = &undone.what, why = why),
        };
        let left = undone
            .leaves
            .iter()
            .filter_map(|id| telling.record.findings.iter().find(|finding| finding.id.value == id.value));
        let left: Vec<&Row<Finding>> = left.collect();
        let weight = match left.iter().map(|finding| left_weight(finding)).min() {
            _ if undone.effect.is_none() => Weight::Plain,
            Some(weight) => weight.min(Weight::DoesNot),
            None => Weight::DoesNot,
        };
        let claim = telling.claim(message, undone, "undone").weighing(weight);
        claim.and_all(left.into_iter().map(|finding| telling.row(finding, "finding")))
    };
    telling.record.undone.iter().map(claim).collect()
}

/// What was left unmended, as the build record tells it: what a buyer must know is told in full before.
pub(super) fn left_and_why(telling: &Telling<'_>, undone: &[Claim], know: &[Claim]) -> Vec<Claim> {
    let told = |claim: &Claim| know.iter().any(|known| known.message == claim.message);
    let claim = |(row, claim): (&Row<Undone>, &Claim)| match told(claim) {
        true => {
            let why = Message::word("why", row.why.word());
            telling.claim(says!("undone-left", what = &row.what, why = why), row, "undone")
        }
        false => claim.clone(),
    };
    telling.record.undone.iter().zip(undone).map(claim).collect()
}

/// What is still to be done or decided.
pub(super) fn open(telling: &Telling<'_>) -> Vec<Claim> {
    let claim = |open: &Row<Open>| {
        let message = match &open.before {
            Some(before) => says!("open-before", what = &open.what, before = before),
            None => says!("own-words", said = &open.what),
        };
        telling.claim(message, open, "open")
    };
    let plans = &telling.facts.day_book.plans;
    telling.record.open.iter().map(claim).chain(plans.iter().filter_map(jotted)).collect()
}

/// A plan of the day book in its maker's words, where others may read them.
fn jotted(plan: &Jotting) -> Option<Claim> {
    let said = plan.said.as_ref().ok()?;
    let line = Basis::Said { place: Place::at(&plan.path, &plan.span), key: "line".to_owned() };
    Some(Claim::new(says!("own-words", said = said.as_str()), line))
}

/// What goes with the piece.
pub(super) fn given(telling: &Telling<'_>) -> Vec<Claim> {
    let given = telling.record.handover.iter().flat_map(|handover| &handover.given);
    given
        .map(|given| {
            Claim::new(says!("own-words", said = given), telling.ground.said(given, "handover.given"))
        })
        .collect()
}

/// How much was left, not said and not tested.
pub(super) fn verdict(telling: &Telling<'_>, tests_not_made: &[Claim]) -> Vec<Claim> {
    let record = telling.record;
    let mut verdict = vec![match record.undone.len() {
        0 => Claim::new(says!("verdict-nothing-left"), telling.ground.unsaid("undone")),
        count => {
            let rows = record.undone.iter().map(|undone| telling.row(undone, "undone"));
            rested(says!("verdict-left", count = count), rows)
        }
    }];
    let unsaid: Vec<Basis> = record
        .findings
        .iter()
        .filter(|finding| !taken_away(record, &finding.part) && !all_is_well(&finding.seen, telling.trade))
        .filter(|finding| mending(record, finding).1.is_none() && leaving(telling, finding).is_none())
        .map(|finding| telling.row(finding, "finding"))
        .collect();
    if !unsaid.is_empty() {
        verdict.push(rested(says!("verdict-findings", count = unsaid.len()), unsaid.into_iter()));
    }
    let untested: Vec<Basis> =
        tests_not_made.iter().filter_map(|claim| claim.basis().first().cloned()).collect();
    if !untested.is_empty() {
        verdict.push(rested(says!("verdict-untested", count = untested.len()), untested.into_iter()));
    }
    verdict
}

/// A claim that rests on rows of which there is at least one.
fn rested(message: Message, mut rows: impl Iterator<Item = Basis>) -> Claim {
    let first = rows.next().expect("it counts rows that are there");
    Claim::new(message, first).and_all(rows)
}

/// What says that a finding was left.
pub(super) fn leaving<'a>(telling: &Telling<'a>, finding: &Finding) -> Option<&'a Row<Undone>> {
    let leaves = |undone: &&Row<Undone>| undone.leaves.iter().any(|left| left.value == finding.id.value);
    telling.record.undone.iter().find(leaves)
}

/// How much a fault matters that is still there.
fn left_weight(finding: &Finding) -> Weight {
    match finding.severity.as_ref().map(|severity| severity.value) {
        Some(FindingSeverity::Major) => Weight::MayFail,
        Some(FindingSeverity::Moderate) => Weight::DoesNot,
        _ => Weight::Plain,
    }
}

/// A finding with what became of it; `None` where it was mended whole.
fn standing_fault(telling: &Telling<'_>, finding: &Row<Finding>) -> Option<Claim> {
    let ground = &telling.ground;
    let ((works, best), left) = (mending(telling.record, finding), leaving(telling, finding));
    if best == Some(Mending::Held) && left.is_none() {
        return None;
    }
    let mut basis: Vec<Basis> = works.iter().map(|work| ground.said(&work.mends[0], "work.mends")).collect();
    basis.extend(left.map(|left| telling.row(left, "undone")));
    basis.extend(telling.part_rows(&finding.part));
    let mut where_it_is = Vec::new();
    if !finding.part.is_empty() {
        where_it_is.push(telling.parts(&finding.part));
    }
    where_it_is.extend(finding.extent.as_ref().map(Value::from));
    where_it_is.extend(
        finding.severity.as_ref().map(|severity| Value::from(Message::word("severity", severity.word()))),
    );
    let mut said = Vec::new();
    if !where_it_is.is_empty() {
        said.push(says!("series", of = Value::Series(where_it_is)));
    }
    if let Some(cause) = &finding.cause {
        let confidence = Message::word("confidence", cause.confidence.word());
        said.push(says!("finding-cause", guess = &cause.guess, confidence = confidence));
    }
    // What failed and was done again is told among the failures.
    let failed =
        |work: &&&Row<Work>| work.turned_out.as_ref().is_some_and(|outcome| outcome.value == Outcome::Failed);
    let held = works.iter().filter(|work| best != Some(Mending::Held) || !failed(work));
    let did = Value::All(held.map(|work| Value::from(&work.did)).collect());
    basis.extend(
        works.iter().filter_map(|work| Some(ground.said(work.turned_out.as_ref()?, "work.turned-out"))),
    );
    said.extend(match best {
        Some(Mending::Held) => Some(says!("finding-mended-in-part", did = did)),
        Some(Mending::Partly) => Some(says!("finding-mended-partly", did = did)),
        Some(Mending::Failed) => Some(says!("finding-not-mended", did = did)),
        None => (!nobody_looked(&finding.seen)).then(|| says!("finding-not-said")),
    });
    let what = seen(&finding.seen, telling.trade);
    let message = says!("finding", seen = what, said = Value::Sentences(said));
    let weight = match best {
        Some(Mending::Partly | Mending::Failed) => left_weight(finding).min(Weight::DoesNot),
        _ => left_weight(finding),
    };
    Some(telling.claim(message, finding, "finding").and_all(basis).weighing(weight))
}
