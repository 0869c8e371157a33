//! What a finish in a line is: found, taken off, laid, or only mentioned.

use std::ops::Range;

use super::{Coats, LineReader};
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::words::lists;
use crate::record::day_book::is_done;

/// What becomes of a finish that a line names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Found,
    Removed,
    Laid,
    Nothing,
}

impl LineReader<'_, '_> {
    /// Whether a sentence tells of a trial, and not of the piece.
    pub(super) fn is_trial(&self, at: usize) -> bool {
        let tried = &lists().finish.trial;
        let taken = self.line.has(&self.line.clause(at), &["went with", "settled on", "used"]);
        self.line.has(&self.line.sentence(at), tried) && !taken
    }

    /// Whether a finish is said of another thing or another day: `yesterdays paint`, `that other piece`.
    pub(super) fn is_of_other(&self, hit: &Hit) -> bool {
        let clause = self.line.clause(hit.at.start);
        self.line.has(&clause, &lists().finish.elsewhere)
    }

    /// Whether a finish lies on the wood as a film, so that wax goes over it.
    pub(super) fn is_film(&self, id: &str) -> bool {
        !lists().finish.no_film.iter().any(|open| id.contains(open))
    }

    /// What a finish in a line is: found, taken off, laid.
    pub(super) fn role(&self, hit: &Hit, finishes: &[Hit], coats: &[Coats]) -> Role {
        let (start, end) = (hit.at.start, hit.at.end);
        let clause = self.line.clause(start);
        let sentence = self.line.sentence(start);
        let before = |back: usize| start.checked_sub(back).map_or("", |at| self.line.word(at));
        let near = [before(1), before(2), before(3)];
        // A term or a repair over the same words says more: `paint drips`, `polish revived`.
        let in_other = self.hits.iter().any(|other| {
            [Table::Term, Table::Fixing, Table::Treatment].contains(&other.table)
                && other.at.start <= start
                && end <= other.at.end
                && (other.at.len() > hit.at.len()
                    || other.table == Table::Treatment && self.deed(&clause, Deed::Clean).is_some())
        });
        let candled =
            self.line.has(&clause, &["candle", "candled"]) && self.line.has(&clause, &lists().work.candled);
        // `painted with two coats of chalk paint`: the deed is told by what was laid.
        let general = |id: &str| id.starts_with("old-") || id.ends_with("-unknown");
        let told_better = general(&hit.id)
            && self.is_deed(hit)
            && finishes.iter().any(|other| match hit.id.strip_suffix("-unknown") {
                // `waxed outside, microcrystalline`
                Some(stem) => {
                    sentence.contains(&other.at.start) && other.id.contains(stem) && !general(&other.id)
                }
                None => clause.contains(&other.at.start) && !general(&other.id),
            });
        if in_other || candled || told_better {
            return Role::Nothing;
        }
        // `polish: beeswax and turps` only heads what was laid, and `ready for gold` lays none yet.
        let heads = general(&hit.id)
            && self.line.word(end) == ":"
            && finishes.iter().any(|other| other.at.start > end);
        let not_yet =
            (clause.start..start).any(|at| {
                lists().finish.not_yet.iter().any(|said| {
                    self.line.stands(at, said, start) && at + said.split(' ').count() + 1 >= start
                })
            });
        // `gilded slip rehung` and `eggshell undercoat` only say which.
        let later = (end..clause.end).any(|at| self.told(at) && is_done(&self.line.tokens[at]));
        let next = self.line.tokens.get(end).filter(|next| next.is_word() && clause.contains(&end));
        let which = start == clause.start
            && self.is_deed(hit)
            && later
            && next.is_some_and(|next| {
                !next.is_any(&lists().finish.whither)
                    && !next.is_any(&lists().finish.beside)
                    && !next.is_any(&lists().line.joins)
            })
            || hit.ask.is_some() && finishes.iter().any(|other| other.at.start == end);
        // Nor is the oil of a hinge laid on anything, or what those before us painted.
        let lubricates = hit.id == "oil-unknown" && self.line.has(&sentence, &lists().work.lubricated);
        let others = self.line.has(&self.all(), &lists().finish.by_others);
        if heads || not_yet || which || lubricates || others {
            return Role::Nothing;
        }
        let old = &lists().finish.old;
        if self.deed(&clause, Deed::Strip).is_some_and(|at| at < start)
            || self.line.word(end) == "off"
                && self.deed(&(clause.start..start), Deed::TakeOff).is_none()
                && !self.is_applied(&clause, start)
            || self.deed(&(clause.start..start), Deed::Clean).is_some()
                && ["off"].iter().any(|off| self.line.has(&clause, &[off]))
                && !near.contains(&"with")
        {
            return Role::Removed;
        }
        if let Some(at) = self.deed(&(clause.start..start), Deed::TakeOff)
            && ["removed", "took", "taken"].contains(&self.line.word(at))
            && !self.line.has(&(at..start), &["with", "using", "and"])
        {
            return Role::Removed;
        }
        if near[..2].iter().any(|word| old.contains(word)) && !["with", "in"].contains(&near[0]) {
            return Role::Found;
        }
        let over = &lists().finish.over;
        if near.iter().any(|word| over.contains(word))
            && finishes.iter().any(|other| other.at.start < start && start - other.at.start < 8)
        {
            return Role::Found;
        }
        if near.iter().any(|word| ["under", "beneath", "underneath"].contains(word))
            && self.line.has(&sentence, &lists().finish.there)
        {
            return if self.is_applied(&clause, start) { Role::Laid } else { Role::Found };
        }
        let is = |word: &str| lists().finish.its.contains(&word);
        if is(near[0]) || is(near[1]) && lists().finish.only.contains(&near[0]) {
            // `it was waxed`, and not `its wax`.
            return if self.is_deed(hit) && near[0] != "its" { Role::Laid } else { Role::Found };
        }
        if self.deed(&(clause.start..start), Deed::Keep).is_some() {
            return Role::Found;
        }
        if self.is_applied(&clause, start)
            || self.is_deed(hit)
            || coats.iter().any(|one| clause.contains(&one.at) || sentence.contains(&one.at))
        {
            return Role::Laid;
        }
        // What lies bare, or is only called old, was laid by nobody here.
        if hit.id == "bare-wood" || hit.id.starts_with("old-") {
            return Role::Nothing;
        }
        // A statement that begins with a finish and goes on with where it went.
        let begins = (clause.start..start).all(|at| self.line.tokens[at].is_any(&lists().finish.beside));
        let goes_on = lists().finish.whither.contains(&self.line.word(end));
        let state = clause.clone().any(|at| self.line.tokens[at].is_any(&lists().finish.state))
            || self.hits.iter().any(|other| other.table == Table::Term && clause.contains(&other.at.start));
        if begins && goes_on && !state && hit.ask.is_none() && hit.mood == Mood::Told {
            return Role::Laid;
        }
        // A statement of nothing but a finish, its place and numbers, or one behind a plus.
        let bare = clause.clone().all(|at| {
            let token = &self.line.tokens[at];
            hit.at.contains(&at)
                || !token.is_word()
                || token.value().is_some()
                || self.parts.iter().any(|part| part.at.contains(&at))
                || token.is_any(&lists().finish.beside)
        });
        // What a hole was filled with is named so too.
        let before = sentence.start..start;
        let mends =
            [Deed::Fill, Deed::Glue, Deed::Splice].iter().any(|deed| self.deed(&before, *deed).is_some());
        match bare && !mends && hit.mood == Mood::Told {
            true => Role::Laid,
            false => Role::Nothing,
        }
    }

    /// Whether a word tells the deed itself: `waxed`, `ebonised`.
    pub(super) fn is_deed(&self, hit: &Hit) -> bool {
        let last = &self.line.tokens[hit.at.end - 1];
        is_done(last) || hit.at.clone().any(|at| self.line.tokens[at].word.ends_with("ished"))
    }

    /// Whether a deed of laying stands in the clause before a place, or right behind it: `wax buffed on`.
    pub(super) fn is_applied(&self, clause: &Range<usize>, start: usize) -> bool {
        // `wiped on` lays it.
        let took = clause.clone().any(|at| {
            let took = lists().finish.took.iter().any(|took| self.line.stands(at, took, clause.end));
            took && self.line.word(at + 1) != "on"
        });
        match self.deed(&(clause.start..start), Deed::Apply) {
            Some(at) => {
                !took || at >= self.line.find(clause, &["took", "cleaned", "wiped", "washed"]).unwrap_or(0)
            }
            None => self.deed(&(start..clause.end), Deed::Apply).is_some() && !took,
        }
    }
}
