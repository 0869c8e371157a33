//! How the load of a shelf was reckoned.

use super::weight::weight;
use crate::claim::{Message, Value, says};
use crate::derive::{Creeping, ShelfCapacity};
use crate::fields::Range;
use crate::record::Ends;
use crate::view::context::PieceContext;
use crate::view::shared::reckoning::{Reckoning, cited};
use crate::words::Words;

/// The load of one shelf.
pub(super) fn shelf(context: &PieceContext<'_>, found: &ShelfCapacity) -> Vec<Reckoning> {
    let words = context.house.words();
    let say = |message: Message| words.say(&message);
    let load = words.load(found.promised()).unwrap_or_else(|| say(says!("shelf-no-load")));
    let (rule, source) = match found.lipping {
        None => (says!("shelf-rule-board"), say(says!("shelf-rule-board-source"))),
        Some(_) => (says!("shelf-rule-lipped"), say(says!("shelf-rule-lipped-source"))),
    };
    let ends = match found.ends {
        Some(Ends::Fixed) => says!("shelf-ends-fixed"),
        Some(_) => says!("shelf-ends-resting"),
        None => says!("shelf-ends-unknown"),
    };
    let board = says!(
        "shelf-how",
        ends = ends,
        board = Value::Name(found.board.of.clone()),
        thick = found.thick,
        deep = found.width
    );
    let board = match &found.lipping {
        None => board,
        Some(lipping) if found.both_edges => {
            says!("shelf-how-lipped-both", how = board, timber = Value::Name(lipping.of.clone()))
        }
        Some(lipping) => says!("shelf-how-lipped", how = board, timber = Value::Name(lipping.of.clone())),
    };
    let mut rows = vec![Reckoning {
        figure: words.lengths(&[found.span]),
        how: say(board),
        source: say(says!("shelf-from-record")),
    }];
    let sag = Value::Millimetres(found.own_sag, found.own_sag);
    let before = weight(words, found.spread.kg());
    rows.push(Reckoning {
        figure: load,
        how: say(says!("shelf-load-how", rule = rule, sag = sag, load = before)),
        source: source.clone(),
    });
    if let Some(load) = found.if_fixed.and_then(|load| words.load(load)) {
        rows.push(Reckoning { figure: load, how: say(says!("shelf-if-fixed-how")), source });
    }
    if found.promised() < found.spread {
        let usual = context.trade.shelf.load("large-format-magazines");
        rows.push(Reckoning {
            figure: weight(words, found.usual_most.kg()),
            how: say(says!("shelf-usual-most-how")),
            source: cited(words, usual.map(|row| Message::cited(row.seen.value, &row.source))),
        });
    }
    let row = context.trade.shelf.limit("long-term-visible");
    let eye = context.trade.shelf.limit("eye-threshold");
    let part = row.map_or(String::new(), |row| words.number(row.ratio.0, 0));
    let limit = row.map_or_else(|| say(says!("shelf-own-choice")), |row| row.source.to_string());
    let eye = eye.map_or(String::new(), |row| row.source.to_string());
    rows.push(Reckoning {
        figure: words.small(found.limit, found.limit),
        how: say(says!("shelf-limit-how", part = part)),
        source: say(says!("shelf-limit-source", source = limit, eye = eye)),
    });
    for figured in std::iter::once(&found.board).chain(&found.lipping) {
        let stiffness = Range { low: figured.low / 1000.0, high: figured.high / 1000.0 };
        let how =
            says!("shelf-stiffness-how", of = Value::Name(figured.of.clone()), how = figured.how.clone());
        rows.push(Reckoning {
            figure: say(says!("unit-gpa", figure = words.span(&stiffness, 2))),
            how: say(how),
            source: cited(words, figured.source.clone()),
        });
    }
    rows.extend(std::iter::once(&found.creep).chain(&found.lipping_creep).map(|of| creep(words, of)));
    rows
}

fn creep(words: &Words, creep: &Creeping) -> Reckoning {
    let how = says!("shelf-creep-how", material = creep.material.as_str());
    let how = match creep.stand_in.as_str() {
        "" => how,
        instead => says!("shelf-creep-stand-in", how = how, instead = instead),
    };
    Reckoning {
        figure: format!("1 + {}", words.number(creep.factor, 2)),
        how: words.say(&how),
        source: words.say(&creep.source),
    }
}
