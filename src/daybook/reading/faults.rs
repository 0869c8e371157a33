//! Faults that were seen.

use std::ops::Range;

use super::LineReader;
use super::fixings::is_glue;
use crate::daybook::hits::{Hit, Table};
use crate::daybook::lexicon::Deed;
use crate::daybook::line::Mood;
use crate::daybook::proposal::Proposal;
use crate::daybook::words::{Meant, lists};
use crate::record::day_book::is_done;
use crate::trade::{Taken, TradeRow};

impl LineReader<'_, '_> {
    /// The faults that were seen; their ids, with the clauses that tell them.
    pub(super) fn faults(&mut self) -> Vec<(String, usize)> {
        let mut faults: Vec<(String, usize)> = Vec::new();
        let clauses = self.line.clauses.clone();
        // What broke in our own hands was not found so.
        if self.line.has(&self.all(), &lists().fault.ours) {
            return faults;
        }
        for clause in &clauses {
            let mut here: Vec<(String, Range<usize>, Mood, Option<String>)> = self
                .hits
                .iter()
                .filter(|hit| hit.table == Table::Term && clause.contains(&hit.at.start))
                .filter(|hit| !self.is_finish_too(hit))
                .map(|hit| (hit.id.clone(), hit.at.clone(), hit.mood, hit.ask.clone()))
                .collect();
            // A state and a part together say more than a word for the state.
            if let Some(fault) = self.plain_fault(clause).filter(|_| clause.clone().all(|at| self.told(at))) {
                here = vec![(fault.to_owned(), clause.clone(), Mood::Told, None)];
            }
            if here.is_empty()
                && let Some((id, mood, ask)) = self.fault_of(clause)
            {
                here.push((id, clause.clone(), mood, ask));
            }
            for (mut id, at, mood, mut ask) in here {
                if ["worm", "woodworm"].contains(&id.as_str())
                    && let Some(meant) = self.meant_of(&["flight-holes", "frass"], clause)
                {
                    (id, ask) = (meant, None);
                }
                if ["sticky-finish", "seized"].contains(&id.as_str())
                    && self.line.has(clause, &lists().fault.drawers)
                {
                    id = "sticking-drawer".to_owned();
                }
                let suspected = id.ends_with("suspected");
                if mood > Mood::Doubted && !suspected
                    || faults.iter().any(|(known, _)| *known == id)
                    || self.is_mere_tool(&id, &at)
                    || self.is_put_there(clause, &at)
                    || id == "filled-holes" && self.deed(clause, Deed::Fill).is_some()
                {
                    continue;
                }
                let parts = self.parts_for(at.start);
                let said = self.words_of(clause.clone());
                let mut proposal = Proposal::new("finding", &said)
                    .with("id", self.free_id("finding", &format!("f-{id}")).as_str());
                proposal = self.with_parts(proposal, "part", parts.clone()).with("seen", id.as_str());
                proposal = proposal.with_some("extent", self.state_of(&at));
                if parts.is_empty() {
                    proposal = proposal.asking("on which part?");
                }
                if mood == Mood::Doubted {
                    proposal = proposal.asking("is it so?");
                }
                if let Some(ask) = ask {
                    proposal = proposal.asking(ask);
                }
                faults.push((id, at.start));
                self.out.push(proposal);
            }
        }
        if self
            .line
            .has(&self.all(), &["needs new webbing", "webbing gone", "webbing shot", "webbing has gone"])
            && !faults.iter().any(|(id, _)| id == "webbing-failed")
        {
            let parts = self.parts_for(0);
            let said = self.words_of(self.line.clause(0));
            let proposal = Proposal::new("finding", &said).with("id", "f-webbing-failed");
            let proposal = self.with_parts(proposal, "part", parts).with("seen", "webbing-failed");
            self.out.push(proposal);
            faults.push(("webbing-failed".to_owned(), 0));
        }
        faults
    }

    /// The fault that a clause tells as a whole, where no form of the table stands in it.
    pub(super) fn fault_of(&self, clause: &Range<usize>) -> Option<(String, Mood, Option<String>)> {
        let mood = clause.clone().map(|at| self.line.moods[at]).max()?;
        // `checked square` looked for faults.
        let looked = self.line.tokens[clause.start].is_any(&lists().fault.looked)
            // Nor is a label that is torn, or the odd chair that was sold, a fault.
            || self.line.has(clause, &lists().fault.elsewhere);
        if mood > Mood::Told || clause.len() > 14 || looked {
            return None;
        }
        if let Some(fault) = self.plain_fault(clause) {
            return Some((fault.to_owned(), Mood::Told, None));
        }
        let said: Vec<&str> = clause
            .clone()
            .filter(|at| self.line.tokens[*at].is_word())
            .map(|at| self.line.word(at))
            .collect();
        let phrase = said.join(" ");
        let (taken, by) = self.bench.trade.term_words().understood(&phrase);
        // What was done is no fault, unless the word for it is the fault's own: `split`.
        let done = clause.clone().any(|at| {
            let token = &self.line.tokens[at];
            let after = self.line.word(at + 1);
            // `knocked it out` is a deed, though it leaves a knock.
            let own = by.contains(&token.word) && !lists().fault.deed_after.contains(&after);
            is_done(token) && !token.is_any(&lists().clause.is) && !own
        });
        // Nor is a word that tells a deed: `rubbed 400 first`.
        let deed = |word: &String| {
            Deed::ALL
                .iter()
                .any(|deed| ![Deed::See, Deed::Other].contains(deed) && deed.words().contains(&word.as_str()))
        };
        if done || said.len() > 9 && by.len() < 3 || !by.is_empty() && by.iter().all(deed) {
            return None;
        }
        match taken {
            Taken::Row(row) => {
                let strong = by.len() > 1 || by.is_empty() || self.says_state(clause) || said.len() <= 3;
                let other = by.iter().any(|word| lists().fault.too_general.contains(&word.as_str()));
                (strong && !other).then(|| (row.key().into_owned(), Mood::Told, None))
            }
            Taken::Asked(row)
                if said.len() <= 9
                    && self.deed(clause, Deed::Other).is_none()
                    && !self.line.has(clause, &["new"])
                    && self.first_hit(Table::Finish, clause).is_none()
                    && !by.iter().any(|word| lists().fault.not_asked.contains(&word.as_str())) =>
            {
                let may_be: Vec<&str> = row.may_be.iter().map(|id| id.value.0.as_str()).collect();
                let said = if by.is_empty() { phrase.clone() } else { by.join(" ") };
                Some(match self.meant_of(&may_be, clause) {
                    Some(meant) => (meant, Mood::Told, None),
                    None => (said, Mood::Told, Some(row.ask.value.0.clone())),
                })
            }
            _ => None,
        }
    }

    /// A fault that a word for a state and a part make together: `loose rung`, `top screw snapped`.
    pub(super) fn plain_fault(&self, clause: &Range<usize>) -> Option<&'static str> {
        let has = |said: &[&str]| self.line.has(clause, said);
        if has(&["screw", "screws"]) && has(&["snapped", "sheared", "broke", "broken"]) {
            return Some("sheared-screw");
        }
        let told = |one: &&Meant| has(&one.words);
        if has(&lists().fault.broken)
            && let Some(one) = lists().broken_part.iter().find(told)
        {
            return Some(one.is);
        }
        if self.is_gone(clause) {
            return Some("missing-hardware");
        }
        let loose = has(&lists().fault.loose);
        if !loose || has(&["shook loose", "still loose"]) {
            return None;
        }
        lists().loose_part.iter().find(told).map(|one| one.is)
    }

    /// Whether a clause tells of a fixing that it is gone: `2 shelf pins gone`, and not `screws gone rusty`.
    fn is_gone(&self, clause: &Range<usize>) -> bool {
        let Some(gone) = self.line.find(clause, &lists().fault.gone) else { return false };
        let next = self.line.tokens.get(gone + 1).filter(|next| next.is_word() && gone + 1 < clause.end);
        let ends = next.is_none_or(|next| {
            next.is_any(&lists().tables.noun_after)
                || next.is_any(&lists().parts.which)
                || lists().sides.contains_key(next.word.as_str())
        });
        let fixing = self.first_hit(Table::Fixing, &(clause.start..gone));
        let hardware = |id: &str| {
            !is_glue(id) && !["webbing", "spring", "joint", "tack"].iter().any(|other| id.starts_with(other))
        };
        ends && clause.len() <= 9 && fixing.is_some_and(|hit| hardware(&hit.id))
    }

    /// Which of several faults is meant, where the words around it tell.
    pub(super) fn meant_of(&self, may_be: &[&str], clause: &Range<usize>) -> Option<String> {
        let sentence = self.line.sentence(clause.start);
        if !may_be.contains(&"flight-holes") {
            return None;
        }
        let live = |mood: fn(Mood) -> bool| {
            let told = |at: usize| {
                lists().fault.worm_live.iter().any(|word| self.line.stands(at, word, sentence.end))
            };
            sentence.clone().any(|at| told(at) && mood(self.line.moods[at]))
        };
        // `couldn't see fresh dust` tells of old holes.
        let old = self.line.has(&sentence, &lists().fault.worm_old) || live(|mood| mood == Mood::Denied);
        let fresh = live(|mood| mood < Mood::Denied);
        match (old, fresh) {
            (true, _) => Some("flight-holes".to_owned()),
            (false, true) => Some("frass".to_owned()),
            (false, false) => None,
        }
    }

    /// Whether a clause tells a state by its verb: `sticks`, `is loose`.
    pub(super) fn says_state(&self, clause: &Range<usize>) -> bool {
        self.line.has(clause, &lists().fault.states)
    }

    /// Whether a word of several meanings may be a finish as well: `water stain`.
    fn is_finish_too(&self, hit: &Hit) -> bool {
        let over = |other: &Hit| other.at.start < hit.at.end && hit.at.start < other.at.end;
        hit.ask.is_some() && self.hits.iter().any(|other| other.table == Table::Finish && over(other))
    }

    /// Whether a word for a fault is only one of a remedy or a thing: `filled dent`, `water damage kit`.
    pub(super) fn is_mere_tool(&self, id: &str, at: &Range<usize>) -> bool {
        let after = self.line.word(at.end);
        let before = at.start.checked_sub(1).map_or("", |at| self.line.word(at));
        lists().fault.tool_after.contains(&after)
            || ["screw", "fixing"].contains(&after) && id != "sheared-screw" && id != "stripped-hole"
            || lists().fault.tool_before.contains(&before)
            || (at.start.saturating_sub(2)..at.start)
                .any(|at| self.told(at) && lists().fault.taken.contains(&self.line.word(at)))
            || ["candle-wax"].contains(&id) && self.line.has(&self.all(), &lists().fault.candled)
    }

    /// Whether a clause tells what was put there, and not what was found: `replaced two handles with later ones`, `cut two new
    /// drawer bottoms`.
    fn is_put_there(&self, clause: &Range<usize>, at: &Range<usize>) -> bool {
        let puts = self
            .deed(&(clause.start..at.end), Deed::Replace)
            .or(self.deed(&(clause.start..at.end), Deed::Fit));
        // A fault that the clause tells as a whole stands anywhere in it.
        let before = if at == clause { clause.end } else { at.start };
        let with = puts.is_some_and(|deed| self.line.has(&(deed..before), &["with", "by", "using"]));
        let made = self.told(clause.start) && lists().work.makes.contains(&self.line.word(clause.start));
        with || made && self.line.has(&(clause.start..at.end), &["new", "replacement"])
    }

    /// What is told of a fault's state: old, no dust, not active.
    pub(super) fn state_of(&self, at: &Range<usize>) -> Option<String> {
        let sentence = self.line.sentence(at.start);
        let states = &lists().fault.extents;
        // What is told of a deed is told of no fault: `kept the old ones`, `cut back 60 mm`.
        let of_deed = |place: usize| {
            let here = self.line.clause(place);
            let does = |at: usize| {
                is_done(&self.line.tokens[at]) && !self.line.tokens[at].is_any(&lists().clause.is)
            };
            !here.contains(&at.start) && here.clone().any(does)
        };
        let told: Vec<&str> = states
            .iter()
            .copied()
            .filter(|state| {
                let said = sentence.clone().any(|place| {
                    // `old` may be said of another thing: `moth holes in the old cushion`.
                    let of_another = *state == "old" && {
                        let next = self.line.tokens.get(place + 1).is_some_and(|next| next.is_word());
                        next && place + 1 != at.start
                    };
                    !of_another
                        && self.line.stands(place, state, sentence.end)
                        && self.line.moods[place] == Mood::Told
                        && !of_deed(place)
                });
                said && !at.clone().any(|place| self.line.stands(place, state, at.end))
            })
            .collect();
        let measured = sentence.clone().find_map(|place| {
            let long = self.line.tokens[place].number.is_some()
                && ["mm", "cm", "inch", "inches", "\""].contains(&self.line.word(place + 1));
            // `6 mm ply` is a thing of that size.
            let thing = self.line.tokens.get(place + 2).is_some_and(|next| {
                next.is_word()
                    && !next.is_any(&lists().fault.after_length)
                    && self.line.clause(place).contains(&(place + 2))
            });
            (long && !thing && !of_deed(place)).then(|| self.words_of(place..place + 2))
        });
        let told: Vec<String> = told.into_iter().map(str::to_owned).chain(measured).collect();
        (!told.is_empty()).then(|| told.join(", "))
    }
}
