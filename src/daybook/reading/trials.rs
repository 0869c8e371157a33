//! Tests: for lead and the like, and of what a finish is with a solvent.

use super::{LineReader, day};
use crate::daybook::hits::{Hit, Table};
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::record::day_book::is_done;
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    pub(super) fn tests(&mut self) {
        self.substance_tests();
        self.solvent_test();
    }

    /// Tests for lead and the like: a swab, a kit or a laboratory, and what came out.
    pub(super) fn substance_tests(&mut self) {
        let all = self.all();
        let means =
            lists().means.iter().find_map(|(word, means)| Some((self.line.find(&all, &[word])?, *means)));
        let tested = self.line.find(&all, &["tested", "test", "tests"]);
        let substance = all.clone().find(|at| lists().test.substances.contains(&self.line.word(*at)));
        let (Some(substance), true) = (substance, means.is_some() || tested.is_some()) else { return };
        if self.line.moods[substance] == Mood::Planned || self.line.has(&all, &["test patch"]) {
            return;
        }
        let of = self.line.word(substance).to_owned();
        let mut results: Vec<(&str, usize)> = Vec::new();
        for at in all.clone() {
            let stands = |said: &[&str]| said.iter().any(|word| self.line.stands(at, word, all.end));
            let denied = at > 0 && lists().line.denies.contains(&self.line.word(at - 1));
            let found = if stands(&lists().test.negative) {
                Some("negative")
            } else if stands(&lists().test.positive) {
                Some(if denied { "negative" } else { "positive" })
            } else if at == substance && at > 0 && ["no", "none", "without"].contains(&self.line.word(at - 1))
            {
                Some("negative")
            } else {
                None
            };
            if let Some(result) = found
                && results.last().is_none_or(|(last, _)| *last != result)
            {
                results.push((result, at));
            }
        }
        // A kit that lies ready has told nothing.
        if results.is_empty() && tested.is_none_or(|at| !is_done(&self.line.tokens[at])) {
            return;
        }
        if results.is_empty() {
            results.push(("unknown", substance));
        }
        for (result, at) in results {
            let clause = self.line.clause(at);
            let mut parts = self.parts_in(&clause);
            if parts.is_empty() && result != "unknown" {
                parts = self.parts_for(at);
            }
            let said = self.words_of(clause.clone());
            let mut proposal =
                self.with_parts(Proposal::new("test", &said).with("of", of.as_str()), "part", parts.clone());
            if let Some(on) = self.on {
                proposal = proposal.with("on", day(on));
            }
            // The coat that was rubbed, where the line names one: a test of the one tells nothing of the other.
            proposal = proposal.with_some("by", means.map(|(_, means)| means)).with("result", result);
            if parts.is_empty() {
                proposal = proposal.asking("on which part, and which coat?");
            }
            if result == "unknown" {
                proposal = proposal.asking("what came out?");
            }
            self.out.push(proposal);
        }
        self.hits.retain(|hit| !(hit.table == Table::Term && hit.id.starts_with(&of)));
        // What was rubbed was not laid.
        let sentence = self.line.sentence(substance);
        self.use_up(&sentence, Some(Table::Finish));
    }

    /// What a finish is, tried with solvents: what each did tells the family.
    pub(super) fn solvent_test(&mut self) {
        let all = self.all();
        let mut results: Vec<(usize, &str)> = Vec::new();
        for at in all.clone() {
            let here = lists().solvent_results.iter().find(|(said, _)| self.line.stands(at, said, all.end));
            results.extend(here.map(|(_, result)| (at, *result)));
        }
        for (at, result) in results {
            self.tried(at, result);
        }
    }

    /// What one solvent did: the one of the clause, or else the last before it.
    fn tried(&mut self, at: usize, result: &str) {
        let solvents: Vec<&Hit> = self
            .hits
            .iter()
            .filter(|hit| {
                let group = || self.group(&hit.id);
                hit.table == Table::Treatment
                    && hit.mood <= Mood::Doubted
                    && group().is_some_and(|group| {
                        matches!(group, TreatmentGroup::Solvent | TreatmentGroup::Cleaning)
                    })
            })
            .collect();
        let clause = self.line.clause(at);
        let here = solvents.iter().find(|hit| clause.contains(&hit.at.start));
        let solvent = here.or_else(|| solvents.iter().rfind(|hit| hit.at.start < at));
        let Some(solvent) = solvent.map(|hit| (*hit).clone()) else { return };
        let general = |id: &str| id.ends_with("unknown") || id.starts_with("old-");
        let named = |hit: &&Hit| hit.table == Table::Finish && hit.mood != Mood::Denied && !general(&hit.id);
        // What had no effect tells of no finish.
        let found = (result != "no effect").then(|| {
            let behind = self.hits.iter().filter(named).find(|hit| hit.at.start > at);
            behind
                .or_else(|| self.hits.iter().filter(named).find(|hit| hit.at.start > solvent.at.start))
                .or_else(|| self.hits.iter().find(named))
                .cloned()
        });
        let said = self.words_of(solvent.at.start.min(at)..solvent.at.end.max(at + 1));
        let parts = self.parts_for(solvent.at.start);
        let mut proposal = self.dated(Proposal::new("surface.steps", &said));
        proposal = proposal.with("test", solvent.id.as_str()).with("result", result);
        proposal = self.on_parts(proposal, parts.clone());
        if parts.is_empty() {
            proposal = proposal.asking("on which part was it tried?");
        }
        self.out.push(proposal);
        if let Some(found) = found.flatten() {
            self.found(&found, parts);
            let all = self.all();
            self.use_up(&all, Some(Table::Finish));
        }
        self.use_up(&solvent.at, Some(Table::Treatment));
        self.use_up(&solvent.at, Some(Table::Repair));
    }
}
