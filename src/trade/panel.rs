//! Boards of furniture: plywood, fibreboard, chipboard and the like.

use super::Trade;
use super::lookup::Words;
use super::spoken::WordTable;
use super::table::{by_id, trade_row, trade_table};
use super::verification::Verification;
use crate::fields::shape::choices;
use crate::fields::{Id, Range, Said, Text};
use crate::unit::Length;

choices! {
    /// What a figure stands for.
    pub enum PanelBasis {
        /// What a product must reach: cautious for an unknown board.
        Minimum = "minimum",
        /// What such boards commonly have.
        Typical = "typical",
    }
}

choices! {
    /// How a span of thicknesses is read.
    pub enum ThickRule {
        /// Thicker than its low end, up to and including its high one.
        Over = "over",
        /// Any thickness up to and including its high end.
        UpTo = "up-to",
        /// The nominal thicknesses from its low to its high end.
        At = "at",
    }
}

trade_row! {
    /// Figures of one product at some thicknesses.
    pub struct Panel ("[[panel]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// Its name, as printed.
        "name" => name: Said<Text>,
        /// What its figures stand for.
        "basis" => basis: Said<PanelBasis>,
        /// The thicknesses it holds for, in millimetres.
        "thick" => thick: Option<Said<Range>>,
        /// How those are read.
        "thick-rule" => thick_rule: Option<Said<ThickRule>>,
        /// Modulus of elasticity in GPa.
        "moe" => moe: Option<Said<Range>>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
        /// What is worth knowing about the row.
        "note" => note: Option<Said<Text>>,
    }
    retired = ["kind", "mor", "density"];
}

trade_row! {
    /// What a record may call a board, and the rows that hold for it.
    pub struct Board ("[[board]]") {
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
        /// Rows of its stiffness along the face grain, or where it has none.
        "along" => along: Vec<Said<Id>>,
        /// Rows of its stiffness across the face grain.
        "across" => across: Vec<Said<Id>>,
        /// How it creeps: a row or a stand-in of the table of shelves.
        "creep" => creep: Option<Said<Id>>,
        /// Density in kg/m³.
        "density" => density: Said<Range>,
        /// Where the density comes from.
        "source" => source: Said<Text>,
        /// Whether every figure was read.
        "seen" => seen: Said<Verification>,
        /// What is worth knowing about the row.
        "note" => note: Option<Said<Text>>,
    }
    words = |row| [&row.name].into_iter().chain(&row.also);
    may_be = |row| &row.may_be;
}

trade_table! {
    /// The table of boards.
    pub struct PanelTable ("panel.toml") {
        /// Figures of products.
        "panel" => panels: Vec<Said<Panel>>,
        /// Names of boards.
        "board" => boards: Vec<Said<Board>>,
    }
}

impl Panel {
    /// Whether the row holds for a thickness; one that names none holds for all.
    pub fn admits(&self, thick: Length) -> bool {
        let (Some(span), Some(rule)) = (&self.thick, &self.thick_rule) else { return true };
        let mm = thick.mm();
        match rule.value {
            ThickRule::Over => span.low < mm && mm <= span.high,
            ThickRule::UpTo => mm <= span.high,
            ThickRule::At => span.low <= mm && mm <= span.high,
        }
    }
}

impl Trade {
    /// Where words for a board are looked up.
    pub fn board_words(&self) -> Words<'_, Board> {
        self.words_of(WordTable::Board, &self.panel.boards)
    }

    /// The board of this id, name or spoken word.
    pub fn board(&self, word: &str) -> Option<&Board> {
        self.board_words().taken(word).row()
    }
}

impl PanelTable {
    /// A row of figures, by id.
    pub fn panel(&self, id: &str) -> Option<&Panel> {
        by_id(&self.panels, id)
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;
    use crate::unit::Length;

    #[test]
    fn every_row_that_a_board_names_is_there_and_stiff() {
        let table = &Trade::built_in().panel;
        for board in &table.boards {
            for id in board.along.iter().chain(&board.across) {
                let panel = table.panel(&id.0);
                assert!(panel.is_some_and(|panel| panel.moe.is_some()), "{} names {}", board.id.0, id.0);
            }
            let shelf = &Trade::built_in().shelf;
            let creeps = board.creep.as_ref().is_none_or(|creep| shelf.creep(&creep.0).is_some());
            assert!(creeps, "{} creeps like nothing that is known", board.id.0);
        }
    }

    #[test]
    fn a_thickness_at_the_boundary_belongs_to_the_thinner_row() {
        let table = &Trade::built_in().panel;
        let admits = |id: &str, mm: f64| {
            table.panel(id).is_some_and(|row| row.admits(Length::from_mm(mm).expect("a length")))
        };
        assert!(admits("mdf-dry-12-19", 19.0) && !admits("mdf-dry-19-30", 19.0));
        assert!(!admits("mdf-dry-12-19", 12.0) && admits("mdf-dry-9-12", 12.0));
    }

    #[test]
    fn a_board_is_found_whatever_the_case_of_its_name() {
        let trade = Trade::built_in();
        assert_eq!(trade.board("Particle board").map(|row| row.id.0.as_str()), Some("chipboard"));
        assert!(trade.board("pasteboard").is_none());
    }
}
