//! Abrasives: how large their grain is, and how far one grade may lie from the next.

use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
use crate::fields::{Count, Figure, Id, Said, Text};

choices! {
    /// The scale that a grade belongs to.
    pub enum GritScale {
        /// FEPA P, ISO 6344.
        FepaP = "fepa-p",
        /// CAMI, ANSI B74.18.
        Cami = "cami",
    }
}

trade_row! {
    /// One grade of coated abrasive.
    pub struct Abrasive ("[[abrasive]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its scale.
        "scale" => scale: Said<GritScale>,
        /// Its number on that scale.
        "grade" => grade: Said<Count>,
        /// The size of its grain in micrometres: the median, or a chart's average where sieves define it.
        "size-um" => size_um: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["label", "band", "nearest-p", "other-um"];
}

trade_row! {
    /// How many times coarser one grade may be than the next.
    pub struct Threshold ("[[threshold]]") {
        /// `pass` or `warn`.
        "id" => id: Said<Id>,
        /// The coarse size over the fine size.
        "ratio" => ratio: Said<Figure>,
        /// Where it comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
}

choices! {
    /// What a word beside a grade, or in its place, says.
    pub enum GritWord {
        /// It may stand beside a bare number, and adds nothing to it.
        BesideNumber = "beside-number",
        /// It dulls what is cleaned with it.
        Dulls = "dulls",
        /// It is worked with and has no size to compare: a pad, wool, a powder, a blade.
        WithoutSize = "without-size",
    }
}

trade_row! {
    /// The words that say one thing of an abrasive.
    pub struct GritWords ("[[words]]") {
        /// What they say.
        "id" => says: Said<GritWord>,
        /// The words, in small letters.
        "words" => words: Vec<Said<Text>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    key = |row| row.says.word();
}

trade_table! {
    /// The table of abrasives.
    pub struct AbrasiveTable ("abrasive.toml") {
        /// Coated abrasives.
        "abrasive" => grades: Vec<Said<Abrasive>>,
        /// How far one grade may lie from the next.
        "threshold" => thresholds: Vec<Said<Threshold>>,
        /// Words of abrasives.
        "words" => words: Vec<Said<GritWords>>,
    }
    retired = ["steel-wool", "rule"];
}

impl AbrasiveTable {
    /// The grain of a grade in micrometres.
    pub fn size(&self, scale: GritScale, grade: u32) -> Option<f64> {
        let of = |row: &&Said<Abrasive>| row.scale.value == scale && row.grade.0 == grade;
        self.grades.iter().find(of).map(|row| row.size_um.0)
    }

    /// Whether a word, in small letters, says this.
    pub fn says(&self, what: GritWord, word: &str) -> bool {
        let row = by_id(&self.words, what.word());
        row.is_some_and(|row| row.words.iter().any(|known| known.value.0 == word))
    }

    /// The threshold of this id, as coarse size over fine size; a test reads that both are there.
    pub fn threshold(&self, id: &str) -> f64 {
        by_id(&self.thresholds, id).map_or(f64::INFINITY, |row| row.ratio.0)
    }
}

#[cfg(test)]
mod tests {
    use super::GritScale;
    use crate::trade::Trade;

    #[test]
    fn a_number_is_finer_than_a_lower_one_of_its_scale() {
        let abrasives = &Trade::built_in().abrasives;
        for scale in [GritScale::FepaP, GritScale::Cami] {
            let mut grades: Vec<(u32, f64)> = abrasives
                .grades
                .iter()
                .filter(|row| row.scale.value == scale)
                .map(|row| (row.grade.0, row.size_um.0))
                .collect();
            grades.sort_by_key(|(grade, _)| *grade);
            assert!(grades.windows(2).all(|pair| pair[0].1 > pair[1].1), "{grades:?}");
        }
    }
}
