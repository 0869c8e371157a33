//! Rubbing down, with its grits.

use std::ops::Range;

use rust_decimal::prelude::ToPrimitive;
use toml_edit::{Array, Value};

use super::LineReader;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::{Deed, GRITS};
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    /// The grits that a range tells, in their order.
    pub(super) fn grits(&self, range: &Range<usize>, loosely: bool) -> Vec<(String, usize)> {
        let line = &self.line;
        let mut found: Vec<(String, usize)> = Vec::new();
        for at in range.clone() {
            let token = &line.tokens[at];
            if token.number.is_none()
                || !self.told(at)
                || self.durations.iter().any(|one| one.at.contains(&at))
            {
                continue;
            }
            if token.word.len() >= 2 && token.word.bytes().all(|byte| byte == b'0') {
                found.push((token.word.clone(), at));
                continue;
            }
            let Some(number) =
                token.number.and_then(|number| number.to_u32()).filter(|number| GRITS.contains(number))
            else {
                continue;
            };
            let p = at > 0 && line.word(at - 1) == "p" && token.glued;
            let after = line.word(at + 1);
            let named = p || ["grit", "grits", "g", "wet"].contains(&after) || after == "paper";
            let counted = lists().abrasion.no_grit.contains(&after) && !named
                || at > 0 && lists().abrasion.no_grit_before.contains(&line.word(at - 1));
            if named || loosely && !counted {
                found.push((format!("P{number}"), at));
            }
        }
        found
    }

    /// The grit that was used between coats.
    pub(super) fn between(&self) -> Option<String> {
        let at = self.all().find(|at| ["between"].contains(&self.line.word(*at)) && self.told(*at))?;
        let clause = self.line.clause(at);
        let grits = self.grits(&clause, true);
        if let Some((grit, _)) = grits.first() {
            return Some(grit.trim_start_matches('P').to_owned());
        }
        let wool = self.hits.iter().find(|hit| {
            hit.table == Table::Treatment
                && clause.contains(&hit.at.start)
                && self.group(&hit.id) == Some(TreatmentGroup::Abrading)
        });
        wool.map(|hit| hit.id.clone()).filter(|id| id != "sanding")
    }

    /// Whether a clause begins with grits one after the other: `240 then 320`, `80/120/180`.
    fn is_series(&self, clause: &Range<usize>) -> bool {
        let grit = |at: usize| {
            let number = self.line.tokens.get(at)?.number?.to_u32()?;
            GRITS.contains(&number).then_some(number)
        };
        let link = ["then", "/", "to", ">"].contains(&self.line.word(clause.start + 1));
        let (first, second) = (grit(clause.start), grit(clause.start + 2));
        link && first.zip(second).is_some_and(|(one, two)| one < two && one >= 80)
    }

    /// Rubbing down, with its grits.
    pub(super) fn abrasion(&mut self, between: bool) {
        let all = self.all();
        let deed = self
            .deed(&all, Deed::Abrade)
            .or_else(|| self.line.find(&all, &["grit", "paper"]).filter(|at| self.told(*at)));
        let mut grits: Vec<(String, usize)> = Vec::new();
        let mut goes_on = false;
        for clause in self.line.clauses.clone() {
            if between && self.line.has(&clause, &["between"]) {
                continue;
            }
            // Grits stand one after the other: `sanded 120, 180, 240`.
            let said = &lists().abrasion.series;
            let numbers = clause
                .clone()
                .all(|at| self.line.tokens[at].number.is_some() || self.line.tokens[at].is_any(said));
            let named = &lists().abrasion.papers;
            let loosely = self.deed(&clause, Deed::Abrade).is_some()
                || self.is_series(&clause)
                || goes_on && numbers
                || self.line.has(&clause, named) && deed.is_some();
            goes_on = loosely;
            grits.extend(self.grits(&clause, loosely));
        }
        grits.dedup_by_key(|(_, at)| *at);
        let wool: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| {
                hit.table == Table::Treatment
                    && hit.mood == Mood::Told
                    && self.group(&hit.id) == Some(TreatmentGroup::Abrading)
                    && !["sanding", "scraping"].contains(&hit.id.as_str())
            })
            .cloned()
            .collect();
        let in_between = |at: usize| between && self.line.has(&self.line.clause(at), &["between"]);
        if grits.is_empty() {
            let rubs = |hit: &&Hit| {
                let clause = self.line.clause(hit.at.start);
                clause.start == hit.at.start
                    || self.deed(&clause, Deed::Abrade).is_some()
                    || self.deed(&clause, Deed::Clean).is_some()
            };
            let Some(first) = wool.iter().filter(rubs).find(|hit| !in_between(hit.at.start)) else { return };
            // Ebonising takes wire wool, and rubs nothing.
            if self.out.iter().any(|one| one.value("apply").and_then(Value::as_str) == Some("ebonising")) {
                return;
            }
            grits.push((first.id.clone(), first.at.start));
        }
        let first = grits[0].1;
        let parts = self.parts_for(first);
        let list: Vec<&str> = grits.iter().map(|(grit, _)| grit.as_str()).collect();
        let last = grits[grits.len() - 1].1;
        let said = self.words_of(self.line.clause(first).start..self.line.clause(last).end);
        let mut proposal = self.dated(Proposal::new("surface.steps", &said));
        proposal = match &list[..] {
            [one] => proposal.with("abrade", *one),
            several => proposal.with("abrade", several.iter().copied().collect::<Array>()),
        };
        if parts.is_empty() {
            proposal = proposal.asking("which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        // Rubbing down goes before what was laid on it, where it is told before it.
        let at = self.out.iter().position(|one| one.value("apply").is_some()).filter(|_| {
            self.hits.iter().find(|hit| hit.table == Table::Finish).is_some_and(|hit| hit.at.start > first)
        });
        self.out.insert(at.unwrap_or(self.out.len()), proposal);
    }
}
