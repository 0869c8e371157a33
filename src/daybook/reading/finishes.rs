//! Finishes that were laid or found, with their coats, mixes and sheen.

use rust_decimal::prelude::ToPrimitive;
use std::ops::Range;

use toml_edit::{Array, InlineTable, Value};

use super::roles::Role;
use super::{Coats, LineReader};
use crate::daybook::hits::{Hit, Table};
use crate::daybook::line::Mood;
use crate::daybook::proposal::{PartSaid, Proposal};
use crate::daybook::words::lists;
use crate::record::day_book::Whose;

impl LineReader<'_, '_> {
    pub(super) fn steps(&mut self) {
        let coats = self.coats();
        let mut applied: Vec<usize> = Vec::new();
        let mut laid: Vec<(Hit, Option<Coats>)> = Vec::new();
        let finishes: Vec<Hit> = self.hits.iter().filter(|hit| hit.table == Table::Finish).cloned().collect();
        for hit in &finishes {
            if hit.mood >= Mood::Planned || self.is_trial(hit.at.start) || self.is_of_other(hit) {
                continue;
            }
            match self.role(hit, &finishes, &coats) {
                Role::Found => {
                    let parts = self.parts_for(hit.at.start);
                    if !self.out.iter().any(|one| one.value("found").and_then(Value::as_str) == Some(&hit.id))
                    {
                        self.found(hit, parts);
                    }
                }
                Role::Removed => self.removed(hit),
                Role::Laid if hit.mood == Mood::Told => laid.push((hit.clone(), None)),
                Role::Laid | Role::Nothing => {}
            }
        }
        // Nor does a deed, as `oiled`, beside the finish that it was done with.
        let only_deed = |hit: &Hit| hit.id.ends_with("-unknown") && self.is_deed(hit);
        let clause = |hit: &Hit| self.line.clause(hit.at.start);
        if laid.iter().any(|(hit, _)| !hit.id.ends_with("-unknown")) {
            let named: Vec<Range<usize>> =
                laid.iter().filter(|(hit, _)| !only_deed(hit)).map(|(hit, _)| clause(hit)).collect();
            laid.retain(|(hit, _)| !(only_deed(hit) && named.contains(&clause(hit))));
        }
        // What is only called old says nothing beside what it is.
        let general = |one: &Proposal| {
            one.value("found")
                .and_then(Value::as_str)
                .is_some_and(|id| ["old-finish", "polish-unknown", "clear-finish-unknown"].contains(&id))
        };
        if self.out.iter().any(|one| one.value("found").is_some() && !general(one)) {
            self.out.retain(|one| !general(one));
        }
        // Each number of coats goes with the finish of its clause, else with the nearest of the line.
        let mut rows: Vec<(Hit, Option<Coats>)> = Vec::new();
        let numbered: Vec<&Coats> = coats.iter().filter(|one| one.numbered).collect();
        for one in coats.iter().filter(|one| !one.numbered) {
            let clause = self.line.clause(one.at);
            let here = laid.iter().filter(|(hit, _)| clause.contains(&hit.at.start));
            let near = here
                .min_by_key(|(hit, _)| hit.at.start.abs_diff(one.at))
                .or_else(|| laid.iter().min_by_key(|(hit, _)| hit.at.start.abs_diff(one.at)));
            if let Some((hit, _)) = near {
                applied.push(hit.at.start);
                rows.push((hit.clone(), Some(one.clone())));
            }
        }
        for (hit, _) in &laid {
            if !applied.contains(&hit.at.start) {
                let own = numbered
                    .iter()
                    .filter(|one| self.nearest_finish(one.at, &laid) == Some(hit.at.start))
                    .count();
                let coats = u32::try_from(own).ok().filter(|own| *own > 0);
                let coats = coats.map(|count| Coats { count, at: hit.at.start, numbered: true });
                rows.push((hit.clone(), coats));
            }
        }
        rows.sort_by_key(|(hit, coats)| coats.as_ref().map_or(hit.at.start, |one| one.at.max(hit.at.start)));
        let (mix, ratio) = self.mix(&laid);
        let every = self.every_hours();
        let between = self.between();
        let sheen = self.sheen();
        for (hit, coats) in rows {
            // What is thinned with is no coat of its own.
            if mix.iter().any(|(at, ..)| *at == hit.at.start)
                && mix.first().is_some_and(|(first, ..)| *first != hit.at.start)
            {
                continue;
            }
            let place = coats.as_ref().map_or(hit.at.start, |one| one.at);
            let clause = self.line.clause(place);
            let mut parts = self.parts_in(&(place.min(hit.at.start)..clause.end));
            if parts.is_empty() {
                parts = self.parts_for(place);
            }
            if coats.is_none() {
                parts = self.parts_for(hit.at.start);
            }
            let said = self.words_of(clause.start.min(hit.at.start)..clause.end.max(hit.at.end));
            let over_film = ["wax-unknown", "paste-wax"].contains(&hit.id.as_str())
                && self.out.iter().any(|one| {
                    let below = one.value("found").or_else(|| one.value("apply"));
                    below.and_then(Value::as_str).is_some_and(|below| self.is_film(below))
                });
            let id = if over_film { "wax-over-film" } else { hit.id.as_str() };
            let mut proposal = self.dated(Proposal::new("surface.steps", &said)).with("apply", id);
            if mix.first().is_some_and(|(first, ..)| *first == hit.at.start) {
                let mut list = Array::new();
                for ((_, of), parts) in mix.iter().map(|(at, of)| (at, of)).zip(&ratio) {
                    let mut one = InlineTable::new();
                    one.insert("of", of.as_str().into());
                    one.insert("parts", i64::from(*parts).into());
                    list.push(Value::InlineTable(one));
                }
                proposal = proposal.with("mix", list);
            }
            proposal = match &coats {
                Some(coats) => proposal.with("coats", i64::from(coats.count)),
                None if self.goes() => proposal.asking("how many coats?"),
                None => proposal.asking("one coat?"),
            };
            let several = coats.as_ref().is_some_and(|coats| coats.count > 1);
            if several {
                proposal =
                    proposal.with_some("every-hours", every).with_some("abrade-between", between.clone());
            }
            proposal = proposal.with_some("note", sheen.clone());
            self.on_surface(proposal, &hit, parts);
        }
        self.treatments();
        self.abrasion(between.is_some() && !coats.is_empty());
        self.stripping(&finishes);
    }

    /// A finish that was found on the piece.
    pub(super) fn found(&mut self, hit: &Hit, parts: Vec<PartSaid>) {
        let said = self.words_of(self.line.clause(hit.at.start));
        let mut proposal = Proposal::new("surface", &said);
        proposal = self.with_parts(proposal, "parts", parts.clone()).with("found", hit.id.as_str());
        if parts.is_empty() {
            proposal = proposal.asking("on which part?");
        }
        if let Some(ask) = &hit.ask {
            proposal = proposal.asking(ask.clone());
        }
        self.out.push(proposal);
    }

    pub(super) fn nearest_finish(&self, at: usize, laid: &[(Hit, Option<Coats>)]) -> Option<usize> {
        let near = laid.iter().min_by_key(|(hit, _)| hit.at.start.abs_diff(at));
        near.map(|(hit, _)| hit.at.start)
    }

    /// Whether a line counts goes, applications or sessions, which are no coats.
    pub(super) fn goes(&self) -> bool {
        self.line.has(&self.all(), &lists().finish.goes)
    }

    /// The hours between coats.
    pub(super) fn every_hours(&self) -> Option<i64> {
        let waits = self.durations.iter().filter(|one| one.whose == Whose::Wait && one.minutes >= 60);
        let between = waits.filter(|one| {
            let around = one.at.start.saturating_sub(4)..(one.at.end + 3).min(self.line.tokens.len());
            self.line.has(&around, &lists().finish.apart)
        });
        if let Some(one) = between.into_iter().next() {
            return Some(i64::from(one.minutes / 60));
        }
        // `coat 1 8am, coat 2 4pm`
        let mut times: Vec<u32> = Vec::new();
        for at in self.all() {
            let half = self.line.word(at + 1);
            if let (Some(number), "am" | "pm") = (self.line.tokens[at].number, half) {
                let whole = number.trunc().to_u32().unwrap_or(0);
                times.push(match (half, whole) {
                    ("pm", 1..=11) => whole + 12,
                    ("am", 12) => 0,
                    _ => whole,
                });
            }
        }
        match times[..] {
            [first, second]
                if second > first && self.line.has(&self.all(), &["coat", "coats", "1st", "2nd"]) =>
            {
                Some(i64::from(second - first))
            }
            _ => None,
        }
    }

    /// The sheen that is told.
    pub(super) fn sheen(&self) -> Option<String> {
        let sheen =
            self.all().find(|at| lists().finish.sheens.contains(&self.line.word(*at)) && self.told(*at))?;
        Some(match self.line.word(sheen) {
            "matte" => "matt".to_owned(),
            word => word.to_owned(),
        })
    }
}
