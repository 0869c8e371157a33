//! Finishes that were taken off.

use std::ops::Range;

use toml_edit::Value;

use super::LineReader;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    /// A finish that was taken off.
    pub(super) fn removed(&mut self, hit: &Hit) {
        if hit.mood != Mood::Told {
            return;
        }
        let clause = self.line.clause(hit.at.start);
        let by = self.hits.iter().find(|other| {
            other.table == Table::Treatment
                && other.mood == Mood::Told
                && self.line.sentence(hit.at.start).contains(&other.at.start)
        });
        let by = by.map(|by| by.id.clone());
        let said = self.words_of(clause);
        let parts = self.parts_for(hit.at.start);
        let mut proposal = self.dated(Proposal::new("surface.steps", &said)).with("remove", hit.id.as_str());
        proposal = proposal.with_some("by", by);
        if parts.is_empty() {
            proposal = proposal.asking("from which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        self.out.push(proposal);
        let sentence = self.line.sentence(hit.at.start);
        let removal = |id: &str| self.group(id) == Some(TreatmentGroup::Removal);
        let used: Vec<Range<usize>> = self
            .hits
            .iter()
            .filter(|hit| {
                hit.table == Table::Treatment && removal(&hit.id) && sentence.contains(&hit.at.start)
            })
            .map(|hit| hit.at.clone())
            .collect();
        used.iter().for_each(|range| self.use_up(range, Some(Table::Treatment)));
    }

    /// Stripping of what is not named: all of it, with what is told of the means.
    pub(super) fn stripping(&mut self, finishes: &[Hit]) {
        let all = self.all();
        if self.out.iter().any(|one| one.value("remove").is_some()) {
            return;
        }
        let Some(at) = self.deed(&all, Deed::Strip) else { return };
        let clause = self.line.clause(at);
        if finishes.iter().any(|hit| clause.contains(&hit.at.start))
            || self.line.has(&clause, &lists().removal.no_finish)
            // What is scraped off where there is a fault is that.
            || self.line.word(at) == "scraped"
                && self.hits.iter().any(|hit| {
                    hit.table == Table::Term && self.line.sentence(at).contains(&hit.at.start)
                })
        {
            return;
        }
        let parts = self.parts_for(at);
        let by = self.hits.iter().find(|hit| hit.table == Table::Treatment && hit.mood == Mood::Told);
        let by = by.map(|hit| (hit.id.clone(), hit.at.clone()));
        let said = self.words_of(clause);
        let mut proposal = self.dated(Proposal::new("surface.steps", &said)).with("remove", "all");
        proposal = proposal.with_some("by", by.as_ref().map(|(id, _)| id.as_str()));
        if parts.is_empty() {
            proposal = proposal.asking("from which surface?");
        }
        proposal = self.on_parts(proposal, parts);
        self.out.push(proposal.asking("down to the bare wood?"));
        let used: Vec<String> = by.into_iter().map(|(id, _)| id).collect();
        self.out.retain(|one| {
            !(one
                .value("clean")
                .and_then(Value::as_str)
                .is_some_and(|clean| used.iter().any(|id| id == clean)))
        });
    }
}
