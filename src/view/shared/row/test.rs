//! A test, made or not.

use serde::Serialize;

use crate::claim::says;
use crate::record::Act;
use crate::view::context::PieceContext;
use crate::words::{Words, capital};

/// A test, made or not.
#[derive(Debug, Clone, Serialize)]
pub struct TestRow {
    /// What was tested.
    pub of: String,
    /// Where; may be empty.
    pub parts: String,
    /// What came out.
    pub result: String,
    /// Whether it was made.
    pub made: bool,
    /// The day and the means; may be empty.
    pub how: String,
}

/// Tests of the record, and those among the steps of its surfaces.
pub(super) fn tests(context: &PieceContext<'_>) -> Vec<TestRow> {
    let words = context.house.words();
    let declared = context.record.tests.iter().map(|test| TestRow {
        of: capital(&words.said(&test.of)),
        parts: context.names.parts(&test.part),
        result: words.said(&test.result),
        made: test.result.made(),
        how: how(
            words,
            test.on.as_ref().map(|on| words.day(on.value)),
            test.by.as_ref().map(|by| words.said(by)),
        ),
    });
    let among_steps = context.record.surfaces.iter().flat_map(|surface| {
        surface.steps.iter().filter_map(|step| match step.act() {
            Some(Act::Test(of)) => Some(TestRow {
                of: capital(&words.said(of)),
                parts: match step.only.is_empty() {
                    true => context.names.parts(&surface.parts),
                    false => context.names.parts(&step.only),
                },
                result: step
                    .result
                    .as_ref()
                    .map_or_else(|| words.say(&says!("result-not-recorded")), |result| words.said(result)),
                made: step.result.as_ref().is_some_and(|result| result.made()),
                how: how(
                    words,
                    step.on.as_ref().map(|on| words.day(on.value)),
                    step.by.as_ref().map(|by| words.said(by)),
                ),
            }),
            _ => None,
        })
    });
    declared.chain(among_steps).collect()
}

fn how(words: &Words, day: Option<String>, by: Option<String>) -> String {
    words.series(&[day, by].into_iter().flatten().collect::<Vec<_>>())
}
