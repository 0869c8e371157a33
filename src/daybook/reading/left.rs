//! What is open, what was left, and what was decided.

use std::ops::Range;

use toml_edit::Value;

use super::LineReader;
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::record::day_book::is_done;

impl LineReader<'_, '_> {
    pub(super) fn open_and_left(&mut self, faults: &[(String, usize)]) {
        let mut plan: Option<Range<usize>> = None;
        for clause in self.line.clauses.clone() {
            let planned = clause.clone().any(|at| self.line.moods[at] == Mood::Planned);
            let from =
                clause.clone().find(|at| self.line.moods[*at] == Mood::Planned).unwrap_or(clause.start);
            // A need that the line itself answers is no plan: `seat needs new webbing so rewebbed it`.
            let answered = self.line.has(&clause, &["needs", "need"])
                && self.line.clauses.iter().any(|later| {
                    later.start > clause.start
                        && later.clone().any(|at| {
                            self.told(at)
                                && is_done(&self.line.tokens[at])
                                && !self.line.tokens[at].is_any(&["is", "was", "were"])
                        })
                });
            if planned && !answered {
                plan = Some(plan.map_or(from..clause.end, |plan| plan.start..clause.end));
            }
        }
        if let Some(plan) = plan {
            let what = self.words_of(plan.clone());
            let mut proposal = Proposal::new("open", &what).with("what", what.as_str());
            let parts = self.parts.iter().filter(|part| plan.contains(&part.at.start));
            proposal.parts = parts.map(|part| part.part.clone()).collect();
            self.out.push(proposal);
        }
        self.left(faults);
    }

    /// Something that was left as it is, or kept on purpose.
    pub(super) fn left(&mut self, faults: &[(String, usize)]) {
        let all = self.all();
        let left = &lists().left.left;
        let at = all.clone().find(|at| {
            left.iter().any(|said| self.line.stands(*at, said, all.end))
                && !lists().left.waiting.contains(&self.line.word(at + 2))
        });
        if let Some(at) = at {
            let clause = self.line.clause(at);
            let before = self.words_of(0..clause.start.max(1));
            match faults.iter().find(|(_, place)| *place < at).or_else(|| faults.first()) {
                Some((fault, _)) => {
                    let id = self
                        .out
                        .iter()
                        .find(|one| one.value("seen").and_then(Value::as_str) == Some(fault))
                        .and_then(|one| one.value("id"))
                        .and_then(Value::as_str)
                        .map(str::to_owned);
                    let what = before.trim_end_matches([',', ' ', '.', '-']).to_owned();
                    let text = self.line.text.clone();
                    let proposal = Proposal::new("undone", &text)
                        .with("what", if what.is_empty() { fault.as_str() } else { what.as_str() });
                    let proposal = proposal.with_some("leaves", id).with("why", "unknown");
                    self.out.push(proposal.asking("why was it left?"));
                }
                None => self.decided("leave it or change it?", &self.words_of(clause)),
            }
            return;
        }
        let kept = self.deed(&all, Deed::Keep).filter(|at| {
            let clause = self.line.clause(*at);
            let near = *at..(*at + 5).min(clause.end.max(*at));
            // What was put away was not left where it was.
            let away = self.line.has(
                &clause,
                &["in a bag", "in a box", "in a drawer", "in an envelope", "bagged", "boxed", "labelled"],
            );
            self.line.has(&near, &lists().left.kept) && !away
        });
        let stripped = all.clone().find(|at| {
            self.line.moods[*at] == Mood::Denied && lists().left.refused.contains(&self.line.word(*at))
        });
        let not_used = self.line.has(&all, &lists().left.decided);
        if let Some(at) = kept.or(stripped.filter(|_| not_used)) {
            let clause = self.line.clause(at);
            let ask = match self.line.has(&all, &["strip", "stripping", "finish", "polish"]) {
                true => "strip the finish or keep it?",
                false => "use it or not?",
            };
            self.decided(ask, &self.words_of(clause));
        }
    }

    pub(super) fn decided(&mut self, ask: &str, chose: &str) {
        let mut proposal = Proposal::new("decision", chose).with("ask", ask).with("chose", chose);
        proposal.parts = self.parts_in(&self.all());
        self.out.push(proposal.asking("why?"));
    }
}
