//! How the movement of the wood was reckoned.

use crate::claim::{Message, Value, says};
use crate::derive::{Factor, Movement};
use crate::fields::Range;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::{Reckoning, cited};
use crate::words::Words;

/// What the movement was reckoned by, within 6 to 14 % moisture and outside.
const LINEAR: &str = "Wood Handbook, FPL-GTR-190 (2010), equation 13-2";
const OUTSIDE: &str = "Wood Handbook, FPL-GTR-190 (2010), equations 13-2 and 13-3 (the latter from memory)";

/// The movement of one part.
pub(super) fn movement(context: &PieceContext<'_>, found: &Movement) -> Vec<Reckoning> {
    let Ok((dry, damp)) = context.facts.seasons.moisture else { return Vec::new() };
    let words = context.house.words();
    let row = |id: &String| context.trade.timber(id);
    let name = |id: &String| Value::Name(row(id).map_or_else(|| id.clone(), |row| row.name.to_string()));
    let counted = Value::All(found.figures_of.iter().map(name).collect());
    let timber = name(&found.timber);
    let timber = match (found.figures_of.len(), found.stand_in) {
        (1, false) => timber,
        (_, false) => says!("movement-of-any", timber = timber, timbers = counted).into(),
        (_, true) => says!("movement-by-stand-in", timber = timber, timbers = counted).into(),
    };
    let sources =
        found.figures_of.iter().filter_map(row).map(|row| Message::cited(row.seen.value, &row.source));
    let sources = cited(words, sources);
    let rule = match found.linear {
        true => LINEAR.to_owned(),
        false => words.say(&says!("movement-outside", source = OUTSIDE)),
    };
    let along = |factor: Option<Factor>, says: fn(Message) -> Message| {
        factor.map(|factor| Value::from(says(factor_message(words, factor))))
    };
    let figures = [
        along(found.tangential, |factor| says!("movement-along-rings", factor = factor)),
        along(found.radial, |factor| says!("movement-along-rays", factor = factor)),
    ];
    let how = says!(
        "movement-how",
        width = words.small(found.across.mm(), found.across.mm()),
        timber = timber,
        sawn = Message::word("sawn", found.sawn.word()),
        dry = words.number(dry.percent(), 1),
        damp = words.number(damp.percent(), 1),
        figures = Value::All(figures.into_iter().flatten().collect()),
    );
    vec![Reckoning {
        figure: words.small(found.least, found.most),
        how: words.say(&how),
        source: format!("{rule}; {sources}"),
    }]
}

/// `0.0035 to 0.0036 for 1 %`.
fn factor_message(words: &Words, factor: Factor) -> Message {
    says!("movement-factor", figure = words.span(&Range { low: factor.low, high: factor.high }, 5))
}

/// Why the wood gets as moist as it does.
pub(super) fn moisture(context: &PieceContext<'_>) -> Option<Reckoning> {
    let (dry, damp) = context.facts.seasons.moisture.ok()?;
    let room = &context.facts.seasons.room;
    let assumed = match (room.humidity_said, room.temperature_said) {
        (true, true) => says!("moisture-as-said"),
        (true, false) => says!("moisture-humidity-said"),
        (false, _) => says!("moisture-own-choice"),
    };
    let words = context.house.words();
    let row = context.trade.climate.coefficient("k");
    let [from, to] = [dry, damp].map(|moisture| words.number(moisture.percent(), 1));
    let [dry, damp] = [room.dry.0, room.damp.0].map(|humidity| words.number(humidity, 0));
    let degrees = Value::Celsius(room.temperature.0);
    let how = says!("moisture-how", dry = dry, damp = damp, degrees = degrees, assumed = assumed);
    Some(Reckoning {
        figure: words.say(&says!("moisture-figure", dry = from, damp = to)),
        how: words.say(&how),
        source: cited(words, row.map(|row| Message::cited(row.seen.value, &row.source))),
    })
}
