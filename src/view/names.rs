//! What the ids of a record stand for on a page: names, numbers and anchors.

use std::collections::BTreeMap;

use crate::derive::seen;
use crate::fields::Said;
use crate::record::{FindingId, Mark, PartId, Record, WorkId};
use crate::trade::Trade;
use crate::words::{Words, capital};

/// A record's ids, looked up once.
pub(super) struct Names<'a> {
    parts: BTreeMap<&'a str, (usize, &'a str)>,
    findings: BTreeMap<&'a str, (usize, String)>,
    works: BTreeMap<&'a str, (usize, &'a str)>,
    patches: BTreeMap<&'a str, (&'a PartId, &'a str)>,
    words: &'a Words,
}

impl<'a> Names<'a> {
    pub(super) fn of(record: &'a Record, trade: &Trade, words: &'a Words) -> Self {
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
        let patches = record.patches.iter().filter_map(|patch| {
            let id = patch.id.as_ref()?;
            Some((id.0.as_str(), (&patch.part.value, patch.what.0.as_str())))
        });
        Names {
            parts: parts.collect(),
            findings: findings.collect(),
            works: works.collect(),
            patches: patches.collect(),
            words,
        }
    }

    /// The name of a part; the id itself where there is no such part.
    pub(super) fn part(&self, id: &PartId) -> String {
        self.parts.get(id.0.as_str()).map_or_else(|| id.0.clone(), |(_, name)| (*name).to_owned())
    }

    /// The names of several parts, joined as a sentence joins them.
    pub(super) fn parts(&self, ids: &[Said<PartId>]) -> String {
        self.words.list(&ids.iter().map(|id| self.part(id)).collect::<Vec<_>>())
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
            said.push(capital(seen));
            anchor = finding_anchor(*number);
        }
        let patch = mark.patch.as_ref().and_then(|id| self.patches.get(id.0.as_str()));
        said.extend(patch.map(|(_, what)| capital(what)));
        let named = mark.part.as_ref().map(|part| &part.value);
        let on = named.or_else(|| patch.map(|(part, _)| *part));
        said.extend(on.map(|part| self.part(part)));
        if let Some((number, did)) = mark.work.as_ref().and_then(|id| self.works.get(id.0.as_str())) {
            said.push(capital(did));
            if anchor.is_empty() {
                anchor = work_anchor(*number);
            }
        }
        let part = on.and_then(|id| self.parts.get(id.0.as_str()));
        if let (Some((number, _)), true) = (part, anchor.is_empty()) {
            anchor = part_anchor(*number);
        }
        if let Some(note) = &mark.note {
            said.push(note.to_string());
        }
        (said.join(": "), anchor)
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
