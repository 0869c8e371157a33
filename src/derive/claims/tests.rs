//! Tests that were made, and tests that were not.

use super::telling::Telling;
use crate::claim::{Claim, Value, says};
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

/// The tests that were made, and those that were not.
pub(super) fn tests(telling: &Telling<'_>) -> (Vec<Claim>, Vec<Claim>) {
    let mut sorted = (Vec::new(), Vec::new());
    for test in &telling.record.tests {
        let told = Told {
            of: &test.of,
            parts: &test.part,
            on: test.on.as_ref(),
            by: test.by.as_ref(),
            result: Some(&test.result),
        };
        push(telling, &mut sorted, &told, test, "test");
    }
    for surface in &telling.record.surfaces {
        for step in &surface.steps {
            let Some(Act::Test(of)) = step.act() else { continue };
            let parts = if step.only.is_empty() { &surface.parts } else { &step.only };
            let told =
                Told { of, parts, on: step.on.as_ref(), by: step.by.as_ref(), result: step.result.as_ref() };
            push(telling, &mut sorted, &told, step, "surface.steps.test");
        }
    }
    sorted
}

fn push<T>(
    telling: &Telling<'_>,
    (was_made, was_not): &mut (Vec<Claim>, Vec<Claim>),
    told: &Told<'_>,
    row: &Row<T>,
    key: &str,
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
    if made { was_made } else { was_not }.push(claim);
}
