//! What the piece is made of.

use crate::archive::table::entry;

entry! {
    /// A component of the piece.
    pub struct PartEntry ("part") {
        /// Its name within the record.
        id: String,
        /// What the papers call it.
        name: String,
        /// What it is to the piece as first made.
        standing: &'static str,
        /// How that is known.
        how_known: Option<String>,
        /// Whether the piece has it today: 1 or 0.
        present: bool,
        /// Its timber, by the id of the table where it is known there.
        timber: Option<String>,
        /// Its timber, or its veneer's, as written.
        timber_said: Option<String>,
        /// How it is built.
        build: Option<&'static str>,
        /// What it is of where it is no timber.
        material: Option<String>,
        /// How many alike.
        count: u32,
        /// Length in millimetres.
        length: Option<f64>,
        /// Width in millimetres.
        width: Option<f64>,
        /// Thickness in millimetres.
        thick: Option<f64>,
        /// Diameter in millimetres.
        diameter: Option<f64>,
        /// The least that all of them weigh together in kilograms, where it can be reckoned.
        mass_least: Option<f64>,
        /// The most.
        mass_most: Option<f64>,
        /// The item of stock that it was made from.
        from_stock: Option<String>,
        /// What it replaces.
        instead_of: Option<String>,
        /// How it comes off again.
        undo: Option<String>,
        /// Anything else.
        note: Option<String>,
    }
}

entry! {
    /// A place of a part that is not what the part is.
    pub struct PatchEntry ("patch") {
        /// The part it is on, by name.
        part: String,
        /// What it is.
        what: String,
        /// What it is to the piece as first made.
        standing: &'static str,
        /// How large it is in square centimetres, where that is known.
        area: Option<f64>,
        /// What it was made with.
        made_with: Option<String>,
        /// What it replaces.
        instead_of: Option<String>,
        /// How it comes out again.
        undo: Option<String>,
        /// Anything else.
        note: Option<String>,
    }
}
