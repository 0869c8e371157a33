//! What a plan needs, and what of it lasts.

use super::super::facts::Facts;
use super::super::finish::coverage::Quantity;
use super::task::{Deed, Task};
use crate::fields::Row;
use crate::record::{Act, Fixing, Part, Planned, Record, Step, Surface, Undoable, Work};

/// Something that a plan needs.
#[derive(Debug, Clone, PartialEq)]
pub enum Need {
    /// A coating, for one step.
    Coating {
        /// The surface.
        surface: Row<Surface>,
        /// The step.
        step: Row<Step>,
        /// How much; `None` where nothing says what a litre covers, or how large the surface is.
        quantity: Option<Box<Quantity>>,
    },
    /// Fixings.
    Fixing(Row<Fixing>),
    /// A part, or what it is made from.
    Part(Row<Part>),
}

/// What a plan needs: coatings first, in the order of the record.
pub fn needs(intended: &Record, facts: &Facts) -> Vec<Need> {
    let coatings = facts.surfaces.iter().flat_map(|of| {
        let planned = of.consumption.for_archive().iter().filter(|used| used.step.is_planned());
        planned.map(|used| Need::Coating {
            surface: of.surface.clone(),
            step: used.step.clone(),
            quantity: used.quantity.clone().ok().map(Box::new),
        })
    });
    let fixings = intended.fixings.iter().filter(|row| row.is_planned()).cloned().map(Need::Fixing);
    let parts = intended.parts.iter().filter(|row| row.is_planned()).cloned().map(Need::Part);
    coatings.chain(fixings).chain(parts).collect()
}

/// Something of a plan that cannot be taken back.
#[derive(Debug, Clone, PartialEq)]
pub enum Lasting {
    /// A work of which the record says so; of a work that is silent nothing is known.
    Work(Row<Work>, Undoable),
    /// A coat that comes off.
    Removed(Row<Surface>, Row<Step>),
    /// Wood or a coat that is rubbed away.
    Abraded(Row<Surface>, Row<Step>),
}

/// What of a plan cannot be undone afterwards, in its order.
pub fn lasting(tasks: &[Task]) -> Vec<Lasting> {
    let of = |task: &Task| match &task.deed {
        Deed::Work(work) => {
            let undoable = work.undoable.as_ref().map(|undoable| undoable.value)?;
            (undoable != Undoable::Yes).then(|| Lasting::Work(work.clone(), undoable))
        }
        Deed::Step(surface, step) => match step.act()? {
            Act::Remove(_) => Some(Lasting::Removed(surface.clone(), step.clone())),
            Act::Abrade(_) => Some(Lasting::Abraded(surface.clone(), step.clone())),
            _ => None,
        },
        _ => None,
    };
    tasks.iter().filter_map(of).collect()
}
