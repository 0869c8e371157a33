//! What a difference between two colours means, and when a patch is fit to be measured.

use super::Limit;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Figure, Id, Said, Text};

trade_row! {
    /// A span of colour differences, and what the eye makes of it.
    pub struct Band ("[[band]]") {
        /// Its id; the bands stand in its order.
        "id" => id: Said<Id>,
        /// The CIEDE2000 difference that it ends below; the last band has none.
        "below" => below: Option<Said<Figure>>,
        /// The words for it, as printed.
        "words" => words: Said<Text>,
        /// Where its borders come from.
        "source" => source: Said<Text>,
        /// How they came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of colour.
    pub struct ColourTable ("colour.toml") {
        /// Spans of colour differences, the narrowest first.
        "band" => bands: Vec<Said<Band>>,
        /// What a patch should have.
        "limit" => limits: Vec<Said<Limit>>,
    }
}

impl ColourTable {
    /// The band of a CIEDE2000 difference: the narrowest that it lies below, else the open one.
    pub fn band(&self, difference: f64) -> Option<&Band> {
        let below = |band: &Band| band.below.as_ref().map_or(f64::INFINITY, |below| below.0);
        let fits = self.bands.iter().map(|row| &row.value).filter(|band| difference < below(band));
        fits.min_by(|one, other| below(one).total_cmp(&below(other)))
    }

    /// The band whose upper border is the lower one of a difference's band; `None` for the narrowest.
    pub fn band_below(&self, difference: f64) -> Option<&Band> {
        let below =
            |band: &Band| band.below.as_ref().map(|below| below.0).filter(|below| *below <= difference);
        let narrower = self.bands.iter().filter_map(|row| Some((below(row)?, &row.value)));
        narrower.max_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, band)| band)
    }

    /// A limit, by id.
    pub fn limit(&self, id: &str) -> Option<&Limit> {
        by_id(&self.limits, id)
    }

    /// The value of a limit that is compiled in.
    pub fn value(&self, id: &str) -> f64 {
        self.limit(id).expect("a workshop's rows replace limits and never take one away").value.0
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn a_border_belongs_to_the_wider_band() {
        let words = |difference| Trade::built_in().colour.band(difference).unwrap().id.0.as_str();
        assert_eq!(words(0.0), "a-unseen");
        assert_eq!([words(0.79), words(0.8)], ["a-unseen", "b-hardly"]);
        assert_eq!([words(1.79), words(1.8)], ["b-hardly", "c-visible"]);
        let narrower =
            |difference| Trade::built_in().colour.band_below(difference).map(|band| band.id.0.as_str());
        assert_eq!([narrower(0.79), narrower(0.8), narrower(9.0)], [None, Some("a-unseen"), Some("d-clear")]);
        assert_eq!([words(4.99), words(5.0), words(200.0)], ["d-clear", "e-other", "e-other"]);
    }

    #[test]
    fn every_limit_that_is_asked_for_is_there() {
        for id in ["clipped", "grey-chroma", "grey-lightness", "own-spread", "side", "slope"] {
            assert!(Trade::built_in().colour.value(id) > 0.0, "{id}");
        }
    }
}
