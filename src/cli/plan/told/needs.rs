//! What a plan takes, from tins and stock.

use rust_decimal::Decimal;

use super::{Told, number};
use crate::archive::StockAnswer;
use crate::cli::sheet::{Cell, Row, Table};
use crate::derive::plan::Need;
use crate::record::{Part, Step};
use crate::unit::legible::one_line;

impl Told<'_> {
    pub(super) fn needs(&self, stock: Option<&StockAnswer>) -> Table {
        let row = |need: &Need| {
            let (what, low, high, unit, note) = match need {
                Need::Coating { surface, step, quantity } => {
                    let what = format!("{} for {}", self.coats(step), self.surface(surface));
                    let litres = quantity.as_ref().map(|quantity| quantity.litres);
                    let note = match litres {
                        None => "how much cannot be said: it takes a tin with `covers`, and the sizes of the parts".to_owned(),
                        Some(_) => self.left_in_tin(step, stock).unwrap_or_default(),
                    };
                    (what, litres.map(|litres| litres.low), litres.map(|litres| litres.high), "l", note)
                }
                Need::Fixing(fixing) => {
                    let known = self
                        .trade
                        .fixing_words()
                        .called(&fixing.kind)
                        .map(|kind| kind.label_plural.to_string());
                    let many = fixing.count.as_ref().map(|count| f64::from(count.0));
                    (known.unwrap_or_else(|| one_line(&fixing.kind)), many, many, "pieces", String::new())
                }
                Need::Part(part) => {
                    let many = f64::from(part.how_many());
                    (self.part(part), Some(many), Some(many), "pieces", self.left_in_stock(part, stock))
                }
            };
            let amount = match (low, high) {
                (Some(low), Some(high)) if unit == "l" => format!(": {low:.2} to {high:.2} l"),
                (Some(many), _) if many != 1.0 => format!(", {many:.0} of them"),
                _ => String::new(),
            };
            let note_shown = if note.is_empty() { String::new() } else { format!("; {note}") };
            let told = vec![format!("{what}{amount}{note_shown}")];
            let number = |amount| Cell::maybe(amount, number);
            Row {
                cells: vec![
                    Cell::Text(what),
                    number(low),
                    number(high),
                    Cell::Text(unit.to_owned()),
                    Cell::Text(note),
                ],
                told,
            }
        };
        Table {
            name: "needs",
            heading: "What it takes".to_owned(),
            columns: &["what", "least", "most", "unit", "note"],
            rows: self.planned.needs.iter().map(row).collect(),
            shown: &[],
        }
    }

    /// What is left in the tin of a step, by what is on record.
    fn left_in_tin(&self, step: &Step, stock: Option<&StockAnswer>) -> Option<String> {
        let id = step.apply.as_ref()?.tin()?;
        let tin = stock?.tins.iter().find(|tin| tin.id == id.0)?;
        let (full, (_, used, is_all)) = (tin.litres?, tin.used());
        let left = (full * (Decimal::ONE - used)).max(Decimal::ZERO).round_dp(2).normalize();
        Some(match is_all {
            true => format!(
                "of a full tin of {} l, about {left} l are left by what is on record",
                full.normalize()
            ),
            false => format!(
                "of a full tin of {} l, at most {left} l are left by what is on record",
                full.normalize()
            ),
        })
    }

    fn left_in_stock(&self, part: &Part, stock: Option<&StockAnswer>) -> String {
        let Some(id) = &part.from_stock else {
            let boards = self.planned.cutting.boards.iter();
            let cut = boards.flat_map(|board| &board.pieces).any(|(cut, _)| cut.id == part.id);
            return if cut { "cut from stock, as below" } else { "from no stock" }.to_owned();
        };
        let line = stock.and_then(|stock| stock.stock.iter().find(|line| line.id == id.value.0));
        match line.map(|line| (line.left(), line.unit.clone())) {
            Some((Some(left), unit)) => {
                let unit = unit.unwrap_or_else(|| "pieces".to_owned());
                format!("from `{}`, of which {} {unit} are left", id.value.0, left.normalize())
            }
            Some((None, _)) => format!("from `{}`; how much of it is left is not on record", id.value.0),
            None => format!("from `{}`, which is not in stock.toml", id.value.0),
        }
    }
}
