//! What parts weigh that are neither timber nor board.

use super::finish::Seen;
use crate::fields::shape::table;
use crate::fields::{Id, Range, Said, Text};

table! {
    /// A material.
    pub struct Material ("[[material]]") {
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
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// How much of its enclosing body a shape fills.
    pub struct Shape ("[[shape]]") {
        /// The shape.
        "id" => id: Said<Id>,
        /// The share that is filled.
        "fill" => fill: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// How it came to be known.
        "seen" => seen: Said<Seen>,
    }
}

table! {
    /// The table of densities.
    pub struct DensityTable ("density.toml") {
        /// Materials.
        "material" => materials: Vec<Said<Material>>,
        /// Shapes.
        "shape" => shapes: Vec<Said<Shape>>,
    }
}

impl DensityTable {
    /// A material by its id or any of its names, whatever their case.
    pub fn material(&self, word: &str) -> Option<&Material> {
        let word = word.to_lowercase();
        self.materials.iter().map(|row| &row.value).find(|row| {
            row.id.0 == word
                || row.name.to_lowercase() == word
                || row.also.iter().any(|also| also.to_lowercase() == word)
        })
    }

    /// A shape, by id.
    pub fn shape(&self, id: &str) -> Option<&Shape> {
        self.shapes.iter().map(|row| &row.value).find(|row| row.id.0 == id)
    }
}
