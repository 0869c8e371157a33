//! A plan in words.

mod after;
mod cutting;
mod names;
mod needs;
mod order;
mod ways;

pub(super) use cutting::openings;

use chrono::NaiveDate;
use rust_decimal::Decimal;
use rust_decimal::prelude::FromPrimitive;

use super::past::{Expected, Past};
use crate::archive::Asking;
use crate::cli::sheet::{Cell, Row, Sheet, Table};
use crate::cli::words::count;
use crate::derive::cure::Milestone;
use crate::fields;
use crate::journey::{OpenedArchive, PlannedPiece};
use crate::record::{Record, Surface};
use crate::source::Tree;
use crate::trade::Trade;

/// A plan with all that its words are made from.
pub(super) struct Told<'a> {
    pub(super) trade: &'a Trade,
    /// The record as it is intended.
    pub(super) record: &'a Record,
    pub(super) planned: &'a PlannedPiece,
    pub(super) past: &'a Past,
    /// The first day.
    pub(super) from: NaiveDate,
    /// The path of the record, and the files that its lines are told of.
    pub(super) record_path: String,
    pub(super) tree: &'a Tree,
}

impl Told<'_> {
    /// The whole plan; `archive` tells what is left of stock and tins.
    pub(super) fn sheet(&self, name: &str, archive: Option<&OpenedArchive>) -> Sheet {
        let stock = archive.and_then(|opened| {
            Asking { archive: &opened.archive, trade: &opened.trade, today: self.from }.stock(None).ok()
        });
        let pieces = self.past.pieces.clone();
        Sheet {
            asked: format!("Plan of {name}, from {}", dated(self.from)),
            said: self.said(),
            tables: vec![
                self.cautions(),
                self.order(),
                self.calendar(),
                self.needs(stock.as_ref()),
                self.cutting(),
                self.left_over(),
                self.openings(),
                self.lasting(),
                self.ways(),
                self.against(),
                self.remembered(),
                self.loose(),
            ],
            answered: !pieces.is_empty(),
            pieces,
        }
    }

    fn said(&self) -> Vec<String> {
        let mut said = Vec::new();
        for circle in &self.planned.plan.circles {
            let names: Vec<String> =
                circle.iter().chain(circle.first()).map(|task| self.name(task)).collect();
            said.push(format!(
                "These wait for each other in a circle, so that none can be begun: {}. Change `under`, `behind`, \
                 `fixed-by` or `follows` of one of them.",
                names.join(" → ")
            ));
        }
        let known: f64 = self.past.expected.iter().filter_map(|expected| expected.hours()).sum();
        let silent = self.past.expected.iter().filter(|expected| **expected == Expected::NotKnown).count();
        let all = self.past.expected.len();
        if all > 0 {
            said.push(match silent {
                0 => format!("{} for {}.", hours(known), count(all, "task", "tasks")),
                _ if silent == all => {
                    "No hours are known for any task, so the days below are those of waiting alone."
                        .to_owned()
                }
                _ => format!(
                    "{} for {}; those of {} are not known, and count as none in the days below.",
                    hours(known),
                    count(all - silent, "task", "tasks"),
                    count(silent, "task", "tasks")
                ),
            });
        }
        let end = self.planned.calendar.ends().filter(|_| self.planned.calendar.undated.is_empty());
        match end {
            Some(end) => said.push(format!("All is done on {} at the earliest.", dated(end))),
            None if all > 0 => {
                said.push("No last day can be given: some task has no day.".to_owned());
                return said;
            }
            None => {}
        }
        // Coats that are hard already do not let a piece go before the rest is done.
        let day =
            |milestone: &Milestone<fields::Row<Surface>>| milestone.days.last.max(end.unwrap_or(self.from));
        if let Some(light) = self.planned.light_use.as_ref().map(day) {
            let hard = self.planned.full_cure.as_ref().map(day).filter(|hard| *hard > light);
            let hard = hard.map(|hard| format!("; hard on {}", dated(hard))).unwrap_or_default();
            said.push(format!(
                "Earliest handover, for light use: {}{hard}. Times hold for 20 °C; cold and damp lengthen them.",
                dated(light)
            ));
        }
        said
    }

    /// The usual cautions of the hazards that the plan brings.
    fn cautions(&self) -> Table {
        let rows = self.planned.hazards.iter().filter_map(|implied| {
            let row = self.trade.hazards.rows.iter().find(|row| implied.rows.contains(&row.id.0))?;
            let caution = row.r#do.to_string();
            let name = row.name.to_string();
            Some(Row {
                cells: vec![Cell::Text(name.clone()), Cell::Text(caution.clone())],
                told: vec![format!("{name}: {caution}")],
            })
        });
        Table {
            name: "cautions",
            heading: "Before you begin".to_owned(),
            columns: &["hazard", "caution"],
            rows: rows.collect(),
            shown: &[],
        }
    }
}

fn dated(day: NaiveDate) -> String {
    day.format("%a %-d %b %Y").to_string()
}

/// Hours to a quarter's hundredth, as people say them.
fn hours(hours: f64) -> String {
    let shown = Decimal::from_f64(hours).unwrap_or_default().round_dp(2).normalize();
    format!("{shown} h")
}

fn number(number: f64) -> Cell {
    Cell::Measure(number, 2)
}
