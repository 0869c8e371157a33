//! What tasks, steps and parts are called.

use super::Told;
use crate::derive::plan::{Deed, Task, TestFor};
use crate::fields;
use crate::record::{Act, Part, PartId, Planned, Step, Surface};
use crate::unit::legible::one_line;

impl Told<'_> {
    /// A task in a few words.
    pub(super) fn name(&self, task: &Task) -> String {
        match &task.deed {
            Deed::TakeOff(part) => format!("Take off {}", one_line(&part.name)),
            Deed::PutBack(part) if part.is_planned() => format!("Fit {}", one_line(&part.name)),
            Deed::PutBack(part) => format!("Put back {}", one_line(&part.name)),
            Deed::Make(part) => format!("Make or get {}", self.part(part)),
            Deed::Test(TestFor::Lead, surface) => {
                format!("Test the old coat for lead: {}", self.surface(surface))
            }
            Deed::Test(TestFor::Solubility, surface) => {
                format!("Try on a hidden spot what dissolves the old coat: {}", self.surface(surface))
            }
            Deed::Work(work) => one_line(&work.did),
            Deed::Step(surface, step) => self.step(surface, step),
        }
    }

    pub(super) fn step(&self, surface: &Surface, step: &Step) -> String {
        let by = step.by.as_ref().map_or(String::new(), |by| format!(", {}", one_line(by)));
        let what = match step.act() {
            Some(Act::Clean(with)) => format!("Clean with {}", one_line(with)),
            Some(Act::Test(of)) => format!("Test for {}", one_line(of)),
            Some(Act::Remove(what)) => match what.layer() {
                Some(layer) => format!("Take off {}", self.trade.finish_name(layer).to_lowercase()),
                None => "Strip to the wood".to_owned(),
            },
            Some(Act::Abrade(grits)) => {
                let grits: Vec<String> = grits.iter().map(|grit| one_line(grit)).collect();
                format!("Rub down, {}", grits.join(", "))
            }
            Some(Act::Apply(_)) => self.coats(step),
            None => "A step that says nothing".to_owned(),
        };
        format!("{what}{by}: {}", self.surface(surface))
    }

    pub(super) fn coats(&self, step: &Step) -> String {
        let what = self.coating(step);
        match step.coat_count() {
            1 => format!("One coat of {what}"),
            several => format!("{several} coats of {what}"),
        }
    }

    /// What a step applies.
    pub(super) fn coating(&self, step: &Step) -> String {
        match &step.apply {
            Some(name) => match name.tin() {
                Some(tin) => format!("{} (tin)", tin.0),
                None => self.trade.finish_name(name).to_lowercase(),
            },
            None => String::new(),
        }
    }

    pub(super) fn surface(&self, surface: &Surface) -> String {
        if let Some(name) = &surface.name {
            return one_line(name);
        }
        let name = |id: &fields::Said<PartId>| {
            let part = self.record.parts.iter().find(|part| part.id.value == id.value);
            part.map_or_else(|| id.value.0.clone(), |part| one_line(&part.name))
        };
        match surface.parts.is_empty() {
            true => "a surface without parts".to_owned(),
            false => surface.parts.iter().map(name).collect::<Vec<_>>().join(", "),
        }
    }

    pub(super) fn part(&self, part: &Part) -> String {
        let name = one_line(&part.name);
        let size = part.size.as_ref().map(|size| {
            let sides = [&size.length, &size.width, &size.thick, &size.diameter];
            let sides: Vec<String> =
                sides.into_iter().flatten().map(|side| format!("{:.0}", side.mm())).collect();
            format!(" {} mm", sides.join(" × "))
        });
        format!("{name}{}", size.unwrap_or_default())
    }
}
