//! Hours and costs of one piece; for the archive alone.

use std::collections::BTreeMap;

use crate::record::Record;
use crate::unit::{Hours, Money};

/// What a piece took and cost.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ledger {
    /// All hours; `None` where the record says none.
    pub hours: Option<Hours>,
    /// Whether the hours are one estimate rather than a sum of dated work.
    pub estimated: bool,
    /// Hours by task, sorted by task; work without a task stands under "other work".
    pub by_task: Vec<(String, Hours)>,
    /// What was paid for the piece.
    pub paid: Option<Money>,
    /// What else it cost.
    pub costs: Money,
}

impl Ledger {
    /// Everything that was spent.
    pub fn spent(&self) -> Money {
        [self.paid.unwrap_or_default(), self.costs].into_iter().sum()
    }
}

/// Adds up a record's hours and costs.
///
/// Hours on work entries are summed; the record's own total counts only where no
/// entry has hours, since adding both would count the same work twice.
pub(super) fn ledger(record: &Record) -> Ledger {
    let mut by_task: BTreeMap<String, Vec<Hours>> = BTreeMap::new();
    for work in &record.works {
        if let Some(hours) = work.hours.for_archive() {
            let task = work.task.as_ref().map_or("other work", |task| task);
            by_task.entry(task.to_owned()).or_default().push(hours.value);
        }
    }
    let summed = !by_task.is_empty();
    let estimate = record.hours.for_archive().as_ref().map(|hours| hours.value);
    let hours = if summed { Some(by_task.values().flatten().copied().sum()) } else { estimate };
    let found = record.found.for_archive().as_ref();
    Ledger {
        hours,
        estimated: !summed && estimate.is_some(),
        by_task: by_task.into_iter().map(|(task, hours)| (task, hours.into_iter().sum())).collect(),
        paid: found.and_then(|found| found.paid.as_ref()).map(|paid| paid.value),
        costs: record.costs.for_archive().iter().map(|cost| cost.amount.value).sum(),
    }
}
