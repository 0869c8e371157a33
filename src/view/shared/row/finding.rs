//! Something observed, and what became of it.

use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::{Mending, all_is_well, mending, seen, taken_away};
use crate::record::Finding;
use crate::view::context::PieceContext;
use crate::view::names::{finding_anchor, work_anchor};
use crate::view::shared::link::Link;
use crate::view::shared::photograph::Pointers;
use crate::words::capital;

/// Something observed.
#[derive(Debug, Clone, Serialize)]
pub struct FindingRow {
    /// Its number on the page.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// What is seen.
    pub seen: String,
    /// What the word means; empty for free words.
    pub meaning: String,
    /// Where.
    pub parts: String,
    /// How far it goes; may be empty.
    pub extent: String,
    /// How much it matters; may be empty.
    pub severity: String,
    /// A guess at the cause, with its confidence; may be empty.
    pub cause: String,
    /// What became of it.
    pub outcome: String,
    /// Whether it was mended, left, or neither.
    pub settled: Settled,
    /// The work that mended it.
    pub mended_by: Vec<Link>,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
}

/// What became of a finding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Settled {
    /// Some work mends it.
    Mended,
    /// It was left, and the record says why.
    Left,
    /// It went with its part, which was taken away.
    Gone,
    /// All was well there.
    Well,
    /// The record does not say.
    NotSaid,
}

pub(super) fn finding_row(
    context: &PieceContext<'_>,
    index: usize,
    finding: &Finding,
    pointers: &Pointers<'_>,
) -> FindingRow {
    let (words, id) = (context.house.words(), &finding.id.value);
    let mended_by: Vec<Link> = context
        .record
        .works
        .iter()
        .enumerate()
        .filter(|(_, work)| work.mends.iter().any(|mended| mended.value == *id))
        .map(|(index, work)| Link { anchor: work_anchor(index + 1), text: work.did.to_string() })
        .collect();
    let left = context.record.undone.iter().find(|undone| undone.leaves.iter().any(|left| left.value == *id));
    let (settled, outcome) = match (mending(context.record, finding).1, left) {
        _ if taken_away(context.record, &finding.part) => (Settled::Gone, says!("settled-gone")),
        (Some(Mending::Held), None) => (Settled::Mended, says!("settled-mended")),
        (Some(Mending::Held), Some(_)) => (Settled::Left, says!("settled-partly-left")),
        (Some(Mending::Partly), _) => (Settled::Left, says!("settled-partly")),
        (Some(Mending::Failed), _) => (Settled::Left, says!("settled-failed")),
        (None, Some(undone)) => {
            (Settled::Left, says!("settled-left", why = Message::word("why", undone.why.value.word())))
        }
        (None, None) if all_is_well(&finding.seen, context.trade) => {
            (Settled::Well, says!("settled-nothing-to-mend"))
        }
        (None, None) => (Settled::NotSaid, says!("settled-not-said")),
    };
    let term = context.trade.term(&finding.seen);
    FindingRow {
        number: index + 1,
        anchor: finding_anchor(index + 1),
        marks: pointers.to(|mark| mark.finding.as_ref().is_some_and(|named| named.value == *id)),
        seen: capital(&words.said(&seen(&finding.seen, context.trade))),
        meaning: term.map_or(String::new(), |term| term.meaning.to_string()),
        parts: context.names.parts(&finding.part),
        extent: words.said_or_nothing(finding.extent.as_ref()),
        severity: finding
            .severity
            .as_ref()
            .map_or(String::new(), |severity| words.word("severity", severity.value.word())),
        cause: finding.cause.as_ref().map_or(String::new(), |cause| {
            let sure = Message::word("confidence", cause.confidence.value.word());
            words.say(&says!("cause", guess = words.said(&cause.guess), sure = sure))
        }),
        outcome: words.say(&outcome),
        settled,
        mended_by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    fn of(record: &str) -> FindingRow {
        let finding = "finding = [{ id = \"gap\", seen = \"a gap\" }]\n";
        shown(&format!("{finding}{record}"), "", |context| {
            let pointers = Pointers::of(context, Sees::Public);
            finding_row(context, 0, &context.record.findings[0], &pointers)
        })
    }

    #[test]
    fn what_became_of_it_is_said_and_never_guessed() {
        let mended = "work = [{ did = \"filled it\", mends = [\"gap\"] }]\n";
        let left = "undone = [{ what = \"the gap\", why = \"not-needed\", leaves = [\"gap\"] }]\n";
        let became = |record: &str| {
            let row = of(record);
            (row.settled, row.outcome, row.mended_by.len())
        };
        assert_eq!(became(mended), (Settled::Mended, "mended".to_owned(), 1));
        assert_eq!(became(left), (Settled::Left, "left: no mending was needed".to_owned(), 0));
        assert_eq!(
            became(&format!("{mended}{left}")),
            (Settled::Left, "mended in part, and in part left".to_owned(), 1)
        );
        assert_eq!(became(""), (Settled::NotSaid, "what became of it is not recorded".to_owned(), 0));
    }
}
