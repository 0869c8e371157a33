//! Substances and other dangers that the piece may hold, a line each with its evidence, from what is on it today.

use super::lead;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, Weight, says};
use crate::derive::hazard::implied::{Because, Implied, UsedIn};
use crate::derive::hazard::result::TestReading;
use crate::derive::hazard::tested::Tested;
use crate::derive::name::{fixing_name, part_by_id, parts_by_id, seen};
use crate::record::{NOT_TESTED, UNKNOWN};
use crate::trade::{Hazard, HazardState, HazardWeight, Readers};

/// Every substance and danger that the buyer is told of, the gravest first; and those of them that warn and of which no
/// caution of the workshop's own speaks.
pub(super) fn substances(telling: &Telling<'_>) -> (Vec<Claim>, Vec<Claim>) {
    // Whether it tips is reckoned, and told by that where it is.
    let of_standing = |implied: &Implied| {
        telling.facts.stability.is_some()
            && rows(telling, implied).iter().any(|row| row.is_of(HazardState::Tall))
    };
    let hazards = telling.facts.hazards.iter().filter(|implied| !of_standing(implied));
    let mut told: Vec<(&Implied, Claim)> =
        hazards.filter_map(|implied| Some((implied, substance(telling, implied)?))).collect();
    told.sort_by_key(|(_, claim)| claim.weight);
    let warns = |(implied, claim): &&(&Implied, Claim)| {
        claim.weight <= Weight::UntestedDanger
            && implied.cautions.is_empty()
            // How it stands is reckoned, and the label says that better.
            && !rows(telling, implied).iter().any(|row| row.is_of(HazardState::Tall))
    };
    let warnings = told.iter().filter(warns).map(|(_, claim)| claim.clone()).collect();
    (told.into_iter().map(|(_, claim)| claim).collect(), warnings)
}

/// The rows of a hazard that the buyer is told of.
fn rows<'a>(telling: &Telling<'a>, implied: &Implied) -> Vec<&'a Hazard> {
    let rows = implied.rows.iter().filter_map(|id| telling.trade.hazard(id));
    rows.filter(|row| row.readers.value != Readers::Bench).collect()
}

fn substance(telling: &Telling<'_>, implied: &Implied) -> Option<Claim> {
    let rows = rows(telling, implied);
    let is_of_coats =
        |row: &&Hazard| row.is_of(HazardState::OldCoating) || row.is_of(HazardState::OldClearCoating);
    if rows.iter().any(is_of_coats) {
        return lead::lead(telling, implied, &rows);
    }
    // Of several rows the gravest says what the others say too.
    let row = rows.into_iter().min_by_key(|row| weight(row.weight()))?;
    let table = Basis::table("hazard", row.id.0.clone());
    let cleared = implied.reading == TestReading::Negative;
    if implied.today.is_empty() {
        return None;
    }
    let mut basis: Vec<Basis> = implied.today.iter().flat_map(|because| rests_on(telling, because)).collect();
    let mut said = Vec::new();
    if !cleared {
        said.extend(row.then.as_ref().map(|then| says!("own-words", said = then)));
        said.extend(evidence(telling, &implied.today));
    }
    for test in &implied.tests {
        said.extend(tested(telling, test));
        basis.push(lead::test_basis(telling, test));
    }
    let asked = row.weight() == HazardWeight::UntestedDanger && row.sought.is_none();
    if implied.tests.is_empty() && !row.tests.is_empty() && asked {
        said.push(says!("test-not-made"));
        if telling.record.tests.is_empty() {
            basis.push(telling.ground.unsaid("test"));
        }
    }
    let said = Value::Sentences(said);
    let message = match cleared {
        true => says!("substance-not-found", name = &row.name, said = said),
        false => says!("substance", tell = &row.tell, said = said),
    };
    let weight = match implied.reading {
        TestReading::Positive => Weight::Danger,
        TestReading::Negative => Weight::Plain,
        TestReading::Open => weight(row.weight()),
    };
    basis.push(table);
    let mut basis = basis.into_iter();
    Some(Claim::new(message, basis.next()?).and_all(basis).weighing(weight))
}

/// How much a row matters, in the order of the papers.
fn weight(weight: HazardWeight) -> Weight {
    match weight {
        HazardWeight::Danger => Weight::Danger,
        HazardWeight::DangerInUse => Weight::DangerInUse,
        HazardWeight::UntestedDanger => Weight::UntestedDanger,
        HazardWeight::Plain => Weight::Plain,
    }
}

/// What a reason rests on.
pub(super) fn rests_on(telling: &Telling<'_>, because: &Because) -> Vec<Basis> {
    let (record, ground) = (telling.record, &telling.ground);
    match because {
        Because::Applied { surface, .. } | Because::Lies { surface, .. } | Because::Abraded { surface } => {
            vec![telling.row(surface, "surface")]
        }
        Because::Coat(coat) => vec![lead::told(telling, coat)],
        Because::Used { by: UsedIn::Step(_, step), .. } => vec![telling.row(step, "surface.steps")],
        Because::Used { by: UsedIn::Work(work), .. } => vec![telling.row(work, "work")],
        Because::Part { part } | Because::Timber { part, .. } => {
            let row = record.parts.iter().find(|row| row.id.value == *part);
            row.map(|row| telling.row(row, "part")).into_iter().collect()
        }
        Because::Fixing(fixing) => vec![telling.row(fixing, "fixing")],
        Because::Finding { finding } => vec![telling.row(finding, "finding")],
        Because::Kind => vec![ground.said(&record.kind, "kind"), ground.said(&record.title, "title")],
        Because::Height(_) => record.size.iter().map(|size| ground.said(size, "size")).collect(),
        Because::HeightNotRecorded => vec![ground.unsaid("size")],
        // The tests are told beside it.
        Because::Tested => Vec::new(),
    }
}

/// What in the record speaks for it, kind by kind.
fn evidence(telling: &Telling<'_>, because: &[Because]) -> Vec<Message> {
    let (record, trade) = (telling.record, telling.trade);
    let all = |of: &dyn Fn(&Because) -> Option<Value>| -> Option<Value> {
        let mut values: Vec<Value> = Vec::new();
        for value in because.iter().filter_map(of) {
            if !values.contains(&value) {
                values.push(value);
            }
        }
        (!values.is_empty()).then_some(Value::All(values))
    };
    let parts = all(&|because| match because {
        Because::Part { part } => Some(Value::from(part_by_id(record, part))),
        _ => None,
    });
    let timbers = all(&|because| match because {
        Because::Timber { part, timber, .. } => {
            let part = part_by_id(record, part);
            Some(Value::from(says!("timber-of-part", timber = Value::Name(timber.clone()), part = part)))
        }
        _ => None,
    });
    let fixings = all(&|because| match because {
        Because::Fixing(fixing) => Some(fixing_name(fixing, trade)),
        _ => None,
    });
    let findings = all(&|because| match because {
        Because::Finding { finding } => {
            let what = seen(&finding.seen, trade);
            Some(match finding.part.is_empty() {
                true => Value::from(what),
                false => Value::from(says!("seen-on", seen = what, on = telling.parts(&finding.part))),
            })
        }
        _ => None,
    });
    let used = all(&|because| match because {
        Because::Used { word, by } => {
            let parts = match by {
                UsedIn::Step(_, step) if !step.only.is_empty() => &step.only,
                UsedIn::Step(surface, _) => &surface.parts,
                UsedIn::Work(work) => &work.part,
            };
            Some(match parts.is_empty() {
                true => Value::from(word.clone()),
                false => Value::from(says!("used-on", used = word.clone(), on = telling.parts(parts))),
            })
        }
        _ => None,
    });
    let finishes = all(&|because| match because {
        Because::Applied { finish, surface } | Because::Lies { finish, surface } => {
            let finish = Value::Name(finish.clone());
            Some(match parts_by_id(record, &surface.parts) {
                parts if parts.is_empty() => finish,
                parts => Value::from(says!("used-on", used = finish, on = parts)),
            })
        }
        _ => None,
    });
    let mut told = Vec::new();
    told.extend(parts.map(|parts| says!("evidence-parts", parts = parts)));
    told.extend(fixings.map(|fixings| says!("evidence-fixings", fixings = fixings)));
    told.extend(timbers.map(|timbers| says!("evidence-timber", timbers = timbers)));
    told.extend(findings.map(|findings| says!("evidence-seen", findings = findings)));
    told.extend(used.map(|used| says!("evidence-used", used = used)));
    told.extend(finishes.map(|finishes| says!("evidence-finish", finishes = finishes)));
    if because.contains(&Because::HeightNotRecorded) {
        told.push(says!("evidence-height-not-recorded"));
    }
    told
}

/// A test in a sentence: what, where, when, and what came out.
fn tested(telling: &Telling<'_>, test: &Tested) -> Option<Message> {
    let mut how: Vec<Value> = Vec::new();
    if !test.parts.is_empty() {
        let names: Vec<String> = test.parts.iter().map(|id| part_by_id(telling.record, id)).collect();
        how.push(Value::from(names));
    }
    how.extend(test.on.map(Value::Day));
    if !test.by.is_empty() {
        how.push(Value::from(says!("test-by", means = test.by.clone())));
    }
    let of = test.of.clone();
    let what = match how.is_empty() {
        true => Value::from(of),
        false => Value::from(says!("tested-how", of = of, how = Value::Series(how))),
    };
    Some(match test.result.as_str() {
        NOT_TESTED => says!("substance-not-tested", what = what),
        "" | UNKNOWN => says!("substance-test-without-result", what = what),
        result => says!("substance-tested", what = what, result = result),
    })
}
