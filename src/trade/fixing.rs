//! Kinds of fixing, glue and fitting.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{trade_row, trade_table};
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text, Year};

choices! {
    /// When a fixing belongs to the trade. Evidence about the part, never proof.
    pub enum Era {
        /// Used long before 1900 and since.
        Traditional = "traditional",
        /// A fixing of the twentieth century or later.
        Modern = "modern",
        /// It tells nothing.
        Either = "either",
    }
}

choices! {
    /// What sort of fixing it is.
    pub enum Sort {
        /// Screws.
        Screw = "screw",
        /// Nails, pins and staples.
        Nail = "nail",
        /// Hinges.
        Hinge = "hinge",
        /// Glues.
        Glue = "glue",
        /// Locks, castors, brackets and the like.
        Fitting = "fitting",
        /// Loose pieces in a joint.
        Joint = "joint",
        /// Everything else.
        Other = "other",
    }
}

trade_row! {
    /// One kind of fixing.
    pub struct FixingKind ("[[fixing]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// One of them, as printed.
        "label" => label: Said<Text>,
        /// Several of them, as printed.
        "label-plural" => label_plural: Said<Text>,
        /// The ways people say it.
        "also" => also: Vec<Said<Text>>,
        /// The rows that it stands for, where it is a word for several kinds.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it is, where its name does not say.
        "meaning" => meaning: Option<Said<Text>>,
        /// What sort it is.
        "group" => sort: Said<Sort>,
        /// When it belongs to the trade.
        "era" => era: Said<Era>,
        /// The year below which it hardly exists.
        "not-before" => not_before: Option<Said<Year>>,
        /// The year from which it is unremarkable.
        "common-from" => common_from: Option<Said<Year>>,
        /// How it comes out again.
        "undo" => undo: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
    words = |row| [&row.label, &row.label_plural].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of fixings.
    pub struct FixingTable ("fixing.toml") {
        /// The rows.
        "fixing" => rows: Vec<Said<FixingKind>>,
    }
}

impl Trade {
    /// Where words for a fixing are looked up.
    pub fn fixing_words(&self) -> Words<'_, FixingKind> {
        self.words_of(WordTable::Fixing, &self.fixings.rows)
    }

    /// The kind of fixing of this id, name or spoken word.
    pub fn fixing(&self, word: &str) -> Option<&FixingKind> {
        self.fixing_words().taken(word).row()
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::table::by_id;
    use crate::trade::{Era, Trade};

    #[test]
    fn a_word_for_several_fixings_dates_no_closer_than_any_of_them() {
        let rows = &Trade::built_in().fixings.rows;
        for row in rows.iter().filter(|row| !row.may_be.is_empty()) {
            for id in &row.may_be {
                let one = by_id(rows, &id.0).expect(&id.0);
                assert!(one.may_be.is_empty(), "{} may be {}, which is a word itself", row.id.0, id.0);
                assert!([Era::Either, one.era.value].contains(&row.era.value), "{}: {}", row.id.0, id.0);
                let year = |year: &Option<crate::fields::Said<crate::fields::Year>>| {
                    year.as_ref().map_or(i32::MIN, |year| year.0)
                };
                assert!(year(&row.not_before) <= year(&one.not_before), "{}: {}", row.id.0, id.0);
                assert!(year(&row.common_from) <= year(&one.common_from), "{}: {}", row.id.0, id.0);
            }
        }
    }
}
