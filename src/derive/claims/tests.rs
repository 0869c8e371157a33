//! Tests that were made, and tests that were not.

use super::telling::Telling;
use crate::claim::{Claim, Value, says};
use crate::derive::hazard::result::{TestReading, reading};
use crate::derive::hazard::tested::TestRow;
use crate::fields::{OneOrMore, Row, Said, Text};
use crate::record::{Act, PartId, TestResult};
use chrono::NaiveDate;

/// One test, wherever the record tells it.
struct Told<'a> {
    of: &'a Said<Text>,
    parts: &'a OneOrMore<PartId>,
    on: Option<&'a Said<NaiveDate>>,
    by: Option<&'a Said<Text>>,
    result: Option<&'a Said<TestResult>>,
}

/// How much a test matters to whoever reads the first of many; the gravest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Gravity {
    /// It found what harms.
    Danger,
    /// It found what it looked for, or something failed it.
    Positive,
    /// What harms was looked for, and the question is open.
    DangerOpen,
    /// Its words do not tell, or it found nothing.
    Plain,
}

/// Tests as they are gathered, made and not made, each with how much it matters.
type Sorted = (Vec<(Gravity, Claim)>, Vec<(Gravity, Claim)>);

/// The tests that were made, and those that were not; the gravest first, and else in the order of the record.
pub(super) fn tests(telling: &Telling<'_>) -> (Vec<Claim>, Vec<Claim>) {
    let mut sorted: Sorted = (Vec::new(), Vec::new());
    for test in &telling.record.tests {
        let told = Told {
            of: &test.of,
            parts: &test.part,
            on: test.on.as_ref(),
            by: test.by.as_ref(),
            result: Some(&test.result),
        };
        let of_row = |row: &TestRow| matches!(row, TestRow::Test(row) if row.is(test));
        push(telling, &mut sorted, &told, (test, "test"), &of_row);
    }
    for surface in &telling.record.surfaces {
        for step in &surface.steps {
            let Some(Act::Test(of)) = step.act() else { continue };
            let parts = if step.only.is_empty() { &surface.parts } else { &step.only };
            let told =
                Told { of, parts, on: step.on.as_ref(), by: step.by.as_ref(), result: step.result.as_ref() };
            let of_row = |row: &TestRow| matches!(row, TestRow::Step(row) if row.is(step));
            push(telling, &mut sorted, &told, (step, "surface.steps.test"), &of_row);
        }
    }
    let ordered = |mut tests: Vec<(Gravity, Claim)>| {
        tests.sort_by_key(|(gravity, _)| *gravity);
        tests.into_iter().map(|(_, claim)| claim).collect()
    };
    (ordered(sorted.0), ordered(sorted.1))
}

/// How much a test matters, by what harms of which it was a test.
fn gravity(telling: &Telling<'_>, told: &Told<'_>, is_row: &dyn Fn(&TestRow) -> bool) -> Gravity {
    let tests = telling.facts.hazards.iter().flat_map(|implied| &implied.tests);
    let of_hazards = tests.filter(|test| is_row(&test.row)).map(|test| test.reading).min();
    let own = told.result.map_or(TestReading::Open, |result| reading(result));
    match (of_hazards, own) {
        (Some(TestReading::Positive), _) => Gravity::Danger,
        (Some(TestReading::Open), _) => Gravity::DangerOpen,
        (None, TestReading::Positive) => Gravity::Positive,
        _ => Gravity::Plain,
    }
}

fn push<T>(
    telling: &Telling<'_>,
    (was_made, was_not): &mut Sorted,
    told: &Told<'_>,
    (row, key): (&Row<T>, &str),
    is_row: &dyn Fn(&TestRow) -> bool,
) {
    let mut how = Vec::new();
    if !told.parts.is_empty() {
        how.push(telling.place(told.parts));
    }
    how.extend(told.on.map(|on| Value::Day(on.value)));
    how.extend(told.by.map(|by| Value::from(says!("test-by", means = by))));
    let (result, made) = match told.result {
        Some(result) if result.made() => {
            (Value::from(says!("test-result", result = result.to_string())), true)
        }
        Some(_) => (Value::from(says!("test-not-made")), false),
        None => (Value::from(says!("test-without-result")), false),
    };
    let how = Value::Series(how);
    let message = match how == Value::Series(Vec::new()) {
        true => says!("test", of = told.of, result = result),
        false => says!("test-how", of = told.of, result = result, how = how),
    };
    let claim = telling.claim(message, row, key).and_all(telling.part_rows(told.parts));
    if made { was_made } else { was_not }.push((gravity(telling, told, is_row), claim));
}
