//! Tests for hazards, as far as the record tells them.

use super::mention::{lacks, mentions, names};
use super::result::{TestReading, reading, reading_of_sought};
use crate::fields::{Row, Said, Text};
use crate::record::{PartId, Step, Surface, Test};
use crate::trade::{Hazard, TestMeans, Trade};
use chrono::NaiveDate;

/// The row of the record that tells a test.
#[derive(Debug, Clone, PartialEq)]
pub enum TestRow {
    /// One of its list of tests.
    Test(Row<Test>),
    /// A step on a surface.
    Step(Row<Step>),
}

/// A test that concerns a hazard, made or declared not made.
#[derive(Debug, Clone, PartialEq)]
pub struct Tested {
    /// What was tested.
    pub of: String,
    /// What came out, in the record's words; empty where nothing is recorded.
    pub result: String,
    /// The parts tested; empty where the whole piece was.
    pub parts: Vec<PartId>,
    /// The day.
    pub on: Option<NaiveDate>,
    /// By what means, in the record's words; may be empty.
    pub by: String,
    /// By what means, as far as the record tells one that is known.
    pub means: Option<TestMeans>,
    /// Whether the record says that it went through all coats.
    pub through: bool,
    /// Whether the record says that it told a share of weight.
    pub by_weight: bool,
    /// What its words say that it showed.
    pub reading: TestReading,
    /// Where the record tells it.
    pub row: TestRow,
}

/// Where a test was made.
#[derive(Debug, Clone)]
pub(super) enum TestPlace {
    /// On this surface.
    Surface(Row<Surface>),
    /// On these parts.
    Parts(Vec<PartId>),
    /// On the piece as a whole.
    Whole,
}

impl Tested {
    /// Whether finding nothing clears what a row is about, as far as the means go.
    pub(super) fn clears(&self, row: &Hazard) -> bool {
        let means = |of: TestMeans| row.cleared_by.iter().any(|means| means.value == of);
        self.reading == TestReading::Negative && (row.cleared_by.is_empty() || self.means.is_some_and(means))
    }
}

/// Whether a test concerns a hazard, by what it was of, its means or its result.
pub(super) fn concerns(row: &Hazard, of: &str, by: &str, result: &str) -> bool {
    row.tests.iter().any(|word| [of, by, result].into_iter().any(|text| names(text, word)))
}

pub(super) fn place(test: &Test) -> TestPlace {
    match test.part.is_empty() {
        true => TestPlace::Whole,
        false => TestPlace::Parts(ids(&test.part)),
    }
}

pub(super) fn tested(test: &Row<Test>, row: &Hazard, trade: &Trade) -> Tested {
    let told = Told { of: &test.of, by: test.by.as_ref(), result: &test.result };
    told.tested(row, trade, ids(&test.part), test.on.as_ref(), TestRow::Test(test.clone()))
}

pub(super) fn tested_in_step(
    of: &Text,
    step: &Row<Step>,
    surface: &Surface,
    row: &Hazard,
    trade: &Trade,
) -> Tested {
    let result = step.result.as_ref().map_or("", |result| result);
    let parts = if step.only.is_empty() { ids(&surface.parts) } else { ids(&step.only) };
    let told = Told { of, by: step.by.as_ref(), result };
    told.tested(row, trade, parts, step.on.as_ref(), TestRow::Step(step.clone()))
}

/// The words of a test.
struct Told<'a> {
    of: &'a str,
    by: Option<&'a Said<Text>>,
    result: &'a str,
}

impl Told<'_> {
    fn tested(
        &self,
        row: &Hazard,
        trade: &Trade,
        parts: Vec<PartId>,
        on: Option<&Said<NaiveDate>>,
        told_by: TestRow,
    ) -> Tested {
        let means = self.means(trade);
        let known = means.and_then(|means| trade.hazards.means(means));
        let says =
            |words: &[Said<Text>]| words.iter().any(|word| self.texts().any(|text| mentions(text, word)));
        let has = |words: &[Said<Text>]| words.iter().any(|word| self.texts().any(|text| names(text, word)));
        let sought = row.sought.as_ref().is_some_and(|sought| sought.value);
        Tested {
            of: self.of.to_owned(),
            result: self.result.to_owned(),
            parts,
            on: on.map(|on| on.value),
            by: self.by.map_or_else(String::new, |by| by.to_string()),
            means,
            through: known.is_some_and(|row| says(&row.through) && !has(&row.not_through)),
            by_weight: known.is_some_and(|row| says(&row.by_weight)),
            reading: match reading(self.result) {
                _ if sought => reading_of_sought(self.result),
                // None of what was tested for.
                TestReading::Open if row.tests.iter().any(|word| lacks(self.result, word)) => {
                    TestReading::Negative
                }
                other => other,
            },
            row: told_by,
        }
    }

    /// By what means it was made; where its words tell of several, by the one that proves least.
    fn means(&self, trade: &Trade) -> Option<TestMeans> {
        let told = |means: &&TestMeans| {
            let row = trade.hazards.means(**means);
            let words = row.iter().flat_map(|row| &row.words);
            words.into_iter().any(|word| self.texts().any(|text| names(text, word)))
        };
        TestMeans::ALL.iter().find(told).copied()
    }

    fn texts(&self) -> impl Iterator<Item = &str> {
        [self.of, self.by.map_or("", |by| by), self.result].into_iter()
    }
}

pub(super) fn ids(said: &[Said<PartId>]) -> Vec<PartId> {
    said.iter().map(|id| id.value.clone()).collect()
}
