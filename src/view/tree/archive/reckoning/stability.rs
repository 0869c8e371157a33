//! How what pulls a piece over was reckoned.

use super::weight::weight;
use crate::claim::{Message, says};
use crate::derive::StabilityCheck;
use crate::unit::GRAVITY;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::{Reckoning, cited};
use crate::words::Words;

/// A pull as the weight that pulls as hard.
fn pull(words: &Words, newtons: f64) -> String {
    let kg = newtons / GRAVITY;
    words.say(&match kg {
        kg if kg < 1.0 => says!("stability-not-even", mass = weight(words, 1.0)),
        kg => says!("stability-about", mass = weight(words, kg.floor())),
    })
}

fn feet(context: &PieceContext<'_>) -> Message {
    let size = context.record.size.as_ref();
    match size.and_then(|size| size.feet_in.as_ref()) {
        Some(feet) => says!("stability-feet-in", back = feet.value),
        None => says!("stability-feet-at-outline"),
    }
}

/// The pull that tips it, and each drawer and door.
pub(super) fn stability(context: &PieceContext<'_>, checked: &StabilityCheck) -> Vec<Reckoning> {
    let words = context.house.words();
    let say = |message: Message| words.say(&message);
    let child = context.trade.stability.load("child");
    let mass = match checked.weighed {
        true => says!("stability-weighed", mass = checked.mass),
        false => says!("stability-reckoned", mass = checked.mass),
    };
    let mut rows = vec![Reckoning {
        figure: pull(words, checked.pull),
        how: say(says!("stability-how", mass = mass, feet = feet(context))),
        source: say(says!("stability-source")),
    }];
    let opened = checked.opened.iter().filter_map(|(part, opened)| Some((part, opened.as_ref().ok()?)));
    for (part, opened) in opened {
        let [tips, holds] =
            [opened.with_child.tips, opened.with_child.holds].map(|turning| words.number(turning, 0));
        let load = child.map_or(String::new(), |row| weight(words, row.kg.0));
        let source = child
            .map(|row| says!("stability-open-source", source = Message::cited(row.seen.value, &row.source)));
        rows.push(Reckoning {
            figure: say(says!("stability-open-figure", tips = tips, holds = holds)),
            how: say(says!("stability-open-how", part = part.name.to_lowercase(), child = load)),
            source: source.map_or(String::new(), say),
        });
    }
    if let Some(row) = context.trade.stability.advice("anchor-height") {
        rows.push(Reckoning {
            figure: row.height_mm.as_ref().map_or(String::new(), |from| words.small(from.0, from.0)),
            how: say(says!("stability-anchor-how")),
            source: cited(words, [Message::cited(row.seen.value, &row.source)]),
        });
    }
    rows
}
