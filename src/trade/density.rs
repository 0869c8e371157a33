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
        /// The rows that it stands for, where it is a word for several kinds.
        "may-be" => may_be: Vec<Said<Id>>,
        /// What it is, where its name does not say.
        "meaning" => meaning: Option<Said<Text>>,
        /// Density in kg/m³.
        "density" => density: Said<Range>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether the figure was read.
        "seen" => seen: Said<Verification>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
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
        self.words_of(WordTable::Material, &self.density.materials)
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

#[cfg(test)]
mod tests {
    use crate::fields::{Id, Range, Said};
    use crate::trade::Trade;
    use crate::trade::table::{TradeRow, by_id};

    /// Whether a row that stands for several weighs from the lightest of them to the heaviest.
    fn spans<R: TradeRow>(rows: &[Said<R>], may_be: fn(&R) -> &[Said<Id>], weighs: fn(&R) -> Range) {
        for row in rows.iter().filter(|row| !may_be(row).is_empty()) {
            let ones = may_be(row).iter().map(|id| weighs(by_id(rows, &id.0).expect(&id.0)));
            let low = ones.clone().map(|one| one.low).fold(f64::INFINITY, f64::min);
            let high = ones.map(|one| one.high).fold(0.0, f64::max);
            let own = weighs(row);
            assert_eq!((own.low, own.high), (low, high), "{}", row.key());
        }
    }

    #[test]
    fn a_word_for_several_materials_or_boards_weighs_as_any_of_them() {
        let trade = Trade::built_in();
        spans(&trade.density.materials, |row| &row.may_be, |row| row.density.value);
        spans(&trade.panel.boards, |row| &row.may_be, |row| row.density.value);
    }
}
