//! How many coats a line tells.

use rust_decimal::prelude::ToPrimitive;

use super::{Coats, LineReader};
use crate::daybook::amounts::temperature;
use crate::daybook::hits::{Hit, PartHit, Table};
use crate::daybook::words::lists;

impl LineReader<'_, '_> {
    /// The numbers of coats that a line tells.
    pub(super) fn coats(&self) -> Vec<Coats> {
        let line = &self.line;
        let timed = |at: usize| self.durations.iter().any(|one| one.at.contains(&at));
        let mut found: Vec<Coats> = Vec::new();
        let is_coat = |at: usize| ["coat", "coats"].contains(&line.word(at));
        for at in self.all() {
            if !self.told(at) || timed(at) {
                continue;
            }
            let token = &line.tokens[at];
            let small = token.value().and_then(|value| value.to_u32()).filter(|value| {
                (1..=30).contains(value) && token.value().is_some_and(|value| value.is_integer())
            });
            let ordinal_end = usize::from(
                line.tokens
                    .get(at + 1)
                    .is_some_and(|next| next.glued && next.is_any(&["st", "nd", "rd", "th"])),
            );
            let mut after = at + 1 + ordinal_end;
            while lists().coats.kinds.contains(&line.word(after)) && after < at + 4 {
                after += 1;
            }
            let finish_between = self
                .hits
                .iter()
                .find(|hit| hit.table == Table::Finish && hit.at.start == after)
                .map(|hit| hit.at.end);
            let coat = is_coat(after) || finish_between.is_some_and(is_coat);
            if let Some(count) = small {
                if at > 0 && is_coat(at - 1) && !coat && ordinal_end == 0 {
                    found.push(Coats { count, at, numbered: true });
                } else if coat || self.counts_coats(at, count, ordinal_end == 1, !found.is_empty()) {
                    let count = if ordinal_end == 1 { 1 } else { count };
                    found.push(Coats { count, at, numbered: false });
                } else {
                    continue;
                }
                // `one coat no two on the top`: the later number takes the earlier one back.
                let taken_back = at > 0 && ["no", "actually", "sorry", "make"].contains(&line.word(at - 1));
                if taken_back && found.len() > 1 {
                    let last = found.len() - 1;
                    found.remove(last - 1);
                }
            } else if coat
                && lists().coats.which.contains(&token.word.as_str())
                && !(at > 0 && line.tokens[at - 1].value().is_some())
                && !found.iter().any(|one| one.at + 2 >= at && one.at <= at)
            {
                found.push(Coats { count: 1, at, numbered: false });
            }
        }
        found
    }

    /// Whether a number counts coats without their word: `1st … neat 2nd`, `2c`, `3 x top`, and after coats `one on the leaves`.
    pub(super) fn counts_coats(&self, at: usize, count: u32, ordinal: bool, told: bool) -> bool {
        let line = &self.line;
        if ordinal {
            let said = told || line.has(&line.sentence(at), &["neat", "1st", "coats"]);
            return said && self.is_finish_clause(at);
        }
        let short = line.tokens.get(at + 1).is_some_and(|next| next.glued && next.is("c"));
        let part = |part: &PartHit| part.at.start <= at + 3 && part.at.start > at + 1;
        // `lacquer x3`
        let times = at > 1 && ["x", "×"].contains(&line.word(at - 1));
        let finish = |hit: &Hit| hit.table == Table::Finish && hit.at.end + 1 == at;
        times && count <= 12 && self.hits.iter().any(finish)
            || short && count <= 12 && temperature(line).is_none()
            || ["x", "×"].contains(&line.word(at + 1)) && self.is_part_or_finish(at + 2)
            || line.word(at + 1) == "on" && told && self.parts.iter().any(part)
    }

    pub(super) fn is_finish_clause(&self, at: usize) -> bool {
        let sentence = self.line.sentence(at);
        self.hits.iter().any(|hit| hit.table == Table::Finish && sentence.contains(&hit.at.start))
    }

    pub(super) fn is_part_or_finish(&self, at: usize) -> bool {
        self.parts.iter().any(|part| part.at.start == at)
            || self.hits.iter().any(|hit| hit.table == Table::Finish && hit.at.start == at)
    }
}
