//! What came of mending what was found.

use crate::fields::Row;
use crate::record::{Finding, Outcome, Record, Work};

/// What came of mending something; the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mending {
    /// It holds, as far as the record says.
    Held,
    /// It turned out only in part.
    Partly,
    /// It failed.
    Failed,
}

/// The work that mends a finding, and the best that came of it; `None` where no work does.
pub fn mending<'a>(record: &'a Record, finding: &Finding) -> (Vec<&'a Row<Work>>, Option<Mending>) {
    let mends = |work: &&Row<Work>| work.mends.iter().any(|mended| mended.value == finding.id.value);
    let works: Vec<&Row<Work>> = record.works.iter().filter(mends).collect();
    let best = works.iter().map(|work| in_the_end(record, work)).min();
    (works, best)
}

/// How a piece of work turned out, or else the last that did it again.
fn in_the_end(record: &Record, work: &Row<Work>) -> Mending {
    let mut last = work;
    // A record may send them round in a circle.
    for _ in 0..record.works.len() {
        let redoes = |later: &&Row<Work>| {
            let redone = later.redoes.as_ref().map(|redone| &redone.value);
            redone.is_some() && redone == last.id.as_ref().map(|id| &id.value)
        };
        match record.works.iter().find(redoes) {
            Some(later) => last = later,
            None => break,
        }
    }
    match last.turned_out.as_ref().map(|outcome| outcome.value) {
        Some(Outcome::Partly) => Mending::Partly,
        Some(Outcome::Failed) => Mending::Failed,
        Some(Outcome::Well | Outcome::Unknown) | None => Mending::Held,
    }
}
