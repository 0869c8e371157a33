//! What was decided and what was done.

use super::telling::Telling;
use crate::claim::{Claim, Message, Value, says};
use crate::fields::Row;
use crate::record::{Decision, Work};

/// Every piece of work in the order of the record: on which day, to what, what, and how it turned out.
pub(super) fn works(telling: &Telling<'_>) -> Vec<Claim> {
    telling.record.works.iter().map(|work| of_work(telling, work)).collect()
}

fn of_work(telling: &Telling<'_>, work: &Row<Work>) -> Claim {
    let mut said = vec![says!("own-words", said = &work.did)];
    if let Some(outcome) = &work.turned_out {
        said.push(says!("work-turned-out", outcome = Message::word("outcome", outcome.value.word())));
    }
    if let Some(undo) = &work.undo {
        said.push(says!("to-undo", undo = undo));
    }
    let said = Value::Sentences(said);
    let message = match &work.on {
        Some(on) => says!("work-on", day = on.value, said = said),
        None => says!("work", said = said),
    };
    telling.claim(message, work, "work").and_all(telling.part_rows(&work.part))
}

/// Every decision: what was asked, what was chosen of what, and why.
pub(super) fn decisions(telling: &Telling<'_>) -> Vec<Claim> {
    telling.record.decisions.iter().map(|decision| of_decision(telling, decision)).collect()
}

fn of_decision(telling: &Telling<'_>, decision: &Row<Decision>) -> Claim {
    let plans: Vec<Value> = decision.options.iter().map(|option| Value::from(&option.plan)).collect();
    let mut said = Vec::new();
    if !plans.is_empty() {
        said.push(says!("decision-among", plans = Value::OneOf(plans)));
    }
    said.push(says!("decision-chosen", chose = &decision.chose));
    said.extend(decision.because.as_ref().map(|because| says!("decision-because", because = because)));
    telling.claim(says!("decision", ask = &decision.ask, said = Value::Sentences(said)), decision, "decision")
}
