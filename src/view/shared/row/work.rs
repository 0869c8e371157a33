//! A dated act: what was done, how it turned out and how it is undone.

use serde::Serialize;

use crate::claim::{Message, says};
use crate::derive::seen;
use crate::fields::Row;
use crate::record::{Outcome, Work};
use crate::view::context::PieceContext;
use crate::view::names::{finding_anchor, work_anchor};
use crate::view::shared::link::Link;
use crate::view::shared::photograph::Pointers;
use crate::words::sentence;

/// A dated act.
#[derive(Debug, Clone, Serialize)]
pub struct WorkRow {
    /// Its number on the page.
    pub number: usize,
    /// Its id on the page.
    pub anchor: String,
    /// The day; empty where not recorded.
    pub day: String,
    /// What was done.
    pub did: String,
    /// The parts worked on; may be empty.
    pub parts: String,
    /// Why; may be empty.
    pub why: String,
    /// By what means; may be empty.
    pub by: String,
    /// The findings it mends.
    pub mends: Vec<Link>,
    /// The earlier work that it did again.
    pub redoes: Option<Link>,
    /// The later work that did it again.
    pub redone_by: Option<Link>,
    /// How it turned out; empty where not recorded.
    pub outcome: String,
    /// Whether it did not hold.
    pub failed: bool,
    /// How it can be undone; may be empty.
    pub undo: String,
    /// The marks on photographs that point at it.
    pub marks: Vec<Link>,
    /// The row of the record, for what follows from it.
    #[serde(skip)]
    pub row: Row<Work>,
}

pub(super) fn work_row(
    context: &PieceContext<'_>,
    index: usize,
    work: &Row<Work>,
    pointers: &Pointers<'_>,
) -> WorkRow {
    let words = context.house.words();
    let redone_by = work.id.as_ref().and_then(|id| {
        let works = context.record.works.iter().enumerate();
        works
            .filter(|(_, later)| later.redoes.as_ref().is_some_and(|redone| redone.value == id.value))
            .map(|(index, later)| Link { anchor: work_anchor(index + 1), text: later.did.to_string() })
            .next()
    });
    let undo = match (&work.undo, &work.undoable) {
        (Some(undo), Some(undoable)) => {
            let can = Message::word("undoable", undoable.value.word());
            words.say(&says!("undo-how", can = can, how = words.said(undo)))
        }
        (Some(undo), None) => words.said(undo),
        (None, Some(undoable)) => words.word("undoable", undoable.value.word()),
        (None, None) => String::new(),
    };
    WorkRow {
        number: index + 1,
        anchor: work_anchor(index + 1),
        marks: pointers.to(|mark| {
            mark.work.as_ref().zip(work.id.as_ref()).is_some_and(|(named, id)| named.value == id.value)
        }),
        day: work.on.as_ref().map_or(String::new(), |on| words.day(on.value)),
        did: sentence(&work.did),
        parts: context.names.parts(&work.part),
        why: words.said_or_nothing(work.why.as_ref()),
        by: words.said_or_nothing(work.by.as_ref()),
        mends: work
            .mends
            .iter()
            .filter_map(|id| context.names.finding(id))
            .map(|number| Link {
                anchor: finding_anchor(number),
                text: words.said(&seen(&context.record.findings[number - 1].seen, context.trade)),
            })
            .collect(),
        redoes: work.redoes.as_ref().and_then(|id| context.names.work(id)).map(|number| Link {
            anchor: work_anchor(number),
            text: context.record.works[number - 1].did.to_string(),
        }),
        redone_by,
        outcome: work
            .turned_out
            .as_ref()
            .map_or(String::new(), |outcome| words.word("outcome", outcome.value.word())),
        failed: work.turned_out.as_ref().is_some_and(|outcome| outcome.value == Outcome::Failed),
        undo: sentence(&undo),
        row: work.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::view::shared::photograph::Sees;
    use crate::view::testing::shown;

    fn of(works: &str) -> Vec<WorkRow> {
        shown(&format!("work = [{works}]"), "", |context| {
            let pointers = Pointers::of(context, Sees::Public);
            let works = context.record.works.iter().enumerate();
            works.map(|(index, work)| work_row(context, index, work, &pointers)).collect()
        })
    }

    #[test]
    fn work_that_was_done_again_points_both_ways() {
        let rows = of("{ id = \"first\", did = \"glued it\", turned-out = \"failed\" }, \
             { did = \"glued it again\", redoes = \"first\", turned-out = \"well\" }");
        let again = rows[0].redone_by.as_ref().expect("it was done again");
        assert_eq!((again.anchor.as_str(), again.text.as_str()), ("work-2", "glued it again"));
        assert_eq!(rows[1].redoes.as_ref().expect("it says so").anchor, "work-1");
        assert_eq!((rows[0].failed, rows[1].failed), (true, false));
        assert!(rows[1].redone_by.is_none() && rows[0].redoes.is_none());
    }

    #[test]
    fn whether_and_how_it_is_undone_are_said_together() {
        let undo = |keys: &str| of(&format!("{{ did = \"x\"{keys} }}"))[0].undo.clone();
        assert_eq!(undo(", undoable = \"yes\", undo = \"warm it\""), "Can be undone: warm it.");
        assert_eq!(undo(", undo = \"warm it\""), "Warm it.");
        assert_eq!(undo(", undoable = \"no\""), "Cannot be undone.");
        assert_eq!(undo(""), "");
    }
}
