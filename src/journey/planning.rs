//! Planning a piece: what is to be done, in which order and when, and what would come of it.

use std::sync::Arc;

use chrono::NaiveDate;

use crate::derive::cure::Milestone;
use crate::derive::plan::{Calendar, Deed, Lasting, Need, Plan, TestFor, lasting, needs};
use crate::derive::{self, Implied, Workpiece};
use crate::diag::Diagnostic;
use crate::fields::Row;
use crate::inspect;
use crate::record::{Folder, Piece, Surface};
use crate::trade::Trade;

/// A piece as it is planned.
#[derive(Debug)]
pub struct PlannedPiece {
    /// What is to be done, in its order.
    pub plan: Plan,
    /// When.
    pub calendar: Calendar,
    /// What it needs.
    pub needs: Vec<Need>,
    /// What of it cannot be undone.
    pub lasting: Vec<Lasting>,
    /// What would be wrong if it were done so: what the rules say of the record as it would stand and do not say of it today.
    pub against: Vec<Diagnostic>,
    /// The hazards that it brings.
    pub hazards: Vec<Implied>,
    /// When all of it may be used lightly; `None` where some day is not known.
    pub light_use: Option<Milestone<Row<Surface>>>,
    /// When all of it is hard, where anything on it hardens.
    pub full_cure: Option<Milestone<Row<Surface>>>,
}

/// The plan of a piece, where its record plans anything. `hours` gives those of each task, by its place, from the plan.
pub fn planned(
    (folder, trade): (&Folder, &Trade),
    piece: &Arc<Piece>,
    (from, today): (NaiveDate, NaiveDate),
    hours: impl FnOnce(&Plan) -> Vec<Option<f64>>,
) -> Option<PlannedPiece> {
    let intended = piece.intended.as_ref()?;
    let facts = derive::facts(folder, piece, intended, None, trade);
    let plan = Plan::of(folder, intended, &facts, trade);
    let calendar = plan.calendar(from, (folder, trade), &hours(&plan));
    let done = Piece {
        record: Some(Arc::new(plan.done_by(intended, &calendar))),
        intended: None,
        ..(**piece).clone()
    };
    let before = Workpiece::unopened(folder, piece, trade)?;
    let after = Workpiece::unopened(folder, &Arc::new(done), trade)?;
    // The rules are asked on the day on which all is done, so that no day of the plan is one to come.
    let end = calendar.ends().map_or(today, |end| end.max(today));
    let said = |workpiece: &Workpiece| inspect::at_the_bench(folder, workpiece, trade, end);
    let known = said(&before);
    let same = |one: &Diagnostic, other: &Diagnostic| {
        one.code.name == other.code.name && one.place == other.place && one.message == other.message
    };
    let mut against = said(&after);
    // Tests that the plan adds are not made yet, so that no rule knows of them.
    let is_tested = plan.tasks.iter().any(|task| matches!(task.deed, Deed::Test(TestFor::Lead, _)));
    against.retain(|found| !(is_tested && found.code.name == inspect::TEST_NOT_DECLARED));
    against.retain(|found| !known.iter().any(|other| same(found, other)));
    let hazards = after.facts.hazards.iter().filter(|hazard| {
        let known = before.facts.hazards.iter().find(|known| known.subject == hazard.subject);
        known.is_none_or(|known| hazard.because.iter().any(|because| !known.because.contains(because)))
    });
    let whole = calendar.undated.is_empty() && plan.circles.is_empty();
    let cure = after.facts.cure.as_ref().filter(|_| whole);
    Some(PlannedPiece {
        needs: needs(intended, &facts),
        lasting: lasting(&plan.tasks),
        hazards: hazards.cloned().collect(),
        light_use: cure.map(|cure| cure.light_use.clone()),
        full_cure: cure.and_then(|cure| cure.full_cure.clone()),
        against,
        plan,
        calendar,
    })
}
