//! Colours that were measured.

use crate::archive::table::entry;

entry! {
    /// A colour measured from a photograph, in CIELAB under D65.
    pub struct ColourEntry ("colour") {
        /// The photograph.
        photograph: String,
        /// The number of the surface that it is of, where that is known.
        surface: Option<usize>,
        /// The timbers below, by id or as written, joined by commas.
        timbers: String,
        /// The numbers of the steps that colour the surface, joined by commas.
        recipe: String,
        /// The numbers of the steps that lie over those.
        over: String,
        /// Lightness of the colour aimed at.
        target_l: Option<f64>,
        /// Its a*.
        target_a: Option<f64>,
        /// Its b*.
        target_b: Option<f64>,
        /// Lightness of the colour reached.
        result_l: Option<f64>,
        /// Its a*.
        result_a: Option<f64>,
        /// Its b*.
        result_b: Option<f64>,
        /// CIEDE2000 between the two.
        difference: Option<f64>,
        /// How far that may be off.
        uncertainty: Option<f64>,
        /// Whether a grey card was on the photograph: 1 or 0.
        grey_card: bool,
        /// Anything else.
        note: Option<String>,
    }
}
