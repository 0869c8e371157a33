//! Tests for hazards, as far as the record tells them.

use super::result::{TestReading, reading};
use crate::fields::{Row, Said, Text};
use crate::record::{PartId, Step, Surface, Test};

/// A test that concerns a hazard, made or declared not made.
#[derive(Debug, Clone, PartialEq)]
pub struct Tested {
    /// What was tested.
    pub of: String,
    /// What came out, in the record's words; empty where nothing is recorded.
    pub result: String,
    /// The parts tested; empty where the whole piece was.
    pub parts: Vec<PartId>,
    /// By what means; may be empty.
    pub by: String,
    /// What it showed.
    pub reading: TestReading,
}

/// Where a test was made.
pub(super) enum TestPlace {
    /// On this surface.
    Surface(Row<Surface>),
    /// On these parts.
    Parts(Vec<PartId>),
    /// On the piece as a whole.
    Whole,
}

pub(super) fn place(test: &Test) -> TestPlace {
    match test.part.is_empty() {
        true => TestPlace::Whole,
        false => TestPlace::Parts(ids(&test.part)),
    }
}

pub(super) fn tested(test: &Test) -> Tested {
    Tested {
        of: test.of.to_string(),
        result: test.result.to_string(),
        parts: ids(&test.part),
        by: test.by.as_ref().map_or_else(String::new, |by| by.to_string()),
        reading: reading(&test.result),
    }
}

pub(super) fn tested_in_step(of: &Text, step: &Step, surface: &Surface) -> Tested {
    let result = step.result.as_ref().map_or("", |result| result);
    Tested {
        of: of.to_string(),
        result: result.to_owned(),
        parts: if step.only.is_empty() { ids(&surface.parts) } else { ids(&step.only) },
        by: step.by.as_ref().map_or_else(String::new, |by| by.to_string()),
        reading: reading(result),
    }
}

pub(super) fn ids(said: &[Said<PartId>]) -> Vec<PartId> {
    said.iter().map(|id| id.value.clone()).collect()
}
