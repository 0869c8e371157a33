//! Woods, and the parts that are of them.

use super::LineReader;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::{PartSaid, Proposal};
use crate::daybook::words::lists;

impl LineReader<'_, '_> {
    pub(super) fn timbers(&mut self) {
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Timber && hit.mood <= Mood::Doubted)
            .cloned()
            .collect();
        let mut told: Vec<String> = Vec::new();
        for hit in all {
            let longer = self.hits.iter().any(|other| {
                other.table != Table::Timber
                    && other.at.start <= hit.at.start
                    && hit.at.end <= other.at.end
                    && other.at.len() >= hit.at.len()
            });
            let before = hit.at.start.checked_sub(1).map_or("", |at| self.line.word(at));
            let two = hit.at.start.checked_sub(2).map_or("", |at| self.line.word(at));
            let after = self.line.word(hit.at.end);
            let stuff =
                lists().timber.stuff.contains(&after) || crate::daybook::lexicon::part(after).is_some();
            let of = lists().timber.of.contains(&before)
                || ["its", "is", "in", "of", "from"].contains(&two)
                || two == "looks";
            let clause = self.line.clause(hit.at.start);
            let alone = clause.len() <= hit.at.len() + 2;
            let edging = self.first_hit(Table::Edging, &clause).is_some();
            let tool = lists().timber.no_timber.contains(&after);
            let named = self.parts.iter().any(|part| part.at.end == hit.at.start);
            // What a part was mended with is not what it is made of: `filled the gap with a sliver of oak`.
            let with = (clause.start..hit.at.start).find(|at| self.line.word(*at) == "with");
            let means = with.is_some_and(|with| {
                let mends = [Deed::Fill, Deed::Glue, Deed::Splice].iter();
                mends.clone().any(|deed| self.deed(&(clause.start..with), *deed).is_some())
            });
            if longer || tool || means || told.contains(&hit.id) || !(stuff || of || alone || edging || named)
            {
                continue;
            }
            told.push(hit.id.clone());
            let sentence = self.line.sentence(hit.at.start);
            let new = [Deed::Splice, Deed::Fit, Deed::Replace]
                .iter()
                .any(|deed| self.deed(&sentence, *deed).is_some())
                || self.line.has(&sentence, &lists().timber.new);
            let said = self.words_of(clause.clone());
            let mut parts = self.parts_for(hit.at.start);
            parts.truncate(1);
            if let Some(edging) = self.first_hit(Table::Edging, &clause) {
                let from = if edging.at.start > clause.start
                    && ["edge", "front"].contains(&self.line.word(edging.at.start - 1))
                {
                    edging.at.start - 1
                } else {
                    edging.at.start
                };
                parts = vec![PartSaid { said: self.line.phrase(from..edging.at.end), ids: Vec::new() }];
            }
            let name = parts.first().map(|part| part.said.clone());
            let known = parts.first().is_some_and(|part| part.ids.len() == 1);
            let mut proposal = Proposal::new("part", &said);
            if !known {
                let id = name.as_ref().map(|name| self.free_id("part", &name.replace(' ', "-")));
                proposal =
                    proposal.with_some("id", id).with_some("name", name.as_deref().map(crate::unit::capital));
                proposal = proposal.with("standing", if new { "new" } else { "unknown" });
            } else if let Some(id) = parts.first().and_then(|part| part.ids.first()) {
                proposal = proposal.with("id", id.as_str());
            }
            proposal = proposal.with("timber", hit.id.as_str());
            if name.is_none() {
                proposal = proposal.asking("of which part?");
            }
            if hit.mood == Mood::Doubted || self.line.has(&sentence, &["!", "?"]) {
                proposal = proposal.asking("is it so?");
            }
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if known && !new {
                proposal = proposal.asking("does the record say another?");
            }
            proposal.parts = parts;
            self.out.push(proposal);
        }
    }
}
