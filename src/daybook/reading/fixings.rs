//! Fixings: what they are to the piece, how many, and instead of what.

use std::ops::Range;

use rust_decimal::prelude::ToPrimitive;

use super::LineReader;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::{PartSaid, Proposal};
use crate::daybook::words::lists;
use crate::record::day_book::is_done;

impl LineReader<'_, '_> {
    pub(super) fn fixings(&mut self) {
        let not_original =
            |hit: &Hit| hit.at.start > 1 && self.line.stands(hit.at.start - 2, "not original", hit.at.start);
        let all: Vec<Hit> = self
            .hits
            .iter()
            .filter(|hit| hit.table == Table::Fixing && (hit.mood <= Mood::Doubted || not_original(hit)))
            .cloned()
            .collect();
        let mut instead_used: Vec<usize> = Vec::new();
        for hit in all {
            let glue = is_glue(&hit.id);
            if hit.id.starts_with("joint")
                || hit.id == "glue-unknown"
                    && self
                        .hits
                        .iter()
                        .any(|other| other.table == Table::Fixing && other.at != hit.at && is_glue(&other.id))
                || instead_used.contains(&hit.at.start)
            {
                continue;
            }
            let after = self.line.word(hit.at.end);
            if lists().parts.of_it.contains(&after) || glue && lists().fixing.tools.contains(&after) {
                continue;
            }
            // The hinge of hinge screws is only what they hold.
            if self
                .hits
                .iter()
                .any(|other| other.table == Table::Fixing && other.at.start == hit.at.end && !glue)
            {
                continue;
            }
            // The hinge of two screws in a hinge is only where they are.
            let place = hit
                .at
                .start
                .saturating_sub(1 + usize::from(self.line.word(hit.at.start.saturating_sub(1)) == "the"));
            let of_place = lists().fixing.place.contains(&self.line.word(place))
                && self.hits.iter().any(|other| {
                    other.table == Table::Fixing && other.at.end == place && !is_glue(&other.id)
                });
            if of_place && !glue {
                continue;
            }
            // A word that is a fault or a treatment too says that instead.
            let other = self.hits.iter().any(|other| {
                [Table::Term, Table::Repair].contains(&other.table)
                    && other.at.start <= hit.at.start
                    && hit.at.end <= other.at.end
                    && other.at.len() > hit.at.len()
            });
            if other {
                continue;
            }
            let clause = self.line.clause(hit.at.start);
            let sentence = self.line.sentence(hit.at.start);
            let Some((standing, sure)) = self.standing(&hit, &clause, &sentence, glue) else { continue };
            let said = self.words_of(clause.clone());
            let parts: Vec<PartSaid> = self
                .parts_for(hit.at.start)
                .into_iter()
                .filter(|part| !self.is_the_fixing(part, &hit))
                .collect();
            let mut proposal = self
                .with_parts(Proposal::new("fixing", &said), "part", parts.clone())
                .with("kind", hit.id.as_str());
            if !glue {
                proposal = proposal.with_some("count", self.count_before(&hit).map(i64::from));
            }
            proposal = proposal.with("standing", standing);
            if let Some((range, instead)) = self.instead_of(&sentence, hit.at.end) {
                proposal = proposal.with("instead-of", instead);
                instead_used.extend(range);
            }
            if !sure {
                proposal = proposal.asking("what is it to the piece: original, later, new?");
            }
            if parts.is_empty() {
                proposal = proposal.asking("on which part?");
            }
            if let Some(ask) = &hit.ask {
                proposal = proposal.asking(ask.clone());
            }
            if hit.mood == Mood::Doubted {
                proposal = proposal.asking("is it so?");
            }
            if standing == "later"
                && hit.id.starts_with("screw")
                && !self.out.iter().any(|one| one.value("seen").is_some())
            {
                let finding = Proposal::new("finding", &said)
                    .with("id", self.free_id("finding", "f-later-hardware").as_str());
                self.out.push(self.with_parts(finding, "part", parts).with("seen", "later-hardware"));
            }
            self.out.push(proposal);
        }
    }

    /// What a fixing is to the piece, and whether the line says so; `None` where it only mentions it.
    pub(super) fn standing(
        &self,
        hit: &Hit,
        clause: &Range<usize>,
        sentence: &Range<usize>,
        glue: bool,
    ) -> Option<(&'static str, bool)> {
        let before = clause.start..hit.at.start;
        let word = |back: usize| hit.at.start.checked_sub(back).map_or("", |at| self.line.word(at));
        let later = self.line.has(sentence, &lists().fixing.by_others);
        if later && (self.line.has(clause, &lists().fixing.changed)) {
            // What was replaced is there no more.
            let gone = self.line.has(&before, &["replaced"]) && !self.line.has(&before, &["by", "with"]);
            return (!gone).then_some(("later", true));
        }
        if hit.mood == Mood::Denied {
            return None;
        }
        if glue {
            let old = ["old", "original"]
                .iter()
                .any(|old| self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &[old]))
                || self.line.has(clause, &lists().fixing.glue_there)
                || self.line.has(sentence, &lists().fixing.glue_off)
                    && self.deed(clause, Deed::Glue).is_none();
            if old {
                return Some(("unknown", false));
            }
            if self.deed(clause, Deed::Glue).is_some_and(|at| self.was_so(at)) {
                return Some(("unknown", false));
            }
            let glued = self.deed(sentence, Deed::Glue).is_some_and(|at| !hit.at.contains(&at))
                || self.deed(sentence, Deed::Splice).is_some()
                || self.line.has(sentence, &lists().fixing.pressed)
                || self.deed(clause, Deed::Fill).is_some();
            let bare = clause.len() == hit.at.len() && hit.id != "glue-unknown";
            let with =
                self.line.has(&(hit.at.start.saturating_sub(3)..hit.at.start), &["with", "using", "and"]);
            let deed = with
                && clause.clone().any(|at| {
                    self.told(at)
                        && is_done(&self.line.tokens[at])
                        && !self.line.tokens[at].is_any(&lists().clause.is)
                });
            return (glued || bare || deed).then_some(("new", true));
        }
        if ["old", "original"].iter().any(|old| [word(1), word(2)].contains(old)) {
            let again =
                self.deed(&before, Deed::Fit).is_some() || self.line.has(clause, &["back in", "again"]);
            return (again || self.line.has(clause, &["nailed with", "held by", "held with"]))
                .then_some(("original", false));
        }
        // `glue blocks original, two missing`
        if self.line.word(hit.at.end) == "original" {
            return Some(("original", true));
        }
        let near = hit.at.start.saturating_sub(3)..hit.at.start;
        if self.line.has(&near, &lists().fixing.salvaged)
            || self.line.has(sentence, &lists().fixing.salvaged_from)
        {
            let fitted = self.deed(sentence, Deed::Fit).or_else(|| self.deed(sentence, Deed::Replace));
            return Some(("salvaged", fitted.is_some()));
        }
        let new = (hit.at.start.saturating_sub(4)..hit.at.start)
            .rev()
            .find(|at| ["new", "replacement"].contains(&self.line.word(*at)));
        let of_another = new.is_some_and(|new| {
            self.hits.iter().any(|other| {
                other.table == Table::Fixing && new < other.at.start && other.at.end <= hit.at.start
            }) || self.parts.iter().any(|part| new < part.at.start && part.at.end <= hit.at.start)
        });
        if new.is_some() && !of_another
            || self.line.has(
                &(hit.at.end..(hit.at.end + 9).min(sentence.end.max(hit.at.end))),
                &["in place of", "instead of", "to replace"],
            )
        {
            return Some(("new", true));
        }
        let was = &lists().fixing.was_held;
        if self.line.has(&before, was) && self.line.has(clause, &["was", "were", "is", "are", "its"]) {
            return Some(("unknown", false));
        }
        let fitted =
            self.deed(&before, Deed::Fit).filter(|at| !hit.at.contains(at) && self.line.word(*at) != "fit");
        // `magnetic catch added`
        let after = ["added", "fitted", "installed"].contains(&self.line.word(hit.at.end));
        let fitted = fitted.or_else(|| after.then_some(hit.at.end));
        // `put felt pads on the feet`
        let put = before.clone().find(|at| self.told(*at) && self.line.word(*at) == "put").filter(|_| {
            (hit.at.end..clause.end)
                .any(|at| ["on", "in", "under", "into", "onto"].contains(&self.line.word(at)))
        });
        let fitted = fitted.or(put);
        let replaced = self.deed(&before, Deed::Replace).filter(|at| !hit.at.contains(at));
        if (fitted.is_some() || replaced.is_some()) && hit.id != "key" {
            // `replaced the screws` renews them; `refitted the hinges` does not.
            let again = fitted.is_some_and(|at| ["refitted", "rehung", "hung"].contains(&self.line.word(at)));
            return (!again).then_some(("new", self.count_before(hit).is_some() || fitted.is_some()));
        }
        let with = ["with", "using"].contains(&word(1)) || ["with", "using"].contains(&word(2));
        if with && self.deed(&(clause.start..clause.end), Deed::Fit).is_some() {
            return Some(("new", true));
        }
        None
    }

    /// Whether a part is the fixing itself: the castors of `castors on`.
    pub(super) fn is_the_fixing(&self, part: &PartSaid, hit: &Hit) -> bool {
        self.parts
            .iter()
            .any(|named| named.part == *part && named.at.start < hit.at.end && hit.at.start < named.at.end)
    }

    /// How many of a fixing: the number before it, with what says of what kind they are between.
    pub(super) fn count_before(&self, hit: &Hit) -> Option<u32> {
        let from = hit.at.start.saturating_sub(3).max(self.line.clause(hit.at.start).start);
        let before = (from..hit.at.start).rev().any(|at| self.line.tokens[at].value().is_some());
        if !before {
            return self.count_behind(hit);
        }
        let at = (from..hit.at.start).rev().find(|at| self.line.tokens[*at].value().is_some())?;
        let after = self.line.word(at + 1);
        let measured = lists().fixing.no_count.contains(&after);
        let numbered = at > 0 && (lists().fixing.no_count_before.contains(&self.line.word(at - 1)));
        let value = self.line.tokens[at].value()?;
        let count = value.to_u32().filter(|_| value.is_integer() && !measured && !numbered);
        count.filter(|count| (1..=500).contains(count))
    }

    /// How many of a fixing, where the number stands behind it by itself: `new castors, 4`, `hinges x 3`.
    fn count_behind(&self, hit: &Hit) -> Option<u32> {
        let sign = [",", "x", "×", "("].contains(&self.line.word(hit.at.end));
        let number =
            self.line.tokens.get(hit.at.end + 1).filter(|token| sign && token.number.is_some())?.number?;
        let next = self.line.tokens.get(hit.at.end + 2);
        let alone = next.is_none_or(|next| !next.is_word() && !next.is_any(&["%", "\"", "/", "-", "x", "×"]));
        number.to_u32().filter(|count| alone && number.is_integer() && (1..=500).contains(count))
    }

    /// What a fixing stands for: the words behind `in place of`.
    pub(super) fn instead_of(&self, sentence: &Range<usize>, from: usize) -> Option<(Range<usize>, String)> {
        let at = (from..sentence.end)
            .find(|at| lists().fixing.instead.iter().any(|said| self.line.stands(*at, said, sentence.end)))?;
        let mut start = at
            + if self.line.word(at) == "in" && self.line.word(at + 1) == "place" {
                3
            } else if self.line.word(at) == "replacing" {
                1
            } else {
                2
            };
        while lists().fixing.instead_skip.contains(&self.line.word(start))
            && start + 1 < sentence.end
            && self.line.word(start) != "old"
        {
            start += 1;
        }
        let end = (start..sentence.end)
            .find(|at| [",", "(", "and", "-"].contains(&self.line.word(*at)))
            .unwrap_or(sentence.end);
        let said = self.words_of(start..end);
        (!said.is_empty()).then_some((start..end, said))
    }
}

/// Whether a fixing is a glue.
pub(super) fn is_glue(id: &str) -> bool {
    id.contains("glue")
        || [
            "epoxy",
            "cyanoacrylate",
            "contact-cement",
            "construction-adhesive",
            "spray-adhesive",
            "starch-paste",
            "hot-melt",
            "polyester-resin",
            "silicone-sealant",
        ]
        .contains(&id)
}
