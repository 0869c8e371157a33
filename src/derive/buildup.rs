//! The layers on a surface today, folded from its steps.
//!
//! Applying adds a layer, removing takes layers away, and everything that was
//! taken away again is kept beside them: rework is part of the record.

use chrono::NaiveDate;

use crate::fields::Said;
use crate::record::{Act, Step, Surface, Tin};
use crate::trade::{Finish, Layer, Trade};

/// What was put on: a family of the trade, perhaps out of a tin of the workshop.
#[derive(Debug, Clone, Copy)]
pub struct Coating<'a> {
    /// The finish family.
    pub finish: &'a Finish,
    /// The workshop's tin, where one was named.
    pub tin: Option<&'a Tin>,
}

/// Finds what `apply` or `remove` names: a family's id, or `tin:` and a tin's id.
///
/// `None` where no such family or tin is known.
pub fn coating<'a>(name: &str, tins: &'a [Said<Tin>], trade: &'a Trade) -> Option<Coating<'a>> {
    match name.strip_prefix("tin:") {
        Some(id) => {
            let tin = tins.iter().map(|tin| &tin.value).find(|tin| *tin.id.0 == *id)?;
            Some(Coating { finish: trade.finish(&tin.is)?, tin: Some(tin) })
        }
        None => Some(Coating { finish: trade.finish(name)?, tin: None }),
    }
}

/// One layer of a surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Film {
    /// The finish family's id; `None` where the record names none that is known.
    pub finish: Option<String>,
    /// What the papers call it.
    pub name: String,
    /// Where it lies; `None` where its family is not known.
    pub layer: Option<Layer>,
    /// Whether it protects what is below.
    pub protective: bool,
    /// How many coats.
    pub coats: u32,
    /// The day it was begun; `None` for a layer that was there before.
    pub on: Option<NaiveDate>,
    /// The step of the surface that laid it, counted from 0; `None` where it was there before.
    pub step: Option<usize>,
}

/// A layer, and whether it still covers the whole surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Layered {
    /// The layer.
    pub film: Film,
    /// Parts it has been taken off again, or that it was laid on alone; empty where it covers all.
    pub gone_from: Vec<String>,
    /// Parts it was laid on, where not on all.
    pub only_on: Vec<String>,
}

/// The build-up of a surface.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Build {
    /// The layers there today, from the wood up.
    pub layers: Vec<Layered>,
    /// Layers that this workshop laid and took off again, in the order they were laid.
    pub undone: Vec<Film>,
    /// Layers found on the piece and taken off.
    pub removed: Vec<Film>,
}

impl Build {
    /// The topmost protective layer, which decides how the surface is cared for.
    pub fn decides_care(&self) -> Option<&Layered> {
        self.layers.iter().rev().find(|layer| layer.film.protective)
    }
}

/// Folds a surface's steps, in the order written, into its layers today.
pub(super) fn build(surface: &Surface, tins: &[Said<Tin>], trade: &Trade) -> Build {
    let mut build = Build::default();
    for found in surface.found.iter() {
        build.layers.push(whole(film(found, 1, None, None, tins, trade)));
    }
    // A record that removes an old finish says by that alone that there was one.
    let removes_old = |step: &Step| matches!(step.act(), Some(Act::Remove(what)) if ***what == *"old-finish");
    if surface.found.is_empty() && surface.steps.iter().any(|step| removes_old(step)) {
        build.layers.push(whole(film("old-finish", 1, None, None, tins, trade)));
    }
    for (index, step) in surface.steps.iter().enumerate() {
        let only: Vec<String> = step.only.iter().map(|part| part.0.clone()).collect();
        match step.act() {
            Some(Act::Apply(what)) => {
                let on = step.on.as_ref().map(|on| on.value);
                let film = film(what, step.coat_count(), on, Some(index), tins, trade);
                build.layers.push(Layered { film, gone_from: Vec::new(), only_on: only });
            }
            Some(Act::Remove(what)) => remove(&mut build, what, &only, surface),
            _ => {}
        }
    }
    build
}

fn whole(film: Film) -> Layered {
    Layered { film, gone_from: Vec::new(), only_on: Vec::new() }
}

fn film(
    name: &str,
    coats: u32,
    on: Option<NaiveDate>,
    step: Option<usize>,
    tins: &[Said<Tin>],
    trade: &Trade,
) -> Film {
    let known = coating(name, tins, trade);
    let tin_name = known.and_then(|known| known.tin).and_then(|tin| tin.name.as_ref());
    let printed = match (tin_name, known) {
        (Some(tin), _) => tin.to_string(),
        (None, Some(known)) => known.finish.name.to_string(),
        (None, None) => name.to_owned(),
    };
    Film {
        finish: known.map(|known| known.finish.id.0.clone()),
        name: printed,
        layer: known.map(|known| known.finish.layer.value),
        protective: known.is_some_and(|known| known.finish.protective.value),
        coats,
        on,
        step,
    }
}

/// Takes away what a removal names: `all` everything, `old-finish` whatever was found on the
/// piece, and any other name the topmost layer of that finish with all that lies on it.
fn remove(build: &mut Build, what: &str, only: &[String], surface: &Surface) {
    let names = |layer: &Layered| {
        let film = &layer.film;
        let bare = what.strip_prefix("tin:").unwrap_or(what);
        film.finish.as_deref() == Some(bare)
            || film.step.is_some_and(
                |step| matches!(surface.steps[step].act(), Some(Act::Apply(applied)) if ***applied == *what),
            )
    };
    let from = match what {
        "all" => 0,
        // The old finish lies below everything, so what was laid on it goes with it.
        "old-finish" => match build.layers.iter().position(|layer| layer.film.step.is_none()) {
            Some(position) => position,
            None => return,
        },
        _ => match build.layers.iter().rposition(names) {
            Some(position) => position,
            None => return,
        },
    };
    if only.is_empty() {
        for layer in build.layers.split_off(from) {
            match layer.film.step {
                Some(_) => build.undone.push(layer.film),
                None => build.removed.push(layer.film),
            }
        }
    } else {
        for layer in &mut build.layers[from..] {
            layer.gone_from.extend(
                only.iter().filter(|part| !layer.gone_from.contains(part)).cloned().collect::<Vec<_>>(),
            );
        }
    }
}
