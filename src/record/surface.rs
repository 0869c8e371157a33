//! Surfaces and the dated steps that made them what they are.

use chrono::NaiveDate;

use super::workshop::Drying;
use super::{FinishName, PartId, Removal, TestResult};
use crate::fields::shape::table;
use crate::fields::{Brief, Count, Faces, OneOrMore, Private, Range, Row, Said, Text};

table! {
    /// One ingredient of a mix.
    pub struct Ingredient ("mix") {
        /// What it is.
        "of" => of: Said<Text>,
        /// How many parts of it.
        "parts" => parts: Said<Range>,
    }
}

table! {
    /// One step on a surface: exactly one of `clean`, `test`, `remove`, `abrade` and `apply`.
    pub struct Step ("step") {
        /// The day.
        "on" => on: Option<Said<NaiveDate>>,
        /// Cleaned, with what.
        "clean" => clean: Option<Said<Text>>,
        /// Tested, for what or with what.
        "test" => test: Option<Said<Text>>,
        /// What the test showed, or `not-tested`.
        "result" => result: Option<Said<TestResult>>,
        /// Removed: a layer by its finish, `old-finish`, or `all`.
        "remove" => remove: Option<Said<Removal>>,
        /// By what means.
        "by" => by: Option<Said<Text>>,
        /// Abraded, with these grits in this order.
        "abrade" => abrade: OneOrMore<Text>,
        /// Applied: a finish family, or `tin:` and the id of one of the workshop's tins.
        "apply" => apply: Option<Said<FinishName>>,
        /// What was mixed.
        "mix" => mix: Vec<Said<Ingredient>>,
        /// How many coats; one if not said.
        "coats" => coats: Option<Said<Count>>,
        /// Hours between coats.
        "every-hours" => every_hours: Option<Said<Range>>,
        /// The grit used between coats.
        "abrade-between" => abrade_between: Option<Said<Text>>,
        /// The parts of the surface it was done to, where not to all.
        "only" => only: OneOrMore<PartId>,
        /// Why, where that is worth a line.
        "why" => why: Option<Said<Text>>,
        /// Anything else worth printing.
        "note" => note: Option<Said<Text>>,
        /// Whether it is still to be done; papers tell nothing of it.
        "planned" => planned: Option<Said<bool>>,
        /// The way of a decision that it is planned for, as `plan` of the option says it; for the archive alone.
        "option" => option: Private<Option<Said<Text>>>,
        /// The lines of the day book that it was entered from; for the archive alone.
        "from-daybook" => from_daybook: Private<OneOrMore<Text>>,
    }
    example = "{ on = 2026-03-14, apply = \"shellac\", coats = 2 }";
}

table! {
    /// Parts that share a finish, and what was done to them in the order it happened.
    pub struct Surface ("[[surface]]") {
        /// What the papers call it; the parts' names if not said.
        "name" => name: Option<Said<Brief<200>>>,
        /// Its parts.
        "parts" => parts: OneOrMore<PartId>,
        /// What lay on it when the piece came, from the wood up, as finish families; `unknown` if not known.
        "found" => found: OneOrMore<FinishName>,
        /// How many faces of its boards are finished, 1 or 2; the show face alone if not said.
        "faces" => faces: Option<Said<Faces>>,
        /// The air in which its coats dried, where it was not that of the workshop.
        "drying" => drying: Option<Said<Drying>>,
        /// The steps.
        "steps" => steps: Vec<Row<Step>>,
    }
}

/// What a step did, with its word.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Act<'a> {
    /// Cleaned with something.
    Clean(&'a Said<Text>),
    /// Tested for something.
    Test(&'a Said<Text>),
    /// Removed a layer.
    Remove(&'a Said<Removal>),
    /// Abraded with grits.
    Abrade(&'a [Said<Text>]),
    /// Applied a finish.
    Apply(&'a Said<FinishName>),
}

impl Step {
    /// Everything that the step says it did; a sound step says one thing.
    pub fn acts(&self) -> Vec<Act<'_>> {
        let abrade = (!self.abrade.is_empty()).then(|| Act::Abrade(&self.abrade));
        [
            self.clean.as_ref().map(Act::Clean),
            self.test.as_ref().map(Act::Test),
            self.remove.as_ref().map(Act::Remove),
            abrade,
            self.apply.as_ref().map(Act::Apply),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    /// The one thing that a sound step did.
    pub fn act(&self) -> Option<Act<'_>> {
        match self.acts().as_slice() {
            [act] => Some(*act),
            _ => None,
        }
    }

    /// How many coats an applying step laid.
    pub fn coat_count(&self) -> u32 {
        self.coats.as_ref().map_or(1, |coats| coats.0)
    }
}
