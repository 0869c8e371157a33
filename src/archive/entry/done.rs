//! What was done to the piece, and what lies on it.

use chrono::NaiveDate;

use crate::archive::table::entry;
use crate::unit::Hours;

entry! {
    /// A dated act.
    pub struct WorkEntry ("work") {
        /// Its name within the record.
        id: Option<String>,
        /// The day.
        on_day: Option<NaiveDate>,
        /// The parts worked on, by name.
        parts: String,
        /// What was done.
        did: String,
        /// Why.
        why: Option<String>,
        /// By what means.
        means: Option<String>,
        /// What kind of task it was.
        task: Option<String>,
        /// How long it took; empty where that is not recorded. Of a work on several pieces of a set, what falls to this one.
        hours: Option<Hours>,
        /// On how many pieces of its set it was done at once; empty where on this one alone.
        of_pieces: Option<u32>,
        /// Whether it is counted: 0 where it is the same as one of another piece of the set, with which it is.
        counted: bool,
        /// How it turned out.
        turned_out: Option<&'static str>,
        /// The number of the earlier work that it does again.
        redoes: Option<usize>,
        /// How to undo it.
        undo: Option<String>,
        /// Whether it can be undone.
        undoable: Option<&'static str>,
    }
}

entry! {
    /// A line of the day book, as it was jotted.
    pub struct DayBookEntry ("day_book") {
        /// The day.
        on_day: Option<NaiveDate>,
        /// The line, without its day.
        line: String,
        /// How many minutes it tells of.
        minutes: Option<u32>,
        /// Whether it is for the archive alone: 1 or 0.
        private: bool,
        /// How many rows it may make that the record does not have; 0 where it was seen to, and of a piece that has left.
        waits: usize,
    }
}

entry! {
    /// That a work mends a finding.
    pub struct MendEntry ("mend") {
        /// The number of the work.
        work: usize,
        /// The number of the finding.
        finding: usize,
    }
}

entry! {
    /// Parts that share a finish.
    pub struct SurfaceEntry ("surface") {
        /// What the papers call it, or its parts' names.
        name: String,
        /// Its parts, by name.
        parts: String,
        /// The timbers of its parts, by id or as written, joined by commas.
        timbers: String,
        /// What lay on it when it came, from the wood up, joined by commas.
        found: String,
        /// What lies uppermost today.
        top: Option<String>,
        /// The reckoned area in square metres: faces alone.
        area_least: Option<f64>,
        /// The same with all edges.
        area_most: Option<f64>,
    }
}

entry! {
    /// One step on a surface.
    pub struct StepEntry ("step") {
        /// The number of the surface.
        surface: usize,
        /// The day.
        on_day: Option<NaiveDate>,
        /// What kind of step: `clean`, `test`, `remove`, `abrade` or `apply`; empty where it says none, or several.
        act: Option<&'static str>,
        /// With what, or of what: the cleaner, the test, the layer, the grits, the finish; as written.
        what: String,
        /// The finish of the table that was applied or removed.
        finish: Option<String>,
        /// The tin of the workshop that it came out of.
        tin: Option<String>,
        /// By what means.
        means: Option<String>,
        /// How many coats were applied.
        coats: Option<u32>,
        /// The least hours between coats.
        every_least: Option<f64>,
        /// The most.
        every_most: Option<f64>,
        /// What a test showed.
        result: Option<String>,
        /// The parts that it was done to, by name, where not to all of the surface.
        only_on: Option<String>,
        /// Whether its layer was taken off again by a later step: 1 or 0.
        undone: bool,
        /// Why.
        why: Option<String>,
        /// Anything else.
        note: Option<String>,
    }
}

entry! {
    /// One ingredient of what was mixed for a step.
    pub struct MixEntry ("mix") {
        /// The number of the step.
        step: usize,
        /// What it is.
        ingredient: String,
        /// The least parts of it.
        parts_least: f64,
        /// The most.
        parts_most: f64,
    }
}

entry! {
    /// One layer of a surface: there today, or gone.
    pub struct LayerEntry ("layer") {
        /// The number of the surface.
        surface: usize,
        /// Its place from the wood up, counted from 1; empty for one that is gone.
        place: Option<usize>,
        /// `there`, `undone` (ours, and taken off again) or `removed` (found, and taken off).
        state: &'static str,
        /// What the papers call it.
        name: String,
        /// The finish of the table.
        finish: Option<String>,
        /// How many coats.
        coats: u32,
        /// The day it was begun; empty for one that was there before.
        on_day: Option<NaiveDate>,
        /// The number of the step that laid it; empty for one that was there before.
        step: Option<usize>,
    }
}

entry! {
    /// Screws, nails, hinges, glues and fittings of one kind.
    pub struct FixingEntry ("fixing") {
        /// The parts it holds, by name.
        parts: String,
        /// Its kind, as written.
        kind: String,
        /// The row of the table that it is taken for.
        fixing: Option<String>,
        /// How many.
        count: Option<u32>,
        /// What it is to the piece as first made.
        standing: &'static str,
        /// What it replaces.
        instead_of: Option<String>,
        /// Why it was chosen.
        why: Option<String>,
        /// How it comes out again.
        undo: Option<String>,
        /// Anything else.
        note: Option<String>,
    }
}
