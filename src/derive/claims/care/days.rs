//! The days that an owner keeps.

use super::super::finishes::surface_name;
use super::super::telling::Telling;
use crate::claim::{Basis, Claim, Value, says};
use crate::derive::finish::upkeep::{Due, UpkeepTask};
use crate::fields::Row;
use crate::record::Surface;

/// A day that an owner keeps, and what for.
#[derive(Debug, Clone)]
pub struct DayKept {
    /// The day.
    pub due: Due,
    /// What it is kept for.
    pub claim: Claim,
}

/// The days that an owner keeps; what came about before it left is nothing to keep.
pub(super) fn days(telling: &Telling<'_>) -> Vec<DayKept> {
    let surfaces = &telling.facts.surfaces;
    let of = |surface: &Row<Surface>| surfaces.iter().find(|facts| facts.surface.is(surface));
    let claim = |task: &UpkeepTask| {
        let claim = match task {
            UpkeepTask::LightUse(surface) | UpkeepTask::FullCure(surface) => {
                let name = surface_name(telling, of(surface)?);
                let said = Value::Sentences(vec![says!("day-no-promise")]);
                let message = match task {
                    UpkeepTask::LightUse(_) => says!("day-light-use", surface = name, said = said),
                    _ => says!("day-full-cure", surface = name, said = said),
                };
                telling.claim(message, surface, "surface")
            }
            UpkeepTask::Renewing(surface) => {
                let facts = of(surface)?;
                let finish = telling.trade.finish(facts.faces.first()?.renewal.as_deref().ok()?)?;
                let mut said = vec![says!("care-renew-text", text = &finish.renew)];
                if finish.rags_self_heat.value {
                    said.push(says!("care-renew-cloths"));
                }
                let name = surface_name(telling, facts);
                let message = says!("day-renewing", surface = name, said = Value::Sentences(said));
                telling.claim(message, surface, "surface").and(Basis::table("finish", finish.id.0.clone()))
            }
            UpkeepTask::Fixings => match &telling.record.handover {
                Some(handover) => Claim::new(says!("day-fixings"), telling.ground.said(handover, "handover")),
                None => Claim::new(says!("day-fixings"), telling.ground.unsaid("handover")),
            },
        };
        Some(claim)
    };
    let kept = |due: &Due| Some(DayKept { claim: claim(&due.task)?, due: due.clone() });
    let ahead =
        |due: &&Due| due.every_months.is_some() || telling.handed_over.is_none_or(|left| left < due.on);
    telling.facts.upkeep.due.iter().filter(ahead).filter_map(kept).collect()
}
