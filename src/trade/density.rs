//! What parts weigh that are neither timber nor board.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::{Id, Range, Said, Text};

trade_row! {
    /// A material.
    pub struct MaterialDensity ("[[material]]") {
        /// The id that a record calls it by.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// Other names.
        "also" => also: Vec<Said<Text>>,
        /// Density in kg/m³.
        "density" => density: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
}

trade_row! {
    /// How much of its enclosing body a shape fills.
    pub struct ShapeFill ("[[shape]]") {
        /// The shape.
        "id" => id: Said<Id>,
        /// The share that is filled.
        "fill" => fill: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Verification>,
    }
}

trade_table! {
    /// The table of densities.
    pub struct DensityTable ("density.toml") {
        /// Materials.
        "material" => materials: Vec<Said<MaterialDensity>>,
        /// Shapes.
        "shape" => shapes: Vec<Said<ShapeFill>>,
    }
}

impl Trade {
    /// Where words for a material are looked up.
    pub fn material_words(&self) -> Words<'_, MaterialDensity> {
        self.words_of(WordTable::Material, &self.density.materials, &self.words.material)
    }

    /// The material of this id, name or spoken word.
    pub fn material(&self, word: &str) -> Option<&MaterialDensity> {
        self.material_words().taken(word).row()
    }
}

impl DensityTable {
    /// A shape, by id.
    pub fn shape(&self, id: &str) -> Option<&ShapeFill> {
        by_id(&self.shapes, id)
    }
}
