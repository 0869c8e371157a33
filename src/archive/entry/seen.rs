//! What was seen of the piece.

use chrono::NaiveDate;

use crate::archive::table::entry;

entry! {
    /// Something observed on a part.
    pub struct FindingEntry ("finding") {
        /// Its name within the record.
        id: String,
        /// Where it is, by the names of the parts.
        parts: String,
        /// What is seen, as written.
        seen: String,
        /// The term of the table that it is taken for.
        term: Option<String>,
        /// How far it goes and where.
        extent: Option<String>,
        /// How much it matters.
        severity: Option<&'static str>,
        /// A guess at the cause.
        cause: Option<String>,
        /// How sure the guess is.
        confidence: Option<&'static str>,
        /// What came of mending it, with everything that was done again: `held`, `partly`, `failed`; empty where no work
        /// mends it.
        outcome: Option<&'static str>,
        /// Whether it was left, in whole or in part: 1 or 0.
        remains: bool,
    }
}

entry! {
    /// A test made or declared not made, of the piece or on a surface.
    pub struct TestEntry ("test") {
        /// What was tested for, or with.
        tested: String,
        /// The parts tested, by name.
        parts: String,
        /// The day.
        on_day: Option<NaiveDate>,
        /// By what means.
        means: Option<String>,
        /// What came out, or `not-tested`.
        result: String,
        /// Whether it was made: 1 or 0.
        made: bool,
        /// The number of the surface, where it was made as a step on one.
        surface: Option<usize>,
    }
}

entry! {
    /// A photograph.
    pub struct PhotographEntry ("photograph") {
        /// Its file in `photos/`.
        file: String,
        /// When in the work it was taken.
        stage: Option<&'static str>,
        /// What it is a view of.
        view: String,
        /// What it shows, for those who cannot see it.
        alt: Option<String>,
        /// The words under it.
        caption: Option<String>,
        /// Whether it is for the archive alone: 1 or 0.
        private: bool,
    }
}
