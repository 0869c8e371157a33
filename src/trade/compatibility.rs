//! What may go over what.

use super::Trade;
use super::finish::BARE_WOOD;
use super::table::{trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
use crate::fields::{Id, Said, Text};

choices! {
    /// Whether one layer may go over another, and on what condition.
    pub enum Compatibility {
        /// Yes, on a clean and dry surface.
        Good = "good",
        /// Once the layer below is dry.
        WhenDry = "when-dry",
        /// Once the layer below has fully cured.
        AfterCure = "after-cure",
        /// On a surface dulled with fine abrasive.
        ScuffFirst = "scuff-first",
        /// On dewaxed shellac only.
        DewaxedOnly = "dewaxed-only",
        /// Once the layer below has been washed off.
        CleanFirst = "clean-first",
        /// With a barrier coat between.
        SealFirst = "seal-first",
        /// It sometimes holds.
        Risky = "risky",
        /// No.
        No = "no",
    }
}

trade_row! {
    /// A ruling on one layer over another.
    pub struct Ruling ("[[over]]") {
        /// The layer above: a finish family, or `any`.
        "over" => over: Said<Id>,
        /// The layer below: a finish family, `any`, or one of the table's own words.
        "under" => under: Said<Id>,
        /// Whether it may.
        "verdict" => compatibility: Said<Compatibility>,
        /// Why, in a sentence.
        "why" => why: Said<Text>,
        /// Where the ruling comes from.
        "source" => source: Said<Text>,
        /// Whether it was read.
        "seen" => seen: Said<Verification>,
    }
    key = |row| format!("{} over {}", row.over.0, row.under.0);
}

impl Ruling {
    /// Whether it says no more than what holds for any coat over any other.
    pub fn is_general(&self) -> bool {
        self.over.0 == ANY && self.under.0 == ANY
    }
}

/// The word for whatever layer.
const ANY: &str = "any";

/// Ids that share the rulings of another where they have none of their own, as the table's head comment says.
const ALSO: [(&str, &str); 6] = [
    ("dewaxed-shellac", "shellac"),
    ("linseed-oil-unknown", "boiled-linseed-oil"),
    ("old-wax", "paste-wax"),
    ("wax-over-film", "paste-wax"),
    ("wax-unknown", "paste-wax"),
    ("waxed-shellac", "shellac"),
];

trade_table! {
    /// The table of rulings.
    pub struct CompatibilityTable ("compatibility.toml") {
        /// The rows.
        "over" => rows: Vec<Said<Ruling>>,
    }
}

impl Trade {
    /// The ruling on one finish over another, by their ids.
    ///
    /// The exact pair counts first, then any finish over the lower one, then the upper one over any, then any
    /// over any. Bare wood has rulings of its own pairs alone, as the general ones speak of coats; so has a finish
    /// over itself, since a further coat is a matter of time and not of chemistry.
    pub fn ruling(&self, over: &str, under: &str) -> Option<&Ruling> {
        let row = |over: &str, under: &str| {
            let mut rows = self.compatibility.rows.iter().map(|row| &row.value);
            rows.find(|row| row.over.0 == over && row.under.0 == under)
        };
        let overs = [Some(over), kin(over)];
        let unders = [Some(under), kin(under)];
        let pair = |over: Option<&str>, under: Option<&str>| row(over?, under?);
        let exact = overs.iter().flat_map(|over| unders.iter().map(move |under| (*over, *under)));
        let exact = exact.filter_map(|(over, under)| pair(over, under)).next();
        let alone = under == BARE_WOOD || kin(over).unwrap_or(over) == kin(under).unwrap_or(under);
        if exact.is_some() || alone {
            return exact;
        }
        let over_the_lower = unders.iter().find_map(|under| pair(Some(ANY), *under));
        let over_any = || overs.iter().find_map(|over| pair(*over, Some(ANY)));
        over_the_lower.or_else(over_any).or_else(|| row(ANY, ANY))
    }
}

fn kin(id: &str) -> Option<&'static str> {
    ALSO.iter().find(|(own, _)| *own == id).map(|(_, shared)| *shared)
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn rulings_are_looked_up_from_the_pair_to_anything() {
        let trade = Trade::built_in();
        let ruling = |over: &str, under: &str| {
            let row = trade.ruling(over, under);
            row.map_or("none".to_owned(), |row| {
                format!("{}/{} {}", row.over.0, row.under.0, row.compatibility.word())
            })
        };
        assert_eq!(ruling("chalk-paint", "paste-wax"), "chalk-paint/paste-wax no");
        assert_eq!(ruling("dewaxed-shellac", "paste-wax"), "any/paste-wax clean-first");
        assert_eq!(ruling("dewaxed-shellac", "old-finish"), "dewaxed-shellac/any good");
        assert_eq!(ruling("gel-stain", "old-finish"), "any/any scuff-first");
        // A ruling on shellac covers its dewaxed kind, and one on wax both kinds of wax.
        assert_eq!(ruling("oil-polyurethane", "dewaxed-shellac"), "oil-polyurethane/shellac dewaxed-only");
        assert_eq!(ruling("wax-over-film", "alkyd-varnish"), "paste-wax/alkyd-varnish after-cure");
        // A further coat of the same, and bare wood, have no ruling but their own.
        assert_eq!(ruling("shellac", "shellac"), "shellac/shellac good");
        assert_eq!(ruling("oil-polyurethane", "oil-polyurethane"), "none");
        assert_eq!(ruling("paste-wax", "wax-over-film"), "none");
        assert_eq!(ruling("paste-wax", "bare-wood"), "paste-wax/bare-wood risky");
        assert_eq!(ruling("tung-oil", "bare-wood"), "none");
    }
}
