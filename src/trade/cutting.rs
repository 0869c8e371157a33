//! What sawing and planing take.

use super::table::{by_id, trade_row, trade_table};
use crate::fields::{Figure, Id, Said, Text};

trade_row! {
    /// What is taken off, or kept.
    pub struct Allowance ("[[allowance]]") {
        /// Its id.
        "id" => id: Said<Id>,
        /// In millimetres.
        "mm" => mm: Said<Figure>,
        /// Where the row comes from.
        "source" => source: Said<Text>,
    }
}

trade_table! {
    /// The table of sawing and planing.
    pub struct CuttingTable ("cutting.toml") {
        /// The rows.
        "allowance" => allowances: Vec<Said<Allowance>>,
    }
}

impl CuttingTable {
    /// An allowance in millimetres; 0 where the table has none.
    pub fn mm(&self, id: &str) -> f64 {
        by_id(&self.allowances, id).map_or(0.0, |row| row.mm.0)
    }
}

#[cfg(test)]
mod tests {
    use crate::trade::Trade;

    #[test]
    fn the_rows_that_are_asked_for_are_there() {
        let table = &Trade::built_in().cutting;
        for id in ["keep-across", "keep-along", "kerf", "plane-edges", "plane-ends", "plane-faces"] {
            assert!(table.mm(id) > 0.0, "{id}");
        }
    }
}
