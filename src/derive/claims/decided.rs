//! What was decided: what was asked, which way was taken and why, and what spoke for and against the others.

use super::telling::Telling;
use crate::claim::{Claim, Message, says};
use crate::fields::Row;
use crate::record::{Choice, Decision};

/// A decision.
#[derive(Debug, Clone)]
pub struct Decided {
    /// What was asked, and the way taken with its reason.
    pub chosen: Claim,
    /// The ways that were not taken, a line each.
    pub others: Vec<Claim>,
}

/// Every decision, in the order of the record.
pub(super) fn decided(telling: &Telling<'_>) -> Vec<Decided> {
    telling.record.decisions.iter().map(|decision| of_decision(telling, decision)).collect()
}

fn of_decision(telling: &Telling<'_>, decision: &Row<Decision>) -> Decided {
    let (ask, chose) = (&decision.ask, &decision.chose);
    let message = match &decision.because {
        Some(because) => says!("decided-because", ask = ask, chose = chose, because = because),
        None => says!("decided", ask = ask, chose = chose),
    };
    let others = decision.options.iter().filter(|choice| choice.plan.value != decision.chose.value);
    Decided {
        chosen: telling.claim(message, decision, "decision"),
        others: others.map(|choice| telling.claim(weighed(choice), decision, "decision")).collect(),
    }
}

/// A way that was not taken, with what spoke for it and against it.
fn weighed(choice: &Choice) -> Message {
    let plan = &choice.plan;
    match (&choice.r#for, &choice.against) {
        (Some(pro), Some(against)) => says!("weighed-both", plan = plan, pro = pro, against = against),
        (Some(pro), None) => says!("weighed-for", plan = plan, pro = pro),
        (None, Some(against)) => says!("weighed-against", plan = plan, against = against),
        (None, None) => says!("weighed", plan = plan),
    }
}
