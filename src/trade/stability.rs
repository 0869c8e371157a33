//! Tipping: what loads to check, and what to recommend.

use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Figure, Id, Said, Text};

trade_row! {
    /// A load that may come upon an open drawer or door.
    pub struct TippingLoad ("[[load]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Kilograms.
        "kg" => kg: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
    retired = ["name"];
}

trade_row! {
    /// A piece of advice.
    pub struct Advice ("[[advice]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// What it says, as printed.
        "text" => text: Said<Text>,
        /// The height it starts at, in millimetres.
        "height-mm" => height_mm: Option<Said<Figure>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// A word of a record's kind that makes it a piece that can tip.
    pub struct TippingKind ("[[kind]]") {
        /// The word.
        "id" => id: Said<Id>,
        /// Whether an anchor is prompted at any height.
        "any-height" => any_height: Option<Said<bool>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_row! {
    /// A figure of our own.
    pub struct TippingLimit ("[[limit]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// The figure.
        "ratio" => ratio: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
    retired = ["text"];
}

trade_table! {
    /// The table of tipping.
    pub struct StabilityTable ("stability.toml") {
        /// Loads.
        "load" => loads: Vec<Said<TippingLoad>>,
        /// Advice.
        "advice" => advice: Vec<Said<Advice>>,
        /// Kinds of piece.
        "kind" => kinds: Vec<Said<TippingKind>>,
        /// Figures of our own.
        "limit" => limits: Vec<Said<TippingLimit>>,
    }
    retired = ["rule"];
}

impl StabilityTable {
    /// A load, by id.
    pub fn load(&self, id: &str) -> Option<&TippingLoad> {
        by_id(&self.loads, id)
    }

    /// A piece of advice, by id.
    pub fn advice(&self, id: &str) -> Option<&Advice> {
        by_id(&self.advice, id)
    }

    /// A figure of our own, by id.
    pub fn limit(&self, id: &str) -> Option<&TippingLimit> {
        by_id(&self.limits, id)
    }

    /// The row that a word of a record's kind names, such as `chest` in `storage/chest`: the last such word says most.
    pub fn kind(&self, kind: &str) -> Option<&TippingKind> {
        let words: Vec<String> = kind.split(|c: char| !c.is_alphanumeric()).map(str::to_lowercase).collect();
        let row = |word: &String| self.kinds.iter().find(|row| row.id.0 == *word);
        words.iter().rev().find_map(row).map(|row| &row.value)
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn a_kind_is_told_by_any_of_its_words() {
        let table = &Trade::built_in().stability;
        let kind = |kind: &str| table.kind(kind).map(|row| row.id.0.as_str());
        assert_eq!(kind("case/bookcase"), Some("bookcase"));
        assert_eq!(kind("storage/Chest of drawers"), Some("drawers"));
        assert_eq!(kind("table/gateleg"), None);
        assert_eq!(kind("seat/orchestra-stool"), None);
    }
}
