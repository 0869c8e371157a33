//! What the ids of a record stand for on a page: names, numbers and anchors.

use std::collections::BTreeMap;

use super::words;
use crate::fields::{Said, Text};
use crate::record::{Answer, FindingId, Mark, Part, PartId, Record, WorkId};
use crate::trade::{Trade, in_text};

/// A record's ids, looked up once.
pub(super) struct Names<'a> {
    parts: BTreeMap<&'a str, (usize, &'a str)>,
    findings: BTreeMap<&'a str, (usize, String)>,
    works: BTreeMap<&'a str, (usize, &'a str)>,
}

impl<'a> Names<'a> {
    pub(super) fn of(record: &'a Record, trade: &Trade) -> Self {
        let parts = record
            .parts
            .iter()
            .enumerate()
            .map(|(index, part)| (part.id.0.as_str(), (index + 1, part.name.0.as_str())));
        let findings = record
            .findings
            .iter()
            .enumerate()
            .map(|(index, finding)| (finding.id.0.as_str(), (index + 1, seen(&finding.seen, trade))));
        let works = record.works.iter().enumerate().filter_map(|(index, work)| {
            let id = work.id.as_ref()?;
            Some((id.0.as_str(), (index + 1, work.did.0.as_str())))
        });
        Names { parts: parts.collect(), findings: findings.collect(), works: works.collect() }
    }

    /// The name of a part; the id itself where there is no such part.
    pub(super) fn part(&self, id: &PartId) -> String {
        self.parts.get(id.0.as_str()).map_or_else(|| id.0.clone(), |(_, name)| (*name).to_owned())
    }

    /// The names of several parts, joined as a sentence joins them.
    pub(super) fn parts(&self, ids: &[Said<PartId>]) -> String {
        words::list(&ids.iter().map(|id| self.part(id)).collect::<Vec<_>>())
    }

    /// The number of a finding, counted from 1.
    pub(super) fn finding(&self, id: &FindingId) -> Option<usize> {
        self.findings.get(id.0.as_str()).map(|(number, _)| *number)
    }

    /// The number of a piece of work, counted from 1.
    pub(super) fn work(&self, id: &WorkId) -> Option<usize> {
        self.works.get(id.0.as_str()).map(|(number, _)| *number)
    }

    /// What a mark points at, in words, and the anchor that says more.
    pub(super) fn mark(&self, mark: &Mark) -> (String, String) {
        let mut said: Vec<String> = Vec::new();
        let mut anchor = String::new();
        if let Some((number, seen)) = mark.finding.as_ref().and_then(|id| self.findings.get(id.0.as_str())) {
            said.push(words::capital(seen));
            anchor = finding_anchor(*number);
        }
        if let Some(part) = mark.part.as_ref() {
            said.push(self.part(part));
        }
        if let Some((number, did)) = mark.work.as_ref().and_then(|id| self.works.get(id.0.as_str())) {
            said.push(words::capital(did));
            if anchor.is_empty() {
                anchor = work_anchor(*number);
            }
        }
        let part = mark.part.as_ref().and_then(|id| self.parts.get(id.0.as_str()));
        if let (Some((number, _)), true) = (part, anchor.is_empty()) {
            anchor = part_anchor(*number);
        }
        if let Some(note) = &mark.note {
            said.push(note.to_string());
        }
        (said.join(": "), anchor)
    }
}

/// What is seen: by the label of its term where the record gives the term's id, and in the record's own words where it
/// does not, since `flaking paint` says more than `flaking`.
pub(super) fn seen(seen: &Text, trade: &Trade) -> String {
    let term = trade.term(seen).filter(|term| term.id.0 == seen.0);
    term.map_or_else(|| words::said(seen), |term| term.label.to_string())
}

/// What the papers call a part; with a count where there are several alike.
pub(super) fn part_name(part: &Part) -> String {
    match part.how_many() {
        1 => part.name.to_string(),
        several => format!("{} (× {several})", part.name.value),
    }
}

/// What the papers call a timber, within a sentence: as typed where that tells no species, so that it says no more.
pub(super) fn timber_name(timber: &Answer, trade: &Trade) -> String {
    let Some(timber) = timber.known() else { return "timber not known".to_owned() };
    match trade.timber(timber) {
        Some(known) if !known.is_generic() => in_text(&known.name),
        Some(_) => in_text(&timber.replace('-', " ")),
        None => timber.replace('-', " "),
    }
}

/// The id of a finding on a page.
pub(super) fn finding_anchor(number: usize) -> String {
    format!("finding-{number}")
}

/// The id of a piece of work on a page.
pub(super) fn work_anchor(number: usize) -> String {
    format!("work-{number}")
}

/// The id of a part on a page.
pub(super) fn part_anchor(number: usize) -> String {
    format!("part-{number}")
}
