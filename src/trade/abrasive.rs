//! Abrasives: how large their grain is, and how far one grade may lie from the next.

use super::finish::Seen;
use crate::fields::shape::{choices, table};
use crate::fields::{Count, Figure, Id, Range, Said, Text};

choices! {
    /// The scale that a grade belongs to.
    pub enum Scale {
        /// FEPA P, ISO 6344.
        FepaP = "fepa-p",
        /// CAMI, ANSI B74.18.
        Cami = "cami",
    }
}

choices! {
    /// How the grain of a P grade is measured.
    pub enum Band {
        /// By sieves, P12 to P220.
        Macro = "macro",
        /// By its median size, P240 and finer.
        Micro = "micro",
    }
}

table! {
    /// One grade of coated abrasive.
    pub struct Abrasive ("[[abrasive]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "label" => label: Said<Text>,
        /// Its scale.
        "scale" => scale: Said<Scale>,
        /// Its number on that scale.
        "grade" => grade: Said<Count>,
        /// The size of its grain in micrometres: the median, or a chart's average where sieves define it.
        "size-um" => size_um: Said<Figure>,
        /// How its grain is measured.
        "band" => band: Option<Said<Band>>,
        /// The P grade nearest to it.
        "nearest-p" => nearest_p: Option<Said<Count>>,
        /// A second published figure.
        "other-um" => other_um: Option<Said<Figure>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// One grade of steel wool.
    pub struct SteelWool ("[[steel-wool]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its number.
        "grade" => grade: Said<Text>,
        /// Its name.
        "name" => name: Said<Text>,
        /// How wide its fibres are, in micrometres.
        "fibre-um" => fibre_um: Said<Range>,
        /// What it is used for.
        "for" => r#for: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// How many times coarser one grade may be than the next.
    pub struct Threshold ("[[threshold]]") {
        /// `pass` or `warn`.
        "id" => id: Said<Id>,
        /// The coarse size over the fine size.
        "ratio" => ratio: Said<Figure>,
        /// Where it comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// A rule of thumb in words.
    pub struct Thumb ("[[rule]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The rule.
        "text" => text: Said<Text>,
        /// Where it comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of abrasives.
    pub struct AbrasiveTable ("abrasive.toml") {
        /// Coated abrasives.
        "abrasive" => grades: Vec<Said<Abrasive>>,
        /// Steel wool.
        "steel-wool" => wools: Vec<Said<SteelWool>>,
        /// How far one grade may lie from the next.
        "threshold" => thresholds: Vec<Said<Threshold>>,
        /// Rules of thumb.
        "rule" => rules: Vec<Said<Thumb>>,
    }
}

impl AbrasiveTable {
    /// The grain of a grade in micrometres.
    pub fn size(&self, scale: Scale, grade: u32) -> Option<f64> {
        let of = |row: &&Said<Abrasive>| row.scale.value == scale && row.grade.0 == grade;
        self.grades.iter().find(of).map(|row| row.size_um.0)
    }

    /// The threshold of this id, as coarse size over fine size; a test reads that both are there.
    pub fn threshold(&self, id: &str) -> f64 {
        let row = self.thresholds.iter().find(|row| row.id.0 == id);
        row.map_or(f64::INFINITY, |row| row.ratio.0)
    }
}
