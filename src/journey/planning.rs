//! Planning a piece: what is to be done, in which order and when, and what would come of it.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::NaiveDate;
use rust_decimal::Decimal;

use crate::derive::cure::Milestone;
use crate::derive::plan::{
    Calendar, Cutting, Deed, Lasting, Need, Opening, Plan, TestFor, Way, chosen, cutting, lasting, needs,
    passages, ways, with_jotted,
};
use crate::derive::{self, Implied, Movement, Originality, Workpiece};
use crate::diag::{Diagnostic, Place};
use crate::fields::Row;
use crate::inspect;
use crate::record::{Folder, Part, Piece, Planned, Record, Surface};
use crate::trade::{Agent, Rating, Trade};
use crate::unit::Money;

/// What follows if one way of a decision is taken, of the plan as a whole.
#[derive(Debug)]
pub struct WayTaken {
    /// The way.
    pub way: Way,
    /// What is then to be done.
    pub plan: Plan,
    /// What the coats that are then laid take out of tins, from the least to the most, as far as that is known.
    pub coats: (Money, Money),
    /// Of how many coatings that is not known.
    pub coats_unknown: usize,
    /// What of it cannot be undone.
    pub lasting: Vec<Lasting>,
    /// How much of the piece is then as first made.
    pub originality: Originality,
    /// What its surfaces then bear at the worst.
    pub marks: Vec<(Agent, Rating)>,
}

/// A piece as it is planned.
#[derive(Debug)]
pub struct PlannedPiece {
    /// The record as it is intended, with the ways that were chosen.
    pub intended: Record,
    /// The ways of decisions for which something is planned.
    pub ways: Vec<WayTaken>,
    /// What is to be done, in its order.
    pub plan: Plan,
    /// When.
    pub calendar: Calendar,
    /// What it needs.
    pub needs: Vec<Need>,
    /// What its parts are cut from.
    pub cutting: Cutting,
    /// How far its parts move across their grain in the buyer's room, where that is known.
    pub moving: Vec<(Row<Part>, Movement)>,
    /// What must pass an opening, and how it does.
    pub openings: Vec<Opening>,
    /// What of it cannot be undone.
    pub lasting: Vec<Lasting>,
    /// Where the lines of the day book stand that it takes for tasks, by where their rows begin.
    pub jotted: BTreeMap<usize, Place>,
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
    let record = piece.intended.as_ref().or(piece.record.as_ref())?;
    let jotted = with_jotted(folder, piece, record, trade);
    if piece.intended.is_none() && jotted.lines.is_empty() {
        return None;
    }
    let ways = ways(&jotted.record).into_iter();
    let ways = ways.map(|way| taken((folder, trade), piece, way)).collect();
    let intended = chosen(&jotted.record);
    let facts = derive::facts(folder, piece, &intended, None, trade);
    let plan = Plan::of(folder, &intended, &facts, trade);
    let calendar = plan.calendar(from, (folder, trade), &hours(&plan));
    let done = Piece {
        record: Some(Arc::new(plan.done_by(&intended, &calendar))),
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
    for found in &mut against {
        if let Some(line) = found.place.span.and_then(|(start, _)| jotted.lines.get(&start)) {
            found.place = line.clone();
        }
    }
    let hazards = after.facts.hazards.iter().filter(|hazard| {
        let known = before.facts.hazards.iter().find(|known| known.subject == hazard.subject);
        known.is_none_or(|known| hazard.because.iter().any(|because| !known.because.contains(because)))
    });
    let whole = calendar.undated.is_empty() && plan.circles.is_empty();
    let cure = after.facts.cure.as_ref().filter(|_| whole);
    let moving = facts.parts.iter().filter(|of| of.part.is_planned());
    let moving = moving.filter_map(|of| Some((of.part.clone(), of.movement.clone()?.ok()?)));
    Some(PlannedPiece {
        cutting: cutting(folder, &intended, trade),
        moving: moving.collect(),
        openings: passages(&intended),
        needs: needs(&intended, &facts),
        lasting: lasting(&plan.tasks),
        hazards: hazards.cloned().collect(),
        light_use: cure.map(|cure| cure.light_use.clone()),
        full_cure: cure.and_then(|cure| cure.full_cure.clone()),
        against,
        plan,
        calendar,
        ways,
        intended,
        jotted: jotted.lines,
    })
}

/// What follows if a way is taken.
fn taken((folder, trade): (&Folder, &Trade), piece: &Piece, way: Way) -> WayTaken {
    let facts = derive::facts(folder, piece, &way.record, None, trade);
    let plan = Plan::of(folder, &way.record, &facts, trade);
    let (mut least, mut most, mut coats_unknown) = (Decimal::ZERO, Decimal::ZERO, 0);
    for need in needs(&way.record, &facts) {
        let Need::Coating { quantity, .. } = need else { continue };
        match quantity.and_then(|quantity| quantity.cost) {
            Some((low, high)) => (least, most) = (least + low.0, most + high.0),
            None => coats_unknown += 1,
        }
    }
    let faces = || facts.surfaces.iter().flat_map(|of| &of.faces);
    let worst =
        |agent: &Agent| (*agent, faces().map(|face| face.worst(*agent)).max().unwrap_or(Rating::None));
    WayTaken {
        lasting: lasting(&plan.tasks),
        coats: (Money(least), Money(most)),
        coats_unknown,
        marks: if faces().next().is_none() { Vec::new() } else { Agent::ALL.iter().map(worst).collect() },
        originality: facts.originality,
        plan,
        way,
    }
}
