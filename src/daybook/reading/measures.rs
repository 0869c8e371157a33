//! Sizes, weights and the air at the bench.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use toml_edit::{InlineTable, Value};

use super::{LineReader, decimal};
use crate::daybook::amounts::{humidity, sizes, temperature, weights};
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;

impl LineReader<'_, '_> {
    pub(super) fn measures(&mut self) {
        let told = sizes(&self.line);
        let text = self.line.text.clone();
        let whole = |value: Decimal| value.to_i64().unwrap_or_default();
        if let (Some(width), Some(depth), Some(height)) = (told.width, told.depth, told.height) {
            let mut size = InlineTable::new();
            for (key, side) in [("width", width), ("depth", depth), ("height", height)] {
                size.insert(key, whole(side).into());
            }
            let mut proposal = Proposal::new("", &text).with("size", Value::InlineTable(size));
            if self.parts.iter().any(|part| part.at.start == 0) {
                proposal = proposal.asking("is it the size of the whole piece?");
            }
            self.out.push(proposal);
        }
        if let Some((thick, at)) = told.thick {
            let parts = self.parts_for(at);
            let mut size = InlineTable::new();
            size.insert("thick", decimal(thick));
            let id =
                parts.first().and_then(|part| if let [id] = &part.ids[..] { Some(id.clone()) } else { None });
            let mut proposal = Proposal::new("part", &text)
                .with_some("id", id.as_deref())
                .with("size", Value::InlineTable(size));
            proposal = match (&id, parts.first()) {
                (Some(_), _) => proposal,
                (None, Some(part)) => {
                    proposal.asking(format!("which part of the record is “{}”?", part.said))
                }
                (None, None) => proposal.asking("which part?"),
            };
            proposal.parts = parts;
            self.out.push(proposal);
        }
        let weights = weights(&self.line);
        if !weights.is_empty() && !self.line.has(&self.all(), &lists().measure.loads) {
            let sum: Decimal = weights.iter().copied().sum();
            let mut proposal =
                Proposal::new("", &text).with("weighs", decimal(sum)).asking("was it put on a scale?");
            if weights.len() > 1 {
                proposal = proposal.asking("is that all of it together?");
            }
            self.out.push(proposal);
        }
        let (temperature, humidity) = (temperature(&self.line), humidity(&self.line));
        if temperature.is_some() || humidity.is_some() {
            let mut air = InlineTable::new();
            if let Some(temperature) = temperature {
                air.insert("temperature", decimal(temperature));
            }
            if let Some(humidity) = humidity {
                air.insert("humidity", decimal(humidity));
            }
            let proposal = Proposal::new("surface", &text).with("drying", Value::InlineTable(air));
            self.out.push(proposal.asking("which surface was drying then?"));
        }
    }
}
