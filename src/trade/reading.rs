//! What tests of a coat let one take it for.

use super::Trade;
use super::table::{by_id, trade_row, trade_table};
use crate::fields::{Id, Said, Text};

trade_row! {
    /// What one test with one result lets a coat be taken for.
    pub struct Reading ("[[reading]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Words of which the test tells one.
        "with" => with: Vec<Said<Text>>,
        /// Words of which it tells one too.
        "and-with" => and_with: Vec<Said<Text>>,
        /// Words of which its result tells one.
        "shows" => shows: Vec<Said<Text>>,
        /// Words that leave the coat unknown.
        "unless" => unless: Vec<Said<Text>>,
        /// All that the coat may be.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it probably is, as printed within a sentence.
        "says" => says: Said<Text>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The table of what tests of a coat show.
    pub struct ReadingTable ("reading.toml") {
        /// The rows.
        "reading" => rows: Vec<Said<Reading>>,
    }
}

impl Trade {
    /// The reading of this id.
    pub fn reading_by_id(&self, id: &str) -> Option<&Reading> {
        by_id(&self.readings.rows, id)
    }

    /// What a test of a coat lets it be taken for; `None` where it leaves that open.
    pub fn reading(&self, test: &str, result: &str) -> Option<&Reading> {
        let (test, result) = (in_words(test), in_words(result));
        let tells =
            |text: &str, words: &[Said<Text>]| words.iter().any(|word| text.contains(&in_words(word)));
        let told = |row: &&Reading| {
            tells(&test, &row.with)
                && (row.and_with.is_empty() || tells(&test, &row.and_with))
                && tells(&result, &row.shows)
                && !tells(&test, &row.unless)
                && !tells(&result, &row.unless)
        };
        // Two that disagree leave it open.
        let mut rows = self.readings.rows.iter().map(|row| &row.value).filter(told);
        rows.next().filter(|_| rows.next().is_none())
    }
}

/// A text in small letters with a space about each of its words, so that `no` is no part of `now`.
fn in_words(text: &str) -> String {
    let words: Vec<String> =
        text.to_lowercase().split(|letter: char| !letter.is_alphanumeric()).map(str::to_owned).collect();
    format!(" {} ", words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_test_tells_a_kind_and_a_doubt_tells_none() {
        let read = |test: &str, result: &str| {
            Trade::built_in().reading(test, result).map_or("", |row| row.id.0.as_str())
        };
        for (test, result, wanted) in [
            ("drop of spirit on the old finish", "it softened: shellac, most likely", "softened-by-spirit"),
            ("Meths", "Softened at once", "softened-by-spirit"),
            ("drop of spirit", "no softening: not shellac; what it is we do not know", ""),
            ("white spirit", "softened", ""),
            ("alcohol", "softened slightly", ""),
            ("lacquer thinner", "softens", "softened-by-lacquer-thinner"),
            ("alcohol, then lacquer thinner", "nothing moved it", "nothing-moved-it"),
            ("alcohol", "nothing moved it", ""),
            ("alcohol, then lacquer thinner", "alcohol did not soften it, thinner softened it", ""),
            ("alcohol and acetone", "softened", ""),
            ("lead swab", "negative", ""),
            ("", "", ""),
        ] {
            assert_eq!(read(test, result), wanted, "{test}: {result}");
        }
    }

    #[test]
    fn every_kind_that_a_reading_names_is_a_finish() {
        let trade = Trade::built_in();
        for row in &trade.readings.rows {
            for id in &row.may_be {
                assert!(by_id(&trade.finishes.rows, &id.0).is_some(), "{}: {}", row.id.0, id.0);
            }
        }
    }
}
