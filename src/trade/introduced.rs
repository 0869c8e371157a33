//! Earliest plausible dates of materials, fixings and marks.

use super::finish::Seen;
use crate::fields::shape::{choices, table};
use crate::fields::{Id, Said, Text, Year};

choices! {
    /// How far a date can be relied on.
    pub enum Sureness {
        /// A patent or the date of an industry.
        High = "high",
        /// A handbook's date.
        Medium = "medium",
        /// A popular account, or accounts that lie far apart.
        Low = "low",
    }
}

choices! {
    /// What sort of thing was introduced.
    pub enum Novelty {
        /// A board or sheet.
        Board = "board",
        /// A finish.
        Finish = "finish",
        /// A screw, nail or connector.
        Fixing = "fixing",
        /// Glass.
        Glass = "glass",
        /// A glue.
        Glue = "glue",
        /// A hinge, lock, catch or castor.
        Hardware = "hardware",
        /// A joint.
        Joint = "joint",
        /// A label.
        Label = "label",
        /// A mark of a tool or material.
        Mark = "mark",
        /// A metal.
        Metal = "metal",
        /// A pigment or dye.
        Pigment = "pigment",
        /// A plastic.
        Plastic = "plastic",
        /// Upholstery.
        Upholstery = "upholstery",
    }
}

table! {
    /// One thing that has not always existed.
    pub struct Introduced ("[[introduced]]") {
        /// The id that other tables call it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// What sort of thing it is.
        "kind" => kind: Said<Novelty>,
        /// The year of its first existence anywhere.
        "not-before" => not_before: Said<Year>,
        /// The year from which it is unremarkable in ordinary furniture.
        "common-from" => common_from: Said<Year>,
        /// What is worth knowing about the dates.
        "note" => note: Option<Said<Text>>,
        /// Words by which a record may call it, in lower case.
        "words" => words: Vec<Said<Text>>,
        /// Where the dates come from.
        "source" => source: Said<Text>,
        /// Whether both years were read.
        "seen" => seen: Said<Seen>,
        /// How far they can be relied on.
        "confidence" => confidence: Said<Sureness>,
    }
}

table! {
    /// The table of introductions.
    pub struct IntroducedTable ("introduced.toml") {
        /// The rows.
        "introduced" => rows: Vec<Said<Introduced>>,
    }
}
