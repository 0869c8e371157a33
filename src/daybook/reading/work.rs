//! The work that a line tells: its parts, its time, how it turned out.

use rust_decimal::Decimal;
use toml_edit::{Array, Value};

use super::{LineReader, hours};
use crate::daybook::hits::Table;
use crate::daybook::lexicon::outcomes;
use crate::daybook::line::Mood;
use crate::daybook::proposal::{PartSaid, Proposal};
use crate::daybook::words::lists;
use crate::record::Jotting;
use crate::record::day_book::{Duration, Whose, is_done};

impl LineReader<'_, '_> {
    /// A work, where the line tells a deed, a time or how something turned out.
    pub(super) fn work(&mut self, deeds: Vec<String>) {
        let own: Vec<&Duration> = self.durations.iter().filter(|one| one.whose == Whose::Own).collect();
        let minutes: u32 = own.iter().map(|one| one.minutes).sum();
        let about = own.iter().any(|one| one.about);
        let guessed = own.iter().any(|one| one.guessed);
        let parts = self.parts_in(&self.all());
        let done = self.all().any(|at| {
            self.told(at)
                && is_done(&self.line.tokens[at])
                && !self.line.tokens[at].is_any(&lists().work.no_work)
                // `the mortice has opened up` tells a state, and so does the word of a fault.
                && !(at > 0 && self.line.tokens[at - 1].is_any(&lists().work.states))
                && !self.hits.iter().any(|hit| hit.table == Table::Term && hit.at.contains(&at))
        });
        let outcome = outcomes()
            .into_iter()
            .find(|(_, said)| self.outcome(said))
            .map(|(outcome, _)| outcome)
            // What went wrong before is not how this turned out.
            .filter(|_| {
                !self.line.has(&self.all(), &["this time", "second go", "second try", "second attempt"])
            })
            .or_else(|| self.gone_partly());
        if deeds.is_empty() && minutes == 0 && outcome.is_none() && (parts.is_empty() || !done) {
            return;
        }
        let text = self.line.text.clone();
        let did = Jotting::of("", 0..0, None, &text).said.unwrap_or_default();
        let mut proposal = self.dated(Proposal::new("work", &text));
        let mut parts: Vec<PartSaid> = parts.into_iter().filter(|part| self.is_worked_on(part)).collect();
        parts.truncate(6);
        proposal = self.with_parts(proposal, "part", parts);
        proposal = match did.is_empty() {
            true => proposal.asking("what was done?"),
            false => proposal.with("did", did),
        };
        let mends: Vec<String> = self
            .out
            .iter()
            .filter(|one| one.table == "finding" && self.is_mended(one, &deeds))
            .filter_map(|one| one.value("id").and_then(Value::as_str).map(str::to_owned))
            .collect();
        if outcome.is_some() || !mends.is_empty() && !deeds.is_empty() {
            proposal = match &mends[..] {
                [] => proposal,
                several => proposal.with("mends", several.iter().map(String::as_str).collect::<Array>()),
            };
        }
        proposal = proposal.with_some("turned-out", outcome);
        if let Some(label) = deeds.iter().find_map(|id| self.label(id)) {
            proposal = proposal.with("task", label);
        }
        if minutes > 0 {
            proposal = proposal.with("hours", hours(minutes));
            if about {
                proposal = proposal.asking("how long, as exactly as you know?");
            }
            if guessed {
                proposal =
                    proposal.asking(format!("is that {} h {} min of work?", minutes / 60, minutes % 60));
            }
        }
        if self.line.has(&self.all(), &["helped", "helper", "apprentice"]) && minutes > 0 {
            proposal = proposal.asking("does the helper's time count too?");
        }
        proposal.deeds = deeds;
        self.out.push(proposal);
    }

    /// Whether a part was worked on, and not only mentioned: where a label was, or what is all right.
    pub(super) fn is_worked_on(&self, part: &PartSaid) -> bool {
        self.parts.iter().any(|named| {
            let next = self.line.word(named.at.end);
            let then = self.line.word(named.at.end + 1);
            let good = |word: &str| ["ok", "fine", "sound", "good"].contains(&word);
            named.part == *part
                && !good(next)
                && !(["is", "are", "was", "were"].contains(&next) && good(then))
        })
    }

    /// Whether the deeds of a line may have mended a fault that it tells.
    pub(super) fn is_mended(&self, finding: &Proposal, deeds: &[String]) -> bool {
        let seen = finding.value("seen").and_then(Value::as_str).unwrap_or_default();
        // What was only looked at, or left, is not mended.
        let unmendable = &lists().work.unmendable;
        let left = self.line.has(&self.all(), &["leave it", "left it", "leaving it", "for now"]);
        !deeds.is_empty()
            && !unmendable.contains(&seen)
            && !left
            && deeds
                .iter()
                .any(|deed| !["dismantling", "cleaned", "dry-fit", "sanding"].contains(&deed.as_str()))
            || self.out.iter().any(|one| one.table == "surface.steps" && one.value("clean").is_some())
                && lists().work.cleaned_away.contains(&seen)
    }

    pub(super) fn outcome(&self, said: &[&str]) -> bool {
        let all = self.all();
        all.clone().any(|at| {
            let stands = said.iter().any(|word| self.line.stands(at, word, all.end));
            stands
                && self.line.moods[at] != Mood::Planned
                && self.line.moods[at] != Mood::Asked
                && (self.line.moods[at] != Mood::Denied
                    || said.iter().any(|word| {
                        self.line.stands(at, word, all.end)
                            && lists().line.denies.iter().any(|deny| word.starts_with(deny))
                    }))
        })
    }

    /// `80% gone`
    pub(super) fn gone_partly(&self) -> Option<&'static str> {
        self.all().find_map(|at| {
            let number = self.line.tokens[at].number?;
            let part = self.line.word(at + 1) == "%"
                && ["gone", "out", "better", "off"].contains(&self.line.word(at + 2));
            (part && number < Decimal::from(100)).then_some("partly")
        })
    }

    pub(super) fn label(&self, id: &str) -> Option<String> {
        let trade = self.bench.trade;
        let repair = trade.repair_words().form(id).map(|row| row.label.value.0.clone());
        repair.or_else(|| trade.treatment(id).map(|row| row.label.value.0.clone()))
    }
}
