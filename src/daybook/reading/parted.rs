//! Parts that left the piece for good, and stuff from stock that went into it.

use super::LineReader;
use crate::daybook::hits::PartHit;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::lists;
use crate::unit::capital;
use crate::unit::fold::folded;

impl LineReader<'_, '_> {
    /// Parts that were taken off and do not go back.
    pub(super) fn parted_with(&mut self) {
        let all = self.all();
        let gone = &lists().removal;
        let told = |list: &[&str]| {
            let at = self.line.find(&all, list)?;
            (self.line.moods[at] == Mood::Told).then_some(at)
        };
        let thrown = told(&gone.thrown);
        let Some(at) = thrown.or_else(|| told(&gone.for_good)) else { return };
        // What is thrown out stands behind the word or, where none does, before it.
        let clause = self.line.clause(at);
        let sentence = self.line.sentence(at);
        let among = |from: usize, to: usize| -> Option<&PartHit> {
            self.parts.iter().find(|part| (from..to).contains(&part.at.start) && part.mood == Mood::Told)
        };
        let part = match thrown {
            Some(_) => among(at, clause.end).or_else(|| among(sentence.start, at)),
            None => among(sentence.start, sentence.end),
        };
        let Some(part) = part.map(|hit| hit.part.clone()) else { return };
        let said = part.said.clone();
        let text = self.line.text.clone();
        let mut proposal = Proposal::new("part", &text);
        proposal = match &part.ids[..] {
            [id] => proposal.with("id", id.as_str()),
            _ => {
                let id = self.free_id("part", &said.replace(' ', "-"));
                proposal
                    .with("id", id)
                    .with("name", capital(&said))
                    .asking("did it belong to the piece as made?")
            }
        };
        proposal.parts = vec![part];
        self.out.push(proposal.with("standing", "removed"));
    }

    /// Stuff from the workshop's stock that a line names by its id or in its words.
    pub(super) fn stock_used(&mut self) {
        let all = self.all();
        let stock = self.bench.stock;
        let line = &self.line;
        let named = stock.iter().find(|item| {
            let names = [folded(&item.id.0), folded(&item.what)];
            let runs = (1..=6).flat_map(|length| (0..line.tokens.len()).map(move |at| at..at + length));
            let mut runs = runs.filter(|run| run.end <= line.tokens.len());
            runs.any(|run| {
                let here = folded(&line.phrase(run.clone()));
                !here.is_empty() && names.contains(&here) && line.moods[run.start] == Mood::Told
            })
        });
        let Some(item) = named.filter(|item| {
            line.has(&all, &lists().timber.from_stock)
                || line.has(&all, &["used"])
                || line.text.contains(&item.id.0)
        }) else {
            return;
        };
        let id = item.id.0.clone();
        let text = line.text.clone();
        let parts: Vec<_> = self.parts_in(&all).into_iter().take(1).collect();
        let mut proposal = Proposal::new("part", &text);
        proposal = match parts.first().map(|part| &part.ids[..]) {
            Some([part]) => proposal.with("id", part.as_str()),
            Some(_) => proposal.asking(format!("which part of the record is “{}”?", parts[0].said)),
            None => proposal.asking("for which part?"),
        };
        proposal.parts = parts;
        self.out.push(proposal.with("from-stock", id));
    }
}
