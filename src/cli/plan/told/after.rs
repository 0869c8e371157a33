//! What would come of a plan: what lasts, what would be wrong, what it calls to mind, and what it leaves.

use super::Told;
use crate::cli::sheet::{Cell, Row, Table};
use crate::derive::plan::Lasting;
use crate::diag::{Diagnostic, line_and_column};
use crate::record::Undoable;
use crate::unit::legible::one_line;

impl Told<'_> {
    pub(super) fn lasting(&self) -> Table {
        let row = |lasting: &Lasting| {
            let said = match lasting {
                Lasting::Work(work, Undoable::Partly) => format!("{} (in part)", one_line(&work.did)),
                Lasting::Work(work, Undoable::Unknown) => format!("{} (not known)", one_line(&work.did)),
                Lasting::Work(work, _) => one_line(&work.did),
                Lasting::Removed(surface, step) | Lasting::Abraded(surface, step) => self.step(surface, step),
            };
            Row { cells: vec![Cell::Text(said.clone())], told: vec![said] }
        };
        Table {
            name: "lasting",
            heading: "Cannot be undone afterwards: is it all wanted?".to_owned(),
            columns: &["what"],
            rows: self.planned.lasting.iter().map(row).collect(),
            shown: &[],
        }
    }

    pub(super) fn against(&self) -> Table {
        let row = |found: &Diagnostic| {
            let own = found.place.path == self.record_path;
            let source = self.tree.text(&found.place.path).and_then(Result::ok).unwrap_or_default();
            let line = found.place.span.map(|(start, _)| line_and_column(source, start).0);
            let place = match (line, own) {
                (Some(line), true) => format!("line {line}"),
                (Some(line), false) => format!("{}, line {line}", found.place.path),
                (None, _) => String::new(),
            };
            let mut told = vec![format!("{place}\t{} ({})", found.message, found.code.name)];
            if !found.help.is_empty() {
                told.push(format!("\t{}", one_line(&found.help)));
            }
            Row {
                cells: vec![
                    Cell::Text(found.code.name.to_owned()),
                    Cell::maybe(line, Cell::Count),
                    Cell::Text(found.message.clone()),
                    Cell::Text(found.help.clone()),
                ],
                told,
            }
        };
        Table {
            name: "against",
            heading: "What would be wrong if it were done so".to_owned(),
            columns: &["code", "line", "what", "help"],
            rows: self.planned.against.iter().map(row).collect(),
            shown: &[],
        }
    }

    /// Lessons and failures that the tasks call to mind.
    pub(super) fn remembered(&self) -> Table {
        let place = |at: Option<usize>| at.map_or(String::new(), |at| format!("task {}", at + 1));
        let lessons = self.past.lessons.iter().map(|(at, lesson)| Row {
            cells: vec![
                Cell::Text("lesson".to_owned()),
                Cell::maybe(*at, |at| Cell::Count(at + 1)),
                Cell::Text(lesson.lesson.clone()),
                Cell::Text(lesson.piece.number.clone()),
            ],
            told: vec![format!(
                "{}\t{} ({})",
                place(*at),
                one_line(&lesson.lesson),
                one_line(&lesson.piece.number)
            )],
        });
        let failed = self.past.failed.iter().map(|(at, work)| Row {
            cells: vec![
                Cell::Text("failed".to_owned()),
                Cell::Count(at + 1),
                Cell::Text(work.did.clone()),
                Cell::Text(work.piece.number.clone()),
            ],
            told: vec![format!(
                "{}\tfailed before: {} ({})",
                place(Some(*at)),
                one_line(&work.did),
                one_line(&work.piece.number)
            )],
        });
        Table {
            name: "remembered",
            heading: "What was learnt before".to_owned(),
            columns: &["as", "no", "what", "from"],
            rows: lessons.chain(failed).collect(),
            shown: &[],
        }
    }

    /// What is still to be done and has no place in the order.
    pub(super) fn loose(&self) -> Table {
        let (open, lines) = &self.planned.plan.loose;
        let open = open.iter().map(|open| {
            let before =
                open.before.as_ref().map_or(String::new(), |before| format!(", before {}", one_line(before)));
            let what = format!("{}{before}", one_line(&open.what));
            Row { cells: vec![Cell::Text("open".to_owned()), Cell::Text(what.clone())], told: vec![what] }
        });
        let lines = lines.iter().map(|line| {
            let what = one_line(line);
            Row { cells: vec![Cell::Text("day-book".to_owned()), Cell::Text(what.clone())], told: vec![what] }
        });
        Table {
            name: "loose",
            heading: "Also to do, in no order that the record tells".to_owned(),
            columns: &["from", "what"],
            rows: open.chain(lines).collect(),
            shown: &[],
        }
    }
}
