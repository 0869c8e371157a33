//! Cleaning, bleaching and what else a treatment did to a surface.

use super::{Coats, LineReader};
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    /// Cleaning, bleaching and what else a treatment did to a surface.
    pub(super) fn treatments(&mut self) {
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Treatment && hit.mood == Mood::Told)
            .cloned()
            .collect();
        let mixed: Vec<usize> = self.mixed();
        for hit in all {
            let Some(group) = self.group(&hit.id) else { continue };
            let clause = self.line.clause(hit.at.start);
            let before = |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
            let cleaning =
                matches!(group, TreatmentGroup::Cleaning | TreatmentGroup::Solvent | TreatmentGroup::Bleach);
            // Thinning is no cleaning, nor is what was there before: `smells of white spirit`.
            let thinned = mixed.contains(&hit.at.start)
                || self.line.has(&clause, &lists().clean.thinned)
                || self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &["smells", "smell"]);
            let with_finish = self.hits.iter().any(|other| {
                other.table == Table::Finish
                    && clause.contains(&other.at.start)
                    && other.at.start < hit.at.start
                    && self.is_deed(other)
            }) && self.deed(&clause, Deed::Clean).is_none();
            let same_as_finish = self.out.iter().any(|one| one.value("apply").is_some())
                && self.hits.iter().any(|other| {
                    other.table == Table::Finish
                        && other.at == hit.at
                        && self.deed(&clause, Deed::Clean).is_none()
                });
            let own = hit.at.start == clause.start
                || group == TreatmentGroup::Bleach && self.deed(&clause, Deed::Apply).is_none();
            let does = self.deed(&self.line.sentence(hit.at.start), Deed::Clean).is_some()
                || self.line.word(hit.at.start.saturating_sub(1)) == "the"
                || own;
            if !cleaning
                || !does
                || thinned
                || with_finish
                || same_as_finish
                || ["no", "without"].contains(&before(1))
            {
                continue;
            }
            let said = self.words_of(clause.clone());
            let parts = self.parts_for(hit.at.start);
            let step = self.dated(Proposal::new("surface.steps", &said));
            // `wiped it off with white spirit` takes away what was laid.
            let off =
                self.line.has(&clause, &["it off", "it all off", "all of it off", "that off", "it back off"]);
            let laid =
                self.hits.iter().find(|other| other.table == Table::Finish && other.at.start < hit.at.start);
            let proposal = match (off, laid) {
                (true, Some(laid)) => step.with("remove", laid.id.as_str()).with("by", hit.id.as_str()),
                _ => step.with("clean", hit.id.as_str()),
            };
            self.on_surface(proposal, &hit, parts);
        }
    }

    /// The places of treatments that something was mixed or thinned with.
    pub(super) fn mixed(&self) -> Vec<usize> {
        let laid: Vec<(Hit, Option<Coats>)> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Finish)
            .map(|hit| (hit.clone(), None))
            .collect();
        self.mix(&laid).0.into_iter().map(|(at, _)| at).collect()
    }
}
