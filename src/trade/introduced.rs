//! Earliest plausible dates of materials, fixings and marks.

use super::Trade;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
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

trade_row! {
    /// One thing that has not always existed.
    pub struct Introduced ("[[introduced]]") {
        /// The id that other tables call it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
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
        "seen" => seen: Said<Verification>,
        /// How far they can be relied on.
        "confidence" => confidence: Option<Said<Sureness>>,
    }
    retired = ["kind"];
}

trade_table! {
    /// The table of introductions.
    pub struct IntroducedTable ("introduced.toml") {
        /// The rows.
        "introduced" => rows: Vec<Said<Introduced>>,
    }
}

impl Trade {
    /// The introduction of this id.
    pub fn introduced(&self, id: &str) -> Option<&Introduced> {
        by_id(&self.introduced.rows, id)
    }

    /// The introduction that a text names by its words; of several the one with the longest.
    pub fn introduced_as(&self, text: &str) -> Option<&Introduced> {
        let words = |text: &str| {
            let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
            words.map(str::to_lowercase).collect::<Vec<_>>()
        };
        let text = words(text);
        let longest = |row: &Introduced| {
            let named = row.words.iter().map(|name| words(name));
            let fits = named.filter(|name| text.windows(name.len()).any(|run| run == name.as_slice()));
            fits.map(|name| name.concat().len()).max()
        };
        let rows = self.introduced.rows.iter().map(|row| &row.value);
        rows.filter_map(|row| Some((longest(row)?, row)))
            .max_by_key(|(length, _)| *length)
            .map(|(_, row)| row)
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn a_material_is_known_by_its_words() {
        let trade = Trade::built_in();
        let id = |text: &str| trade.introduced_as(text).map(|row| row.id.0.as_str());
        assert_eq!(id("plywood"), Some("plywood"));
        assert_eq!(id("Birch plywood, 6 mm"), Some("plywood"));
        assert_eq!(id("melamine-faced chipboard"), Some("melamine-chipboard"));
        assert_eq!(id("medium-density fibreboard"), Some("mdf"));
        assert_eq!(id("fibreboard"), Some("fibreboard-early"));
        assert_eq!(id("supply"), None);
        assert_eq!(id(""), None);
    }
}
