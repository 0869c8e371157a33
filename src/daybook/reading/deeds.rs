//! Which deeds a line tells, by the rows of the trade's tables.

use std::ops::Range;

use super::LineReader;
use super::fixings::is_glue;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::words::lists;
use crate::record::day_book::{Whose, is_done};
use crate::trade::TreatmentGroup;

impl LineReader<'_, '_> {
    /// The deeds that a line tells, by the rows of the trade's tables.
    pub(super) fn deeds(&self, faults: &[(String, usize)]) -> Vec<String> {
        let mut deeds: Vec<String> = Vec::new();
        let mut add = |id: &str| {
            if !deeds.iter().any(|known| known == id) {
                deeds.push(id.to_owned());
            }
        };
        let passive = self.line.has(&self.all(), &lists().work.passive);
        // What comes before or after something else, or what it smells of, was not done.
        let aside = |hit: &&Hit| {
            let before = |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
            ["before", "after", "for", "until"].contains(&before(1))
                || before(1) == "of" && lists().work.smells.contains(&before(2))
        };
        // A repair that a row of its own tells, that was found or is only named; and to level is said of more than legs.
        let not_done = |hit: &Hit| {
            let levelled = hit.id == "legs-levelled" && hit.at.len() == 1;
            lists().work.told_elsewhere.contains(&hit.id.as_str())
                || passive
                || self.was_so(hit.at.start)
                || levelled && !self.levels_legs()
                || self.only_names(hit)
        };
        for hit in self.hits.iter().filter(|hit| hit.mood == Mood::Told && !aside(hit)) {
            match hit.table {
                Table::Repair if !not_done(hit) => add(&hit.id),
                Table::Treatment => {
                    let group = self.group(&hit.id);
                    let surface = group.is_none_or(|group| {
                        matches!(
                            group,
                            TreatmentGroup::Cleaning
                                | TreatmentGroup::Solvent
                                | TreatmentGroup::Bleach
                                | TreatmentGroup::Removal
                                | TreatmentGroup::Abrading
                        )
                    });
                    // Nor is what something was laid on, or how it was, a deed: `on the filler`, `putty rock hard`.
                    let before =
                        |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
                    let below = ["on", "over", "under"];
                    let place =
                        below.contains(&before(1)) || before(1) == "the" && below.contains(&before(2));
                    let state = lists().work.how.contains(&self.line.word(hit.at.end));
                    if !surface && !passive && !place && !state {
                        add(&hit.id);
                    }
                }
                _ => {}
            }
        }
        for clause in &self.line.clauses {
            let edges = self.parts_in(clause).iter().all(|part| {
                part.said.contains("edge") || part.said.contains("top") || part.said.contains("side")
            });
            let part =
                |said: &[&str]| self.line.has(clause, said) || self.line.has(&self.all(), said) && edges;
            if let Some(at) = self.deed(clause, Deed::Glue) {
                let noun = self.line.word(at) == "glue" && at != clause.start;
                let patch = self.line.has(clause, &["veneer"]);
                let veneer =
                    self.hits.iter().any(|hit| hit.table == Table::Repair && hit.id.starts_with("veneer"));
                if !noun && !self.line.has(clause, &["hot glue gun"]) && !veneer && !self.was_so(at) {
                    add(if patch { "veneer-relaying" } else { "regluing" });
                }
            }
            if self.line.has(clause, &lists().work.relaid) && self.told(clause.start) {
                if self.line.has(clause, &["leather", "skiver"]) {
                    add("leather-relaid");
                } else if self.line.has(&self.line.sentence(clause.start), &["veneer"]) {
                    add("veneer-relaying");
                }
            }
            if self.puts_back(clause) {
                add("hardware-refitted");
            }
            if self.deed(clause, Deed::Ease).is_some() {
                if part(&["drawer", "drawers", "runner", "runners"]) {
                    add("drawer-eased");
                } else if part(&["door", "doors"]) {
                    add("door-eased");
                }
            }
            let lifting =
                faults.iter().any(|(id, _)| ["lifting-veneer", "blistered-veneer"].contains(&id.as_str()));
            if lifting && self.line.has(&self.all(), &lists().work.veneer_laid) {
                add("veneer-relaying");
            }
            if self.deed(clause, Deed::Splice).is_some() {
                let veneer = self.line.has(clause, &["veneer"]);
                let patch = self.line.has(clause, &["patch", "patched", "let in"]);
                add(match (veneer, patch) {
                    (true, _) => "veneer-patch",
                    (false, true) => "patch",
                    (false, false) => "splice",
                });
            }
            if self.line.has(clause, &lists().work.raises) && self.line.has(clause, &lists().work.dents) {
                add("dent-raised");
            }
            if self.deed(clause, Deed::Fill).is_some() {
                if self.line.has(clause, &["hole", "holes"]) {
                    add("hole-plugged");
                } else if self.line.has(clause, &lists().work.cracks) {
                    add("crack-filled");
                }
            }
            let replaced = self.deed(clause, Deed::Replace).is_some()
                || self.line.has(clause, &["new"]) && self.deed(clause, Deed::Fit).is_some();
            let passive = self.line.has(
                &self.line.sentence(clause.start),
                &["at some point", "previously", "before us", "someone", "somebody", "not original"],
            );
            if replaced && !passive {
                let put_in = lists().replaced.iter().find(|one| self.line.has(clause, &one.words));
                put_in.iter().for_each(|one| add(one.is));
            }
            if self.line.has(clause, &["runner", "runners"])
                && self.line.has(&self.all(), &lists().work.runners_made)
                && self.told(clause.start)
            {
                add("drawer-runner-repair");
            }
            let off = self.deed(clause, Deed::TakeOff);
            if off.is_some_and(|at| self.takes_off(at, clause)) {
                add("dismantling");
            }
            if self.line.has(clause, &lists().work.keys) && self.told(clause.start) {
                add("key-cut");
            }
            if self.line.has(clause, &["candle", "candled"])
                && self.line.has(&self.all(), &["runner", "runners", "drawer", "drawers"])
                && self.told(clause.start)
            {
                add("candle-wax-lubricant");
            }
            let bare = self.out.iter().all(|one| one.value("abrade").is_none());
            let paper = clause.clone().any(|at| self.line.does(at, "sanded", clause.end))
                || self.line.has(clause, &["the sanding"]);
            if paper
                && bare
                && (self.line.has(clause, &["the sanding"]) || self.deed(clause, Deed::Abrade).is_some())
                && self.between().is_none()
            {
                add("sanding");
            }
            if self.line.has(clause, &["french polished", "french polish"]) && self.told(clause.start) {
                add("french-polishing");
            }
        }
        // The general word says nothing beside the precise one.
        for (general, precise) in [
            ("gluing", "regluing"),
            ("hardware-replaced", "screws-replaced"),
            ("hardware-replaced", "repair-dowel"),
            ("patch", "veneer-patch"),
        ] {
            if deeds.iter().any(|id| id == precise) {
                deeds.retain(|id| id != general);
            }
        }
        deeds
    }

    /// Whether what a deed did was found so: `was glued with epoxy`. A line that tells its hours tells our own work.
    pub(super) fn was_so(&self, at: usize) -> bool {
        let mut before = at;
        while before > 0 && self.line.tokens[before - 1].is_any(&lists().clause.found_how) {
            before -= 1;
        }
        let was = before > 0 && self.line.tokens[before - 1].is_any(&lists().clause.found_so);
        was && self.durations.iter().all(|one| one.whose != Whose::Own)
    }

    /// Whether what was levelled is what a piece stands on, and no filler.
    fn levels_legs(&self) -> bool {
        self.line.has(&self.all(), &lists().work.stands)
    }

    /// Whether fittings went back to their place: `hinges cleaned, back on`.
    fn puts_back(&self, clause: &Range<usize>) -> bool {
        let Some(at) = self.line.find(clause, &["back on", "back in", "put back"]) else { return false };
        let sentence = self.line.sentence(at);
        let part = self.parts.iter().any(|part| (clause.start..at).contains(&part.at.start));
        let hits = self.hits.iter().filter(|hit| hit.table == Table::Fixing && hit.mood == Mood::Told);
        let mut named = hits.filter(|hit| sentence.start <= hit.at.start && hit.at.end <= at);
        self.told(at) && named.any(|hit| !is_glue(&hit.id) && (!part || clause.contains(&hit.at.start)))
    }

    /// Whether the words of a repair only name a thing that something else was done to: `blackened the new screws`.
    pub(super) fn only_names(&self, hit: &Hit) -> bool {
        let clause = self.line.clause(hit.at.start);
        let named =
            self.line.word(hit.at.start) == "new" || !hit.at.clone().any(|at| is_done(&self.line.tokens[at]));
        let other = (clause.start..hit.at.start).any(|at| {
            self.told(at)
                && is_done(&self.line.tokens[at])
                && !self.line.tokens[at].is_any(&lists().clause.is)
        });
        let fits = self.deed(&clause, Deed::Fit).is_some()
            || self.deed(&clause, Deed::Replace).is_some()
            || self.line.has(&(clause.start..hit.at.start), &lists().work.makes);
        if hit.id == "edging-replaced" && !fits && !self.line.has(&clause, &["new"]) {
            return true;
        }
        named && other && !fits && hit.at.len() > 1
    }

    /// Whether a word of taking off is told of a part or a fitting: no finish, no dirt, no clamp.
    pub(super) fn takes_off(&self, at: usize, clause: &Range<usize>) -> bool {
        let word = self.line.word(at);
        let only_off = ["off", "out"].contains(&word);
        let others = &lists().work.no_part;
        let thing = self.parts.iter().any(|part| clause.contains(&part.at.start))
            || self
                .hits
                .iter()
                .any(|hit| hit.table == Table::Fixing && clause.contains(&hit.at.start) && !is_glue(&hit.id));
        // `back off` is told by its part right before it.
        let right_before = self.parts.iter().any(|part| part.at.end == at);
        let out = self.line.has(clause, &["apart"]);
        (thing && (!only_off || right_before) || out && self.told(at)) && !self.line.has(clause, others)
            || word == "dismantled"
    }
}
