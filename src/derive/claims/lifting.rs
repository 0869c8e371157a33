//! What the piece weighs, and how many people that asks for.

use super::missing::missing;
use super::telling::Telling;
use crate::claim::{Basis, Claim, Message, Value, says};
use crate::derive::load::lifting::{Lifting, Load, TeamSize};

/// From how many kilograms on stairs and corners are spoken of: half of the guidance's lesser figure.
///
/// Source: common practice, no source.
const LIGHT: f64 = 8.0;

/// Weight and people, what comes out first, and the usual cautions.
///
/// # Source
/// *Manual handling at work: a brief guide*, INDG143, Health and Safety Executive, from memory. Of clocks: common practice, no
/// source.
pub(super) fn lifting(telling: &Telling<'_>) -> Vec<Claim> {
    let mut claims = match &telling.facts.lifting {
        Ok(found) => [Some(weight(telling, found)), emptied(telling, found)].into_iter().flatten().collect(),
        Err(why) => {
            vec![Claim::new(says!("weight-not-given", why = missing(why)), telling.ground.unsaid("weighs"))]
        }
    };
    // What a figure is for is told where there is one, and it is not as light as a bag of flour or two.
    let heavy = telling.facts.lifting.as_ref().is_ok_and(|found| found.whole.mass.high.kg() >= LIGHT);
    let guide = heavy.then(|| says!("lift-guide"));
    let nature = &telling.facts.nature;
    let sound = match nature.holds_things {
        true => says!("lift-by-what-is-sound"),
        false => says!("lift-by-what-is-sound-alone"),
    };
    let usual = guide.into_iter().chain([sound]);
    let movement = || Claim::new(says!("lift-movement"), telling.ground.said(&telling.record.kind, "kind"));
    claims.extend(nature.movement.then(movement));
    claims.extend(usual.map(|message| Claim::new(message, Basis::table("lifting", ""))));
    claims
}

fn weight(telling: &Telling<'_>, found: &Lifting) -> Claim {
    let (mass, people) = (Value::Mass(found.whole.mass), people(&found.whole));
    let message = match (found.weighed, found.left_out) {
        (true, _) => says!("weight-scale", mass = mass, people = people),
        (false, 0) => says!("weight-reckoned", mass = mass, people = people),
        (false, left) => says!("weight-at-least", mass = mass, people = people, left = left),
    };
    resting(telling, found, message)
}

fn emptied(telling: &Telling<'_>, found: &Lifting) -> Option<Claim> {
    let left = found.emptied.as_ref()?;
    let parts: Vec<String> = found.come_out.iter().map(|part| part.name.to_string()).collect();
    let message =
        says!("weight-emptied", parts = parts, mass = Value::Mass(left.mass), people = people(left));
    Some(
        resting(telling, found, message).and_all(found.come_out.iter().map(|part| telling.row(part, "part"))),
    )
}

/// A claim that rests on the scale, or on all parts that could be reckoned.
fn resting(telling: &Telling<'_>, found: &Lifting, message: Message) -> Claim {
    let weighs = telling.ground.either(telling.record.weighs.as_ref(), "weighs");
    let parts = telling.facts.parts.iter().filter(|facts| facts.part.present() && facts.mass.is_ok());
    let parts = parts.filter(|_| !found.weighed).map(|facts| telling.row(&facts.part, "part"));
    let figures = ["men", "women"].map(|figure| Basis::table("lifting", figure));
    Claim::new(message, weighs).and_all(parts).and_all(figures)
}

/// How many people a load asks for, by both figures of the guidance.
fn people(load: &Load) -> Message {
    match (load.men, load.women) {
        (TeamSize::People(one), TeamSize::People(other)) if one == other => says!("people", count = one),
        (TeamSize::People(men), TeamSize::People(women)) => {
            says!("people-by-figure", men = men, women = women)
        }
        (TeamSize::People(men), TeamSize::Beyond) => says!("people-by-one-figure", men = men),
        (TeamSize::Beyond, _) => says!("people-beyond"),
    }
}
